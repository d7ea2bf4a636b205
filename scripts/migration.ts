// Writes the next migration: the SQL that leads from what the migrations make to prisma/schema.prisma.
//
//   node --import tsx scripts/migration.ts NAME      a further migration, named for what it does: add_shelf
//   node --import tsx scripts/migration.ts --first   the first migration anew; only until the first release
//
// Read the SQL before committing it: a renamed column, for one, comes out as a column dropped and another added.
import { existsSync } from 'node:fs'
import { mkdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { LOCKFILE, MIGRATIONS_FOLDER, readMigrations } from '../src/db/migration-files.ts'
import { schemaDifference } from '../src/db/schema-difference.ts'

const FIRST = '20261125000000_first'

const name = process.argv[2] ?? ''
const isFirst = name === '--first'
if (!isFirst && !/^[a-z][a-z0-9_]*$/.test(name)) {
  console.error('Usage: node --import tsx scripts/migration.ts NAME (small letters, digits, _), or --first')
  process.exit(2)
}

const existing = existsSync(MIGRATIONS_FOLDER) ? await readMigrations() : []
if (isFirst && existing.some((migration) => migration.name !== FIRST)) {
  console.error('There are migrations after the first one: write a further one instead.')
  process.exit(2)
}

const sql = await schemaDifference(isFirst ? [] : existing)
if (sql === null) {
  console.log('The migrations already make what prisma/schema.prisma says: nothing to write.')
} else {
  const folder = join(MIGRATIONS_FOLDER, isFirst ? FIRST : `${timestamp(new Date())}_${name}`)
  if (isFirst) await rm(folder, { recursive: true, force: true })
  await mkdir(folder, { recursive: true })
  await writeFile(join(folder, 'migration.sql'), sql)
  await writeFile(join(MIGRATIONS_FOLDER, LOCKFILE.name), LOCKFILE.content)
  console.log(`Wrote ${join(folder, 'migration.sql')}`)
}

/** As Prisma names migrations: 20261125093000. */
function timestamp(now: Date): string {
  return now.toISOString().replace(/\D/g, '').slice(0, 14)
}
