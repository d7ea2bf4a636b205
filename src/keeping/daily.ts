import { mkdir, readdir, rm, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Clock } from '../clock.ts'
import type { Backups } from './backups.ts'
import { noteBackup } from './status.ts'
import type { OncePerDay } from './turns.ts'
import type { BackupMade } from './write-backup.ts'

const DAY_MS = 86_400_000
const LOOK_EVERY_MS = 15 * 60_000
/** Ours alone are counted and removed: whatever else lies in the folder stays. */
const OURS = /^glutworks-\d{4}-\d\d-\d\d\.backup$/

export type DailyOptions = {
  folder: string
  /** how many of the newest stay */
  keep: number
  backups: Backups
  /** of several processes one makes it */
  once: OncePerDay
  clock: Clock
  told: (what: { made: BackupMade; removed: string[] } | { failed: unknown }) => void
}

/** Makes a backup at the start and then each day, as long as the process runs, and removes the oldest. */
export function startDailyBackups(options: DailyOptions): { stop(): void } {
  const look = () => {
    makeIfDue(options).then(
      (done) => done !== null && options.told(done),
      (error: unknown) => options.told({ failed: error }),
    )
  }
  const timer = setInterval(look, LOOK_EVERY_MS)
  timer.unref()
  look()
  return { stop: () => clearInterval(timer) }
}

/**
 * Makes today's backup when the newest in the folder is a day old or none is there, and removes all but the newest `keep`
 * once the new one is whole. Of several processes on one database one makes it, whether or not they have the same folder.
 *
 * @returns null when it is not time yet, or another process makes it or made it today
 */
export async function makeIfDue({
  folder,
  keep,
  backups,
  once,
  clock,
}: Omit<DailyOptions, 'told'>): Promise<{ made: BackupMade; removed: string[] } | null> {
  await mkdir(folder, { recursive: true, mode: 0o700 })
  const now = clock.now()
  const newest = (await ours(folder)).at(-1)
  const day = now.toISOString().slice(0, 10)
  const today = `glutworks-${day}.backup`
  if (newest === today) return null
  if (newest !== undefined) {
    const { mtimeMs } = await stat(join(folder, newest))
    if (now.getTime() - mtimeMs < DAY_MS) return null
  }
  const made = await once(day, () => backups.make(join(folder, today)))
  if (made === null) return null
  await noteBackup(folder, made, clock.now())
  const removed = (await ours(folder)).slice(0, -keep)
  for (const name of removed) await rm(join(folder, name), { force: true })
  return { made, removed }
}

/** By date, the oldest first. */
async function ours(folder: string): Promise<string[]> {
  return (await readdir(folder)).filter((name) => OURS.test(name)).sort()
}
