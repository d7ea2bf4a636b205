import { readIndexes, readTables } from './catalogue.ts'
import type { Database } from './client.ts'
import { quoted, readSnapshot } from './session.ts'

/** What a co-op's rows take in the database. */
export type RoomUsed = {
  rows: number
  bytes: number
  /** of the tables that hold any of them, in the order of their names */
  tables: { name: string; rows: number; bytes: number }[]
  /** how long measuring it took, in milliseconds */
  tookMs: number
}

/** Measures one co-op. */
export type MeasureRoom = (coopId: string) => Promise<RoomUsed>

/** Of each row beside its values: its head and its pointer in the page, with what is lost to alignment. */
const ROW_BYTES = 36
/** Of each entry of an index beside its values. */
const ENTRY_BYTES = 16
/** Pages of an index are about two thirds full where keys come in no order, as ids by chance do. In quarters. */
const INDEX_QUARTERS = 6

/**
 * Measures what a co-op takes: every row that carries its id, in every table, its values as they are stored (documents
 * compressed), and its entries in the indexes. One statement, whose answer is of one moment. It reads all rows of the
 * co-op but none of its documents: what is stored apart tells its size without being read. Which tables and indexes there
 * are is read from the catalogue the first time.
 *
 * How exact: rows to the row. Bytes are an estimate of what the files grow by, a third too much or too little at most for
 * tables of a thousand rows or more (tests/db/room holds it to that); small tables take whole pages beside it, and rows
 * that were changed leave their old state until the database clears it away.
 */
export function createMeasure(database: Pick<Database, 'prisma' | 'kind' | 'withMigrationConnection'>): MeasureRoom {
  let statement: Promise<string> | null = null
  return async (coopId) => {
    statement ??= statementFor(database)
    let sql: string
    try {
      sql = await statement
    } catch (error) {
      statement = null
      throw error
    }
    const began = performance.now()
    const found = await database.prisma.$queryRawUnsafe<RoomUsed['tables']>(sql, coopId)
    const tables = found.filter(({ rows }) => rows > 0)
    return {
      rows: tables.reduce((sum, { rows }) => sum + rows, 0),
      bytes: tables.reduce((sum, { bytes }) => sum + bytes, 0),
      tables,
      tookMs: performance.now() - began,
    }
  }
}

async function statementFor(database: Pick<Database, 'kind' | 'withMigrationConnection'>): Promise<string> {
  const { tables, indexes } = await readSnapshot(database, async (reader) => ({
    tables: await readTables(reader),
    indexes: await readIndexes(reader),
  }))
  const parts = tables
    .filter(({ columns }) => columns.some(({ name }) => name === 'coopId'))
    .map((table) => {
      const its = indexes.filter((index) => index.table === table.name)
      const values = table.columns.map(({ name }) => {
        const quarters = 4 + INDEX_QUARTERS * its.filter(({ columns }) => columns.includes(name)).length
        return `coalesce(pg_column_size(${quoted(name)}), 0) * ${quarters}`
      })
      const beside = 4 * ROW_BYTES + INDEX_QUARTERS * ENTRY_BYTES * its.length
      return `SELECT '${table.name.replaceAll("'", "''")}'::text AS "name", count(*)::float8 AS "rows",
        round(coalesce(sum(${[beside, ...values].join(' + ')}), 0) / 4.0)::float8 AS "bytes"
        FROM ${quoted(table.name)} WHERE "coopId" = $1`
    })
  return `${parts.join(' UNION ALL ')} ORDER BY "name"`
}
