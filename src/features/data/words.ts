import type { RoomUsed } from '../../db/room.ts'
import type { BackupStatus } from '../../keeping/status.ts'
import type { Settings } from '../../settings.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { roomInWords } from '../../web/room.ts'

/** A backup that is older than this, in days, is told as too old. Our choice. */
export const OLD_AFTER_DAYS = 7
const DAY_MS = 86_400_000

/** "Last backup 3 days ago", for a list of places to go. */
export function backupSentence(status: BackupStatus | null, now: Date, ways: CoopWays): string {
  if (status === null || status.good === null) return 'No backup is known of yet'
  const days = daysSince(status.good.at, now)
  const age = days === 0 ? 'within the last day' : `${formatFor(ways).count(days, 'day')} ago`
  return `${days > OLD_AFTER_DAYS ? 'Too old: last' : 'Last'} backup ${age}`
}

/** What is wrong about the backups; empty where nothing is. */
export function backupWarnings(status: BackupStatus | null, now: Date, ways: CoopWays): string[] {
  const warnings: string[] = []
  const good = status?.good ?? null
  if (good === null) warnings.push('No backup is known of: what is lost with this machine is lost.')
  else if (daysSince(good.at, now) > OLD_AFTER_DAYS) {
    warnings.push(`The last good backup is ${formatFor(ways).count(daysSince(good.at, now), 'day')} old.`)
  }
  if (status !== null && !status.ok) {
    warnings.push(`The last try, ${formatFor(ways).instant(new Date(status.at))}, gave no backup. ${status.says}`)
  }
  if (warnings.length > 0)
    warnings.push('Tell whoever hosts the service: “npm run backup” makes one, BACKUP_DIR one each day.')
  return warnings
}

/** How long backups keep what is deleted. */
export function keptInBackups(settings: Pick<Settings, 'backups'>, ways: CoopWays): string {
  const daily =
    settings.backups === null
      ? 'The service makes no backups by itself'
      : `The service keeps the newest ${formatFor(ways).count(settings.backups.keep, 'daily backup')}, in which it stays until they are gone`
  return `${daily}; whoever hosts it may keep others for longer.`
}

/** From so much of its room on a co-op is told, so that there is time to ask for more. Our choice. */
const NEARLY_FULL = 0.9
/** So many kinds of things are told apart; the rest is summed up. */
const KINDS_TOLD = 5

/** What of a co-op is where, in words; a table that is in none of these is among "everything else". */
export const roomKinds: readonly { name: string; tables: readonly string[] }[] = [
  { name: 'Lots', tables: ['Lot', 'Sorting'] },
  { name: 'Recipes', tables: ['Recipe', 'RecipeVersion', 'LocalProcess'] },
  { name: 'Plans and divisions', tables: ['Plan', 'PlanLot', 'PlanDay', 'Wish', 'ClosedOutlet', 'Division'] },
  { name: 'Timetables', tables: ['Timetable', 'TimetableWorth', 'TaskTick'] },
  { name: 'Batches', tables: ['Batch', 'BatchInput', 'BatchTrim', 'BatchHelper'] },
  {
    name: 'Shelf',
    tables: ['JarBatch', 'ShelfEntry', 'ShelfLine', 'ShelfProduct', 'ShelfTotal', 'ShelfUse', 'HouseholdJars'],
  },
  { name: 'History', tables: ['Change', 'SecurityEvent'] },
  { name: 'Forms and calls that were sent, so that each counts once', tables: ['Submission'] },
]

/** "12.3 of 1,000 MB are used, by 34,512 rows." */
export function roomSentence({ bytes, rows }: RoomUsed, limit: number, ways: CoopWays): string {
  const format = formatFor(ways)
  const used = limit === 0 ? `${format.number(bytes / 1e6, 1)} MB` : roomInWords(bytes, limit, ways)
  return `${used} are used, by ${format.count(rows, 'row')}.${limit === 0 ? ' There is no limit.' : ''}`
}

/** What is wrong about the room; empty where there is enough. */
export function roomWarning(bytes: number, limit: number): string {
  const part = limit === 0 ? 0 : bytes / (limit * 1e6)
  if (part < NEARLY_FULL) return ''
  const told = part < 1 ? 'The room is nearly full.' : 'The room is full: nothing can be added.'
  return `${told} Whoever hosts the service can give more (MEGABYTES_PER_COOP).`
}

/** What takes the most, the most first. */
export function roomByKind({ tables }: RoomUsed, ways: CoopWays): { name: string; says: string }[] {
  const bytesOf = new Map<string, number>()
  for (const { name, bytes } of tables) {
    const kind = roomKinds.find((one) => one.tables.includes(name))?.name ?? 'Everything else'
    bytesOf.set(kind, (bytesOf.get(kind) ?? 0) + bytes)
  }
  return [...bytesOf]
    .sort(([, a], [, b]) => b - a)
    .slice(0, KINDS_TOLD)
    .map(([name, bytes]) => ({ name, says: `${formatFor(ways).number(bytes / 1e6, 2)} MB` }))
}

function daysSince(at: string, now: Date): number {
  return Math.max(0, Math.floor((now.getTime() - Date.parse(at)) / DAY_MS))
}
