import type { Clock } from '../clock.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { programVersion } from './program.ts'
import { noteBackup, noteFailure } from './status.ts'
import { type BackupMade, writeBackup } from './write-backup.ts'

/** Makes backups of one database, one after the other, and notes what became of each. */
export type Backups = {
  /** As writeBackup. */
  make(file: string): Promise<BackupMade>
  /** Waits for the one being made. */
  settled(): Promise<void>
}

export function createBackups(given: { database: MigratableDatabase; dataDir: string; clock: Clock }): Backups {
  const { database, dataDir, clock } = given
  let turn: Promise<unknown> = Promise.resolve()

  async function make(file: string): Promise<BackupMade> {
    try {
      const made = await writeBackup(database, file, { program: programVersion, now: clock.now() })
      await noteBackup(dataDir, made, clock.now())
      return made
    } catch (error) {
      await noteFailure(dataDir, error, clock.now())
      throw error
    }
  }

  return {
    make(file) {
      const mine = turn.then(() => make(file))
      // the next one's turn comes whether this one succeeds or not; whoever asked hears of a failure
      turn = mine.catch(() => undefined)
      return mine
    },
    settled: async () => {
      await turn
    },
  }
}
