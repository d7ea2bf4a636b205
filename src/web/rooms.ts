import type { MeasureRoom, RoomUsed } from '../db/room.ts'

/** Whether co-ops have room left, without looking at all their rows for each request. */
export type Rooms = {
  /** What a co-op takes now, or took a moment ago. */
  look(coopId: string): Promise<RoomUsed>
  /**
   * Before something of a co-op is written: what it takes where that is at its limit or above it, null where there is room.
   *
   * @param sentBytes size of what was sent
   */
  fullFor(coopId: string, sentBytes: number): Promise<RoomUsed | null>
  /** Something of the co-op was removed here: what it takes is measured again soon. */
  freed(coopId: string): void
}

type Known = {
  used: RoomUsed
  /** when it was measured, in milliseconds */
  at: number
  /** what may have been written since by what came in here, in bytes */
  since: number
  freed: boolean
}

/** How long a measure holds where nothing else calls for another one: of a co-op with room, and of a full one. */
const HOLDS_MS = 10 * 60_000
const FULL_HOLDS_MS = 60_000
/**
 * Nobody makes the database do nothing else: measuring a co-op is followed by a rest, so many times as long as it took.
 * The shorter one is for a co-op that may be full by now.
 */
const REST_TIMES = 20
const SHORT_REST_TIMES = 4
const REST_AT_MOST_MS = 60_000
/** What a request may write at most, as a guess that is rather too high: a table in it becomes many small rows. */
const REQUEST_BYTES = 4_096
const SENT_TIMES = 20
/** So many co-ops are remembered; the one that was measured first is forgotten for another. */
const REMEMBERED = 10_000

/**
 * Remembers for each co-op what it takes, and measures again when it has to: when what came in since may have filled a
 * quarter of what was left, when the measure is ten minutes old, and of a full co-op when something was removed here or
 * after a minute. So a request costs no query most of the time and one at most.
 *
 * How exact: a co-op goes over its limit by what is written between two measures. Here that is what a process takes in
 * while it may not measure again (four times as long as the last one took, a minute at most); of other processes and of
 * what is worked out beside requests (divisions, timetables) it is what they write in ten minutes.
 *
 * @param limitBytes 0: no limit
 * @param now a steady clock, in milliseconds
 */
export function createRooms(given: { limitBytes: number; measure: MeasureRoom; now: () => number }): Rooms {
  const { limitBytes, measure, now } = given
  const known = new Map<string, Known>()
  const measuring = new Map<string, Promise<Known>>()

  /** Of several who ask at once, one measures. */
  function measured(coopId: string): Promise<Known> {
    const running = measuring.get(coopId)
    if (running !== undefined) return running
    const mine = measureAnew(coopId).finally(() => measuring.delete(coopId))
    measuring.set(coopId, mine)
    return mine
  }

  async function measureAnew(coopId: string): Promise<Known> {
    const used = await measure(coopId)
    const entry: Known = { used, at: now(), since: 0, freed: false }
    known.delete(coopId)
    known.set(coopId, entry)
    const [oldest] = known.keys()
    if (known.size > REMEMBERED && oldest !== undefined) known.delete(oldest)
    return entry
  }

  const isFull = ({ used }: Known): boolean => used.bytes >= limitBytes

  function isDue(entry: Known): boolean {
    const age = now() - entry.at
    const left = limitBytes - entry.used.bytes
    if (isResting(entry, age, left > 0 && entry.since > left ? SHORT_REST_TIMES : REST_TIMES)) return false
    if (isFull(entry)) return entry.freed || age >= FULL_HOLDS_MS
    return age >= HOLDS_MS || entry.since > left / 4
  }

  function isResting({ used }: Known, age: number, times: number): boolean {
    return age < Math.min(REST_AT_MOST_MS, times * used.tookMs)
  }

  return {
    async look(coopId) {
      const entry = known.get(coopId)
      const holds = entry !== undefined && isResting(entry, now() - entry.at, REST_TIMES)
      return (holds ? entry : await measured(coopId)).used
    },
    async fullFor(coopId, sentBytes) {
      if (limitBytes === 0) return null
      const before = known.get(coopId)
      const entry = before === undefined || isDue(before) ? await measured(coopId) : before
      if (isFull(entry)) return entry.used
      entry.since += REQUEST_BYTES + SENT_TIMES * sentBytes
      return null
    },
    freed(coopId) {
      const entry = known.get(coopId)
      if (entry !== undefined) entry.freed = true
    },
  }
}
