import type { TestApp } from './app.ts'

/** Empties the history and the audit, between tests: single lines of them cannot go. */
export async function emptyHistory(prisma: TestApp['prisma']): Promise<void> {
  await prisma.$executeRaw`TRUNCATE "Change", "SecurityEvent"`
}
