import type { PlannedActivity, TimetablePlan } from './plan.ts'

/**
 * Units of a portion that stand by themselves until the next step may begin: jars that cool, a bag that drips, fruit in
 * brine. Minutes on the kitchen's axis; `ready` is the earliest, the next step may come later.
 */
export type Wait = {
  batch: string
  /** The step that says to wait, by its place among those of the batch. */
  step: number
  units: number
  from: number
  ready: number
}

/**
 * What waits between the steps of each batch, or after its last one for a batch that needs what it makes, by time. What
 * begins beyond the work days is left out, machines that run by themselves are no waiting.
 *
 * @param ends when each activity within the work days ends
 */
export function waitsOf(plan: TimetablePlan, ends: ReadonlyMap<string, number>): Wait[] {
  const planned = new Map(plan.activities.map((one) => [one.activity.id, one]))
  const found = new Map<string, Wait>()
  for (const next of plan.activities)
    for (const { id, lag = 0 } of next.activity.after ?? []) {
      const before = planned.get(id)
      if (before === undefined || !(lag > 0)) continue
      const until = next.batch === before.batch ? firstStep(next) : stepsIn(plan, before.batch)
      add(found, before, until, ends.get(id), lag)
    }
  for (const { batch, step, fromMinute } of firstAfterwards(plan)) {
    for (const before of lastOf(plan, batch)) {
      // That minute counts the wait from closing; after a machine that runs into the night it counts the machine too.
      const lag = fromMinute - (plan.kitchen.days[before.day]?.closes ?? fromMinute)
      const isMachine = before.phases.at(-1)?.part === 'machine'
      if (lag > 0 && !isMachine) add(found, before, step, ends.get(before.activity.id), lag)
    }
  }
  return [...found.values()].sort((a, b) => a.from - b.from || a.ready - b.ready)
}

/** Notes a wait of a portion; of several activities that end its step the last counts. */
function add(
  found: Map<string, Wait>,
  before: PlannedActivity,
  until: number | null,
  end: number | undefined,
  lag: number,
): void {
  const last = before.phases.findLast(({ step }) => step !== null)
  if (before.batch === null || last === undefined || last.step === null || end === undefined) return
  // A step between the two that nobody works at is what says to wait: "let the jars stand".
  const step = until === null ? last.step : Math.max(last.step, until - 1)
  const key = JSON.stringify([before.batch, before.portion, step])
  const same = found.get(key)
  if (same === undefined) {
    found.set(key, { batch: before.batch, step, units: last.units, from: end, ready: end + lag })
    return
  }
  same.from = Math.max(same.from, end)
  same.ready = Math.max(same.ready, end + lag)
}

function firstStep({ phases }: PlannedActivity): number | null {
  return phases.find(({ step }) => step !== null)?.step ?? null
}

function stepsIn(plan: TimetablePlan, batch: string | null): number | null {
  return plan.batches.find((one) => one.batch.id === batch)?.steps.length ?? null
}

/** Of each batch the first step that no work day will see. */
function firstAfterwards(plan: TimetablePlan) {
  return plan.afterwards.filter(
    (one) => !plan.afterwards.some((other) => other.batch === one.batch && other.step < one.step),
  )
}

/** The activities of a batch that nothing else of it waits for. */
function lastOf(plan: TimetablePlan, batch: string): PlannedActivity[] {
  const own = plan.activities.filter((one) => one.batch === batch)
  const waitedFor = new Set(own.flatMap(({ activity }) => (activity.after ?? []).map(({ id }) => id)))
  return own.filter(({ activity }) => !waitedFor.has(activity.id))
}
