import { type Entry, timetableOf } from '../../core/day/index.ts'
import { entriesOf, type Piece, piecesOf } from '../plans/timetables/index.ts'
import type { DayTimetable, Tick } from './queries.ts'

/** A piece of work as it stands in the kitchen. */
export type Task = {
  /** The key of its first entry: names it within its timetable and this view. */
  id: string
  piece: Piece
  /** Nobody's hands: it runs by itself, and there is nothing to tick. */
  alone: boolean
  done: { by: string; at: Date } | null
  /** Some of it is ticked, by one of several who do it. */
  partly: boolean
}

/** What a day's tasks are told by. */
export type DayTasks = {
  /** What goes on, and what ought to be done by now: late ones too. */
  now: Task[]
  next: Task[]
  /** Ticked, or run out by itself. */
  done: Task[]
  /** Ought to be done by now, and is not. */
  late: Task[]
}

/** The pieces of a day of the timetable (its place among the work days), of one helper or of all. */
export function dayPieces(timetable: DayTimetable, day: number, helperId: string | null): Piece[] {
  const entries = entriesOf(timetable.worked.plan, day, entriesIn(timetable))
  return piecesOf(helperId === null ? entries : entries.filter(isOf(helperId)))
}

/** All entries, made once for each timetable that was read. */
function entriesIn({ worked }: DayTimetable): Entry[] {
  const before = read.get(worked)
  if (before !== undefined) return before
  const { entries } = timetableOf(worked.plan, worked.schedule)
  read.set(worked, entries)
  return entries
}

const read = new WeakMap<DayTimetable['worked'], Entry[]>()

const isOf =
  (helperId: string) =>
  ({ helpers }: Entry): boolean =>
    helpers.includes(helperId)

/** Of a day's helpers, in the kitchen's order, those who have something to do. */
export function dayHelpers(timetable: DayTimetable, day: number): { id: string; name: string }[] {
  const busy = new Set(dayPieces(timetable, day, null).flatMap(({ helpers }) => helpers))
  return timetable.worked.plan.kitchen.helpers.filter(({ id }) => busy.has(id)).map(({ id, name }) => ({ id, name }))
}

/** The piece that a task's id names, on whichever day; null where there is none, as after a change of the timetable. */
export function pieceNamed(timetable: DayTimetable, helperId: string | null, id: string): Piece | null {
  for (const day of timetable.worked.plan.kitchen.days.keys()) {
    const found = dayPieces(timetable, day, helperId).find(({ keys, helpers }) => keys[0] === id && helpers.length > 0)
    if (found !== undefined) return found
  }
  return null
}

/** A day's pieces with what was ticked, in the order of the timetable. */
export function tasksOf(pieces: readonly Piece[], ticks: readonly Tick[]): Task[] {
  const ticked = new Map(ticks.map((tick) => [tick.task, tick]))
  return pieces.map((piece) => {
    const own = piece.keys.flatMap((key) => ticked.get(key) ?? [])
    const last = own.reduce<Tick | null>(
      (best, tick) => (best === null || tick.doneAt > best.doneAt ? tick : best),
      null,
    )
    const whole = own.length === piece.keys.length
    return {
      id: piece.keys[0] ?? '',
      piece,
      alone: piece.helpers.length === 0,
      done: whole && last !== null ? { by: last.by, at: last.doneAt } : null,
      partly: !whole && own.length > 0,
    }
  })
}

/**
 * The tasks sorted by what matters at a minute of the kitchen's axis: before the day's first all of it is next, after its
 * last whatever is not ticked is late.
 */
export function sorted(tasks: readonly Task[], minute: number): DayTasks {
  const isDone = ({ alone, piece, done }: Task) => (alone ? piece.to <= minute : done !== null)
  const open = tasks.filter((task) => !isDone(task))
  return {
    now: open.filter(({ piece }) => piece.from <= minute),
    next: open.filter(({ piece }) => piece.from > minute),
    done: tasks.filter(isDone),
    late: open.filter(({ alone, piece }) => !alone && piece.to <= minute),
  }
}
