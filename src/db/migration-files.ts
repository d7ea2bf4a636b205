import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { MigrationList } from './schema-engine.ts'

/** Where the project's migrations lie: a folder each, `<timestamp>_<name>/migration.sql`. */
export const MIGRATIONS_FOLDER = fileURLToPath(new URL('../../prisma/migrations', import.meta.url))

/** Lies beside the migrations and tells Prisma's command line which SQL they are in. */
export const LOCKFILE = { name: 'migration_lock.toml', content: 'provider = "postgresql"\n' } as const

export type Migration = { name: string; sql: string }

/**
 * Reads all migrations, oldest first (their names begin with a timestamp).
 *
 * @throws when the folder or one of its migration.sql files cannot be read
 */
export async function readMigrations(folder = MIGRATIONS_FOLDER): Promise<Migration[]> {
  const entries = await readdir(folder, { withFileTypes: true })
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name)
  return Promise.all(
    names.sort().map(async (name) => ({ name, sql: await readFile(join(folder, name, 'migration.sql'), 'utf8') })),
  )
}

/** The same as the schema engine wants it. */
export function toMigrationList(migrations: Migration[], folder = MIGRATIONS_FOLDER): MigrationList {
  return {
    baseDir: folder,
    lockfile: { path: LOCKFILE.name, content: LOCKFILE.content },
    shadowDbInitScript: '',
    migrationDirectories: migrations.map(({ name, sql }) => ({
      path: name,
      migrationFile: { path: 'migration.sql', content: { tag: 'ok', value: sql } },
    })),
  }
}
