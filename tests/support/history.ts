import type { TestApp } from './app.ts'

type Prisma = TestApp['prisma']

/** What the database never lets be emptied (migration history_not_emptied). */
const kept = ['Change', 'SecurityEvent', 'ShelfEntry'] as const

/**
 * Empties tables between tests, with all that refers to them, the ledger, the history and the audit too: the triggers
 * that refuse it are off for this one statement, which only the tables' owner may do.
 */
export async function emptyTables(prisma: Prisma, ...tables: readonly string[]): Promise<void> {
  const turn = (how: string) => kept.map((table) => `ALTER TABLE "${table}" ${how} TRIGGER "${table}_not_emptied";`)
  const names = tables.map((table) => `"${table}"`).join(', ')
  const statements = [...turn('DISABLE'), `TRUNCATE ${names} CASCADE;`, ...turn('ENABLE')]
  await prisma.$executeRawUnsafe(`DO $empty$ BEGIN ${statements.join(' ')} END $empty$`)
}

/** Empties the history and the audit, between tests: single lines of them cannot go. */
export async function emptyHistory(prisma: Prisma): Promise<void> {
  await emptyTables(prisma, 'Change', 'SecurityEvent')
}
