import { expect, it } from 'vitest'
import { readMigrations } from '../../src/db/migration-files.ts'
import { schemaDifference } from '../../src/db/schema-difference.ts'

it('finds no change of prisma/schema.prisma for which the migration was forgotten', async () => {
  // Compares files, by way of databases in memory: the same whichever database the run is for.
  expect(await schemaDifference(await readMigrations())).toBeNull()
})
