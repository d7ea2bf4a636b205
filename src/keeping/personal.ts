import { type Column, readTables, type Table } from '../db/catalogue.ts'
import type { Reader } from '../db/session.ts'

// What of a co-op's tables people may take out. Every table with the co-op's id in it is one of its tables.

/** Nobody can use these outside of the service, and somebody could misuse them: hashes of secrets, keys, technical rows. */
const secretColumns: readonly string[] = ['codeHash', 'handle', 'passwordHash', 'publicKey', 'secretHash', 'tokenHash']
/** Sessions and codes of others, forms already acted on, which process is at work. */
const technicalTables: readonly string[] = ['JobHold', 'Pairing', 'Session', 'Submission']

export type Part = {
  table: Table
  /** those that may be taken out */
  columns: Column[]
  /** SQL for "belongs to the co-op $1" */
  belongs: string
}

/** The tables of a co-op, the co-op's own first, with the columns that hold no secret. */
export async function coopTables(reader: Reader, { technical = false } = {}): Promise<Part[]> {
  const tables = await readTables(reader)
  return tables
    .filter(({ name, columns }) => name === 'Coop' || columns.some((column) => column.name === 'coopId'))
    .filter(({ name }) => technical || !technicalTables.includes(name))
    .map((table) => ({
      table,
      columns: table.columns.filter(({ name }) => !secretColumns.includes(name)),
      belongs: table.name === 'Coop' ? '"id" = $1' : '"coopId" = $1',
    }))
    .sort((a, b) => Number(b.table.name === 'Coop') - Number(a.table.name === 'Coop'))
}
