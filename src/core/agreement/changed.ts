import { withBestCrews } from '../day/crews.ts'
import { applyEdits, type Edit, type RefusedEdit } from '../day/edits.ts'
import { loadsInOrder } from '../day/load-order.ts'
import { pinsFirst, pinsOf } from '../day/pins.ts'
import type { TimetablePlan } from '../day/plan.ts'
import { movedOf, type Progress, type ProgressFault, progressFault, replanned } from '../day/replan.ts'
import { timetableOf } from '../day/timetable.ts'
import { cutOut } from '../day/windows.ts'
import { checkSchedule, type Schedule, type SolveOptions, solveSchedule } from '../scheduling/index.ts'
import { finishedInTime } from './late.ts'

/** What a timetable is made of when people settle parts of it, or when its day has begun. */
export type Change<P> = {
  /** The plan as it was divided, without any edit. */
  plan: P
  /** The schedule gone on from; of the same plan, with whatever edits held then. */
  schedule: Schedule
  /** All that hold, in their order. */
  edits: readonly Edit[]
  progress: Progress | null
}

export type Changed<P> = {
  plan: P
  schedule: Schedule
  /** Everything that was divided is done within its day, and nothing is impossible. */
  holds: boolean
  /** Tasks that begin more than five minutes before or after they did, not counting those that have begun. */
  moved: number
}

/** Why an edit cannot be made: what `applyEdits` says, or the day has gone on. */
export type RefusedChange = { edit: Edit; because: RefusedEdit['because'] | 'begun' | 'passed' }

/**
 * Which of some edits cannot be made. Those that are `fresh` may not be about what was begun or hold a task to a minute
 * that has passed; those of before may, since they were kept then.
 */
export function refusedEdits(
  plan: TimetablePlan,
  edits: readonly Edit[],
  fresh: readonly Edit[],
  progress: Progress | null,
): RefusedChange[] {
  const begun = new Set((progress?.begun ?? []).map(({ activity }) => activity))
  const now = progress?.now ?? 0
  const gone = fresh.flatMap((edit): RefusedChange[] => {
    if ((edit.kind === 'at' || edit.kind === 'by') && begun.has(edit.activity)) return [{ edit, because: 'begun' }]
    return edit.kind === 'at' && edit.minute < now ? [{ edit, because: 'passed' }] : []
  })
  return [...applyEdits(plan, edits).refused, ...gone]
}

/** The first thing that cannot have been in how far a day has got; null: nothing. */
export function faultOfProgress({ plan, schedule, edits, progress }: Change<TimetablePlan>): ProgressFault | null {
  if (progress === null) return null
  const edited = applyEdits(plan, edits).plan
  const fault = progressFault(edited, schedule, progress)
  if (fault) return fault
  const without = progress.begun.find((one) => !one.done && brokenOff(edited, edits, progress.now, one))
  if (!without) return null
  const { activity } = without
  return { activity, because: 'machine-out', detail: `activity "${activity}" goes on with machines that are all out` }
}

/** Whether a machine of what is being done is out, with all others of its kind, before it is over. */
function brokenOff(
  plan: TimetablePlan,
  edits: readonly Edit[],
  now: number,
  { activity, start }: Progress['begun'][number],
): boolean {
  const phases = plan.activities.find((one) => one.activity.id === activity)?.activity.phases ?? []
  let from = start
  return phases.some(({ minutes, resources = {} }) => {
    const begins = from
    from += minutes
    return edits.some((edit) => {
      if (edit.kind !== 'out' || !resources[edit.machine]) return false
      const held = { from: Math.max(now, begins, edit.from), to: Math.min(begins + minutes, edit.to) }
      const calendar = plan.problem.resources.find(({ id }) => id === edit.machine)?.calendar ?? []
      return cutOut([held], calendar).length > 0
    })
  })
}

/**
 * The timetable with edits and, where its day has begun, from now on. Without progress only what must go back is moved,
 * where that makes nothing late; else the search begins with the schedule there was and answers with the best it finds,
 * its people chosen anew; with progress it moves no more than it
 * must (`replanned`), and nobody who need not change.
 *
 * @throws RangeError for an edit that is refused and for progress that cannot have been: ask before
 * @throws Error where the checker finds something, which is a fault of ours
 */
export function changedTimetable<P extends TimetablePlan>(
  { plan: root, schedule: before, edits, progress }: Change<P>,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'> = {},
): Changed<P> {
  const { plan: edited, refused } = applyEdits(root, edits)
  if (refused[0]) throw new RangeError(`an edit is refused: ${refused[0].because}`)
  const { plan, schedule } =
    progress === null
      ? {
          plan: edited,
          schedule: littleMoved(edited, before) ?? withBestCrews(edited, solvedFrom(edited, before, options)),
        }
      : replanned(edited, before, progress, options)
  const [fault] = checkSchedule(plan.problem, schedule)
  if (fault) throw new Error(`a schedule breaks ${fault.rule} at ${fault.activity}: ${fault.detail}`)
  const begun = new Set((progress?.begun ?? []).map(({ activity }) => activity))
  const ids = plan.activities.map(({ activity }) => activity.id).filter((id) => !begun.has(id))
  return {
    plan,
    schedule,
    holds: finishedInTime(plan, timetableOf(plan, schedule)).length === 0,
    moved: movedOf(ids, before, schedule).length,
  }
}

/** What was asked for at the cost of moving only what must go back, with nothing late; null: it takes a search. */
function littleMoved(plan: TimetablePlan, before: Schedule): Schedule | null {
  const { schedule, changed } = replanned(plan, before, { now: 0, begun: [] }, { maxSchedules: 1 })
  return changed > 0 && schedule.lateness === 0 ? schedule : null
}

function solvedFrom(
  plan: TimetablePlan,
  before: Schedule,
  options: Pick<SolveOptions, 'seed' | 'maxSchedules' | 'stop'>,
): Schedule {
  const pins = pinsOf(plan)
  const start = Object.fromEntries(Object.entries(before.start).map(([id, at]) => [id, pins.get(id) ?? at]))
  const held = { ...before, start }
  const asItWas = solveSchedule(plan.problem, { ...options, maxSchedules: 1, from: held })
  const solved = solveSchedule(plan.problem, { ...options, from: pins.size === 0 ? held : pinsFirst(plan, held) })
  const better = betterOf(asItWas, solved)
  for (const [id, minute] of pins) {
    if (id.startsWith('out:') && better.start[id] !== minute)
      throw new Error(`"${id}" was put to ${better.start[id]}, although the machines are out at ${minute}`)
  }
  const ordered = loadsInOrder(plan, better)
  // Where an edit tells like loads apart they keep their places.
  return checkSchedule(plan.problem, ordered).length === 0 ? ordered : better
}

function betterOf(one: Schedule, other: Schedule): Schedule {
  if (one.lateness !== other.lateness) return one.lateness < other.lateness ? one : other
  return one.makespan <= other.makespan ? one : other
}
