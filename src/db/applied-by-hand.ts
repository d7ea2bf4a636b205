import { createHash } from 'node:crypto'
import { hasTable, MIGRATIONS_TABLE, readTables } from './catalogue.ts'
import { MigrationError } from './migrate.ts'
import type { Migration } from './migration-files.ts'
import { quoted, type Session } from './session.ts'

// Migrations applied as statements of a transaction that goes on: the schema engine, which ends one with each of them,
// is not asked. tests/db holds the outcome against the engine's.

/** The checksum that the record of migrations keeps: SHA-256 of the text, hex. */
export function sha256Of(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}

/** The record as Prisma's engine makes it (schema-engine 7.10). */
const RECORD = `CREATE TABLE "${MIGRATIONS_TABLE}" (
  "id" VARCHAR(36) PRIMARY KEY NOT NULL,
  "checksum" VARCHAR(64) NOT NULL,
  "finished_at" TIMESTAMPTZ,
  "migration_name" VARCHAR(255) NOT NULL,
  "logs" TEXT,
  "rolled_back_at" TIMESTAMPTZ,
  "started_at" TIMESTAMPTZ NOT NULL DEFAULT now(),
  "applied_steps_count" INTEGER NOT NULL DEFAULT 0
)`

/** Applies these and records them, in the transaction that is open. What an ending transaction would check is checked after each. */
export async function applyWithin(session: Session, migrations: readonly Migration[]): Promise<void> {
  if (!(await hasTable(session, MIGRATIONS_TABLE))) await session.script(RECORD)
  for (const { name, sql } of migrations) {
    try {
      await session.script(sql)
      await session.script('SET CONSTRAINTS ALL IMMEDIATE; SET CONSTRAINTS ALL DEFERRED')
    } catch (error) {
      const words = error instanceof Error ? error.message : String(error)
      throw new MigrationError(`Migration ${name} failed: ${words}`, { cause: error })
    }
    await session.run(
      `INSERT INTO "${MIGRATIONS_TABLE}" ("id", "checksum", "migration_name", "started_at", "finished_at", "applied_steps_count")
       VALUES (gen_random_uuid()::text, $1, $2, clock_timestamp(), clock_timestamp(), 1)`,
      [sha256Of(sql), name],
    )
  }
}

/** Removes what the migrations made, with all data: tables, functions, types and sequences of the schema in use; not what an extension made. */
export async function dropEverything(session: Session): Promise<void> {
  const tables = [...(await readTables(session)).map(({ name }) => name), MIGRATIONS_TABLE]
  await session.script(`DROP TABLE IF EXISTS ${tables.map(quoted).join(', ')} CASCADE`)
  const rest = await session.texts(`
    WITH ours AS (SELECT current_schema()::regnamespace AS schema),
      lent AS (SELECT objid FROM pg_depend WHERE deptype = 'e')
    SELECT format('DROP %s %s CASCADE', CASE p.prokind WHEN 'p' THEN 'PROCEDURE' WHEN 'a' THEN 'AGGREGATE' ELSE 'FUNCTION' END, p.oid::regprocedure)
      FROM pg_proc p, ours WHERE p.pronamespace = ours.schema AND p.oid NOT IN (SELECT objid FROM lent)
    UNION ALL
    SELECT format('DROP TYPE %s CASCADE', t.oid::regtype)
      FROM pg_type t, ours WHERE t.typnamespace = ours.schema AND t.typtype IN ('e', 'd') AND t.oid NOT IN (SELECT objid FROM lent)
    UNION ALL
    SELECT format('DROP SEQUENCE %s CASCADE', c.oid::regclass)
      FROM pg_class c, ours WHERE c.relnamespace = ours.schema AND c.relkind = 'S' AND c.oid NOT IN (SELECT objid FROM lent)`)
  for (const statement of rest) await session.script(statement)
}
