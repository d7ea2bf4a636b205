import { once } from 'node:events'
import { Readable } from 'node:stream'
import { createGunzip, createGzip, type Gzip } from 'node:zlib'
import type { Column } from '../db/catalogue.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { quoted, type Reader, readSnapshot } from '../db/session.ts'
import { coopTables, type Part } from './personal.ts'
import { programVersion } from './program.ts'

/** Whose data is taken out. */
export type Whose = { coopId: string; coopName: string; at: Date }
/** One member's part of it. */
export type WhoseOwn = Whose & { memberId: string; householdId: string; name: string }

/**
 * All data of a co-op as one JSON document, as it is at one moment: every table by its name with its rows as objects,
 * without secrets. It is packed in memory while the database is read and unpacked as it is sent, so that nobody who
 * receives it slowly keeps a transaction open.
 */
export async function coopAsJson(database: MigratableDatabase, whose: Whose): Promise<Readable> {
  return readSnapshot(database, async (reader) => {
    const parts = await coopTables(reader)
    const selected = parts.map(({ table, columns, belongs }) => ({
      name: table.name,
      sql: select(table.name, columns, belongs),
      values: [whose.coopId],
    }))
    return packed(reader, headOf(whose), selected)
  })
}

/**
 * What is known of one member as a JSON document: the rows of all tables, own sessions too, that carry the member's id or in
 * which the name stands as a whole value.
 */
export async function ownAsJson(database: MigratableDatabase, whose: WhoseOwn): Promise<Readable> {
  return readSnapshot(database, async (reader) => {
    const parts = await coopTables(reader, { technical: true })
    const { coopId, memberId, householdId, name } = whose
    const selected = parts.flatMap(({ table, columns, belongs }) => {
      if (table.name === 'Coop' || table.name === 'Submission') return []
      const own = ownership(table.name, columns)
      if (own === null) return []
      const sql = select(table.name, columns, `${belongs} AND (${own})`)
      // each statement names all four, used or not
      return [
        {
          name: table.name,
          sql: `${sql} AND ($2::text, $3::text, $4::text) IS NOT NULL`,
          values: [coopId, memberId, name, householdId],
        },
      ]
    })
    const head = { ...headOf(whose), member: name, rows: 'Rows with your id, or with your name as a whole value' }
    return packed(reader, head, selected)
  })
}

function headOf({ coopName, at }: Whose) {
  return { service: 'Glutworks', version: programVersion, at: at.toISOString(), coop: coopName }
}

function select(table: string, columns: readonly Column[], where: string): string {
  return `SELECT ${columns.map(({ name }) => quoted(name)).join(', ')} FROM ${quoted(table)} WHERE ${where}`
}

function ownership(table: string, columns: readonly Column[]): string | null {
  if (table === 'Member') return '"id" = $2'
  if (table === 'Household') return '"id" = $4'
  const byId = columns.filter(({ name }) => name === 'memberId').map(({ name }) => `${quoted(name)} = $2`)
  const byName = columns
    .filter(({ name, type }) => type === 'text' && name !== 'coopId' && name !== 'id')
    .map(({ name }) => `${quoted(name)} = $3`)
  return [...byId, ...byName].join(' OR ') || null
}

type Selected = { name: string; sql: string; values: readonly string[] }

async function packed(reader: Reader, head: object, tables: readonly Selected[]): Promise<Readable> {
  const gzip = createGzip()
  const kept: Buffer[] = []
  gzip.on('data', (chunk: Buffer) => kept.push(chunk))
  const ended = once(gzip, 'end')
  await put(gzip, `${JSON.stringify(head).slice(0, -1)},"tables":{`)
  for (const [at, { name, sql, values }] of tables.entries()) {
    await put(gzip, `${at === 0 ? '' : ','}\n${JSON.stringify(name)}:[`)
    let first = true
    for await (const rows of reader.batches(`SELECT row_to_json(r)::text FROM (${sql}) r`, values)) {
      await put(gzip, `${first ? '' : ','}\n${rows.join(',\n')}`)
      first = false
    }
    await put(gzip, ']')
  }
  gzip.end('}}\n')
  await ended
  return Readable.from(kept).pipe(createGunzip())
}

async function put(gzip: Gzip, text: string): Promise<void> {
  if (!gzip.write(text)) await once(gzip, 'drain')
}

/** A table as rows of cells, the names of its columns first: texts and numbers as they are, times in ISO 8601, lists and documents as JSON. */
export type TakenTable = { name: string; rows: AsyncGenerator<(string | number | null)[][]> }

/** Hands every table of a co-op to `take`, one after the other, all as they are at one moment. */
export function takeTables(
  database: MigratableDatabase,
  coopId: string,
  take: (table: TakenTable) => Promise<void>,
): Promise<void> {
  return readSnapshot(database, async (reader) => {
    for (const part of await coopTables(reader))
      await take({ name: part.table.name, rows: cells(reader, part, coopId) })
  })
}

async function* cells(
  reader: Reader,
  { table, columns, belongs }: Part,
  coopId: string,
): AsyncGenerator<(string | number | null)[][]> {
  yield [columns.map(({ name }) => name)]
  const values = columns.map(({ name }) => `to_json(${quoted(name)}) #>> '{}'`).join(', ')
  const numbers = columns.map(({ type }) => /^(smallint|integer|bigint|real|double precision|numeric)/.test(type))
  const sql = `SELECT to_json(ARRAY[${values}])::text FROM ${quoted(table.name)} WHERE ${belongs}`
  for await (const batch of reader.batches(sql, [coopId])) {
    yield batch.map((row) =>
      (JSON.parse(row) as (string | null)[]).map((cell, at) => cellOf(cell, numbers[at] === true)),
    )
  }
}

/** A number that JavaScript would round stays text. */
function cellOf(cell: string | null, isNumber: boolean): string | number | null {
  return cell !== null && isNumber && String(Number(cell)) === cell ? Number(cell) : cell
}
