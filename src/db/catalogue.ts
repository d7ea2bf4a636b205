import type { Reader } from './session.ts'

// What tables there are, read from the database itself: no list of them is kept by hand.

export type Column = {
  name: string
  /** as PostgreSQL writes it: timestamp(3) with time zone */
  type: string
  /** the sequence that gives it numbers; null: none */
  sequence: string | null
}
export type Table = {
  name: string
  /** in their order; worked-out columns are left out */
  columns: Column[]
}
export type ForeignKey = { name: string; table: string; refersTo: string; columns: string[]; definition: string }
export type Trigger = { name: string; table: string; onDelete: boolean; onUpdate: boolean }

/** The record of migrations, which is no data. */
export const MIGRATIONS_TABLE = '_prisma_migrations'

/** Every table of the schema in use, the record of migrations left out, by name. */
export function readTables(reader: Reader): Promise<Table[]> {
  return reader.objects<Table>(`
    SELECT c.relname AS "name",
      coalesce((
        SELECT json_agg(json_build_object(
            'name', a.attname,
            'type', format_type(a.atttypid, a.atttypmod),
            'sequence', pg_get_serial_sequence(quote_ident(c.relname), a.attname)
          ) ORDER BY a.attnum)
        FROM pg_attribute a
        WHERE a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''
      ), '[]') AS "columns"
    FROM pg_class c
    WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r' AND c.relname <> '${MIGRATIONS_TABLE}'
    ORDER BY c.relname COLLATE "C"`)
}

/** Every foreign key between those tables, in the order in which they were made. */
export function readForeignKeys(reader: Reader): Promise<ForeignKey[]> {
  return reader.objects<ForeignKey>(`
    SELECT k.conname AS "name", c.relname AS "table", t.relname AS "refersTo",
      (SELECT json_agg(a.attname ORDER BY array_position(k.conkey, a.attnum))
        FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attnum = ANY (k.conkey)) AS "columns",
      pg_get_constraintdef(k.oid) AS "definition"
    FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid JOIN pg_class t ON t.oid = k.confrelid
    WHERE k.contype = 'f' AND k.connamespace = current_schema()::regnamespace AND k.conparentid = 0
    ORDER BY k.oid`)
}

/** The triggers that migrations wrote and that are on; those by which PostgreSQL keeps foreign keys are left out. */
export function readTriggers(reader: Reader): Promise<Trigger[]> {
  // tgtype: bit 3 delete, bit 4 update (pg_trigger.h)
  return reader.objects<Trigger>(`
    SELECT t.tgname AS "name", c.relname AS "table", (t.tgtype & 8) > 0 AS "onDelete", (t.tgtype & 16) > 0 AS "onUpdate"
    FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
    WHERE c.relnamespace = current_schema()::regnamespace AND NOT t.tgisinternal AND t.tgenabled = 'O'
    ORDER BY c.relname COLLATE "C", t.tgname COLLATE "C"`)
}

/** Every index of those tables with the columns in it; what is no column (an expression) is left out. */
export function readIndexes(reader: Reader): Promise<{ table: string; columns: string[] }[]> {
  return reader.objects(`
    SELECT c.relname AS "table",
      coalesce((SELECT json_agg(a.attname ORDER BY a.attnum)
        FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attnum = ANY (i.indkey)), '[]') AS "columns"
    FROM pg_index i JOIN pg_class c ON c.oid = i.indrelid
    WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r'
    ORDER BY i.indexrelid`)
}

/** The migrations that the database has, oldest first; none where there is no record of them. */
export async function readApplied(reader: Reader): Promise<{ name: string; checksum: string }[]> {
  if (!(await hasTable(reader, MIGRATIONS_TABLE))) return []
  return reader.objects(`
    SELECT migration_name AS "name", checksum FROM ${MIGRATIONS_TABLE}
    WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL ORDER BY migration_name COLLATE "C"`)
}

/** Whether the schema in use has a table of this name. */
export async function hasTable(reader: Reader, name: string): Promise<boolean> {
  const found = await reader.texts(
    "SELECT 1 FROM pg_class WHERE relnamespace = current_schema()::regnamespace AND relkind = 'r' AND relname = $1",
    [name],
  )
  return found.length > 0
}

/**
 * The tables such that each comes after those that it refers to. Of tables that refer to each other in a circle the
 * first by name begins; whoever writes them must see to the circle. A reference to itself does not count.
 */
export function inDependencyOrder<T extends { name: string }>(
  tables: readonly T[],
  keys: readonly Pick<ForeignKey, 'table' | 'refersTo'>[],
): T[] {
  const left = new Map(tables.map((table) => [table.name, table]))
  const ordered: T[] = []
  while (left.size > 0) {
    const waits = (name: string) =>
      keys.some(({ table, refersTo }) => table === name && refersTo !== name && left.has(refersTo))
    const next = [...left.values()].find(({ name }) => !waits(name)) ?? [...left.values()][0]
    if (next === undefined) break
    ordered.push(next)
    left.delete(next.name)
  }
  return ordered
}
