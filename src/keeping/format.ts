import { z } from 'zod'

// What a backup file is: gzip (RFC 1952) of lines of JSON, UTF-8, each ended by a line feed.
//
//   first    {"format":"glutworks-backup","formatVersion":1,"program":"0.1.0","at":"2026-11-28T13:00:00.000Z",
//             "database":"server","migrations":[{"name":"...","checksum":"..."}],"leftOut":["Session"]}
//   tables   {"table":"Household","columns":[{"name":"coopId","type":"text"}]}, then one line for each of its rows: a list
//            of the columns' values as PostgreSQL writes them as text (ISO dates and times in UTC, \x and hex for bytes), or null
//   last     {"rows":{"Household":4},"total":4,"sha256":"..."}: the hash is of every byte before this line
//
// Tables come such that each stands after those that it refers to.

export const FORMAT = 'glutworks-backup'
/** Raised when an older program could not read a file any more. */
export const FORMAT_VERSION = 1

/** What is not in a backup: who is signed in, codes that hold for minutes or once, what slows tries, which process is at work. */
export const leftOutOfBackups: readonly string[] = [
  'Attempt',
  'JobHold',
  'Pairing',
  'RateWindow',
  'Session',
  'SetUpCode',
]

const migration = z.object({ name: z.string().regex(/^\w+$/), checksum: z.string().regex(/^[0-9a-f]{64}$/) })

export const headerLine = z.object({
  format: z.literal(FORMAT),
  formatVersion: z.int().min(1),
  program: z.string().min(1).max(100),
  at: z.iso.datetime(),
  database: z.enum(['embedded', 'server']),
  migrations: z.array(migration).min(1),
  leftOut: z.array(z.string()),
})
export type Header = z.infer<typeof headerLine>

export const tableLine = z.object({
  table: z.string().min(1),
  columns: z.array(z.object({ name: z.string().min(1), type: z.string().min(1) })).min(1),
})
export type TableLine = z.infer<typeof tableLine>

export const rowLine = z.array(z.string().nullable())

export const lastLine = z.object({
  rows: z.record(z.string(), z.int().min(0)),
  total: z.int().min(0),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
})
export type LastLine = z.infer<typeof lastLine>

/** A backup cannot be made, read or put back; the message is for whoever hosts the service. */
export class BackupError extends Error {
  override readonly name = 'BackupError'
}
