import {
  type Column,
  type ForeignKey,
  readForeignKeys,
  readTables,
  readTriggers,
  type Table,
  type Trigger,
} from '../db/catalogue.ts'
import { BATCH_CHARACTERS, quoted, type Session } from '../db/session.ts'
import { BackupError, type TableLine } from './format.ts'
import type { BackupPart } from './read-backup.ts'

const ROWS_AT_MOST = 2_000

/**
 * Writes the rows of a backup into empty tables as they stood. Triggers are off meanwhile, since what they would do was
 * done when the row was first written; foreign keys are away and come back at the end, when PostgreSQL holds all rows
 * against them at once, so that references in a circle or to a later row do no harm. Either takes no more than being the
 * tables' owner. Numbers that a sequence gives go on from the highest.
 *
 * @throws BackupError when the backup has a table or a column that there is not, or lacks one
 */
export async function loadRows(session: Session, parts: AsyncIterable<BackupPart>): Promise<void> {
  const tables = new Map((await readTables(session)).map((table) => [table.name, table]))
  const keys = await readForeignKeys(session)
  const triggers = await readTriggers(session)
  for (const key of keys) await session.script(dropping(key))
  for (const trigger of triggers) await session.script(turning('DISABLE', trigger))

  let into: ((row: string) => Promise<void>) | undefined
  let flush = async (): Promise<void> => undefined
  for await (const part of parts) {
    if ('table' in part) {
      await flush()
      const table = tables.get(part.table.table)
      ;({ into, flush } = inserter(session, matching(part.table, table)))
    } else if ('row' in part) await into?.(JSON.stringify(part.row))
  }
  await flush()

  for (const table of tables.values()) for (const column of table.columns) await moveSequence(session, table, column)
  for (const trigger of triggers) await session.script(turning('ENABLE', trigger))
  for (const key of keys) await session.script(adding(key))
}

/** The columns of the backup with the types that they have in the database. */
function matching(line: TableLine, table: Table | undefined): { name: string; columns: Column[] } {
  const columns = line.columns.map(({ name }) => table?.columns.find((column) => column.name === name))
  const all = columns.filter((column) => column !== undefined)
  if (table === undefined || all.length !== line.columns.length || all.length !== table.columns.length) {
    throw new BackupError(`This backup has other columns for ${line.table} than its migrations make.`)
  }
  return { name: table.name, columns: all }
}

function inserter(session: Session, { name, columns }: { name: string; columns: Column[] }) {
  const into = columns.map((column) => quoted(column.name)).join(', ')
  const values = columns.map(({ type }, at) => `(r.v ->> ${at})::${type}`).join(', ')
  const sql = `INSERT INTO ${quoted(name)} (${into}) OVERRIDING SYSTEM VALUE SELECT ${values} FROM jsonb_array_elements($1::jsonb) r(v)`
  let waiting: string[] = []
  let characters = 0
  const flush = async () => {
    if (waiting.length === 0) return
    await session.run(sql, [`[${waiting.join(',')}]`])
    waiting = []
    characters = 0
  }
  return {
    into: async (row: string) => {
      waiting.push(row)
      characters += row.length
      if (characters >= BATCH_CHARACTERS || waiting.length >= ROWS_AT_MOST) await flush()
    },
    flush,
  }
}

async function moveSequence(session: Session, table: Table, { name, sequence }: Column): Promise<void> {
  if (sequence === null) return
  const column = quoted(name)
  await session.texts(
    `SELECT setval($1::regclass, max(${column}))::text FROM ${quoted(table.name)} HAVING max(${column}) IS NOT NULL`,
    [sequence],
  )
}

const dropping = ({ table, name }: ForeignKey) => `ALTER TABLE ${quoted(table)} DROP CONSTRAINT ${quoted(name)}`
const adding = ({ table, name, definition }: ForeignKey) =>
  `ALTER TABLE ${quoted(table)} ADD CONSTRAINT ${quoted(name)} ${definition}`
const turning = (how: 'DISABLE' | 'ENABLE', { table, name }: Trigger) =>
  `ALTER TABLE ${quoted(table)} ${how} TRIGGER ${quoted(name)}`
