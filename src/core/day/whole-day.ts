import type { WorkKind } from '../produce/vocabulary.ts'
import type { Activity, Phase } from '../scheduling/problem.ts'
import { able, canBeDone, crewOf } from './crew.ts'
import type { Helper, Kitchen, WorkDay } from './kitchen.ts'
import { ofEach } from './phases.ts'
import type { PhaseMeaning, PlannedActivity } from './plan.ts'
import type { BatchPlan } from './planner.ts'

// Figures of this file are common practice, no source.

/** Minutes of one pair of hands for washing a jar and looking it over. */
const washPerJar = 0.25
/** Setting washed jars into hot water, and until they are hot. */
const setIn = 2
const untilHot = 15
/** Clearing away and wiping down at the end of a day, and by how many. */
const cleanUpMinutes = 20
const cleanUpPeople = 2
/** Who leaves no earlier than this before the last one is there at the end. */
const towardsTheEnd = 60

/**
 * Washing and heating the jars of a day before its first filling: one activity a day, before every activity that fills
 * jars then. null where the day fills none or nobody is there who could.
 */
export function jarsOf(kitchen: Kitchen, day: number, plans: readonly BatchPlan[]): PlannedActivity | null {
  const filled = plans.flatMap(({ jars }) => jars.filter((one) => one.day === day))
  const units = filled.reduce((sum, one) => sum + one.units, 0)
  const washes = (['wash', 'pack', 'fill'] satisfies WorkKind[]).find((kind) => able(kitchen, kind, false).length > 0)
  const on = kitchen.days[day]
  if (units === 0 || washes === undefined || !on) return null
  const wash = crewOf(kitchen, day, washes, { hot: false, hands: 1, handMinutes: units * washPerJar })
  const phases: Phase[] = [{ minutes: wash.minutes, people: wash.people }]
  const means: PhaseMeaning[] = [{ part: 'wash-jars', step: null, units }]
  const burners = kitchen.machines.find(({ kind }) => kind === 'burner')?.countByDay[day] ?? 0
  if (burners > 0 && canBeDone(kitchen, 'stove', true)) {
    const heat = crewOf(kitchen, day, 'stove', { hot: true, hands: 1, handMinutes: setIn })
    const resources = ofEach(kitchen, day, ['burner'])
    phases.push({ minutes: heat.minutes, people: heat.people, resources }, { minutes: untilHot, resources })
    means.push({ part: 'heat-jars', step: null, units }, { part: 'heat-jars', step: null, units })
  }
  const activity: Activity = { id: `jars@${day}`, phases, earliest: on.opens, due: on.closes }
  return { activity, batch: null, day, portion: null, inRow: false, phases: means }
}

/**
 * Cleaning up at the end of a day, by two people where two are there at its end: after all of these activities that are
 * of that day, but not after machines that run alone. null where nothing is done on that day or nobody is there at all.
 */
export function cleanUpOf(
  kitchen: Kitchen,
  day: number,
  activities: readonly PlannedActivity[],
): PlannedActivity | null {
  const on = kitchen.days[day]
  const here = activities.filter((one) => one.day === day && one.activity.phases.some(({ people }) => people))
  if (!on || here.length === 0 || kitchen.helpers.length === 0) return null
  const followed = new Set(here.flatMap(({ activity }) => (activity.after ?? []).map(({ id }) => id)))
  const activity: Activity = {
    id: `clean-up@${day}`,
    phases: [{ minutes: cleanUpMinutes, people: [{ skill: 'any', count: thereAtTheEnd(kitchen.helpers, on) }] }],
    after: here.filter((one) => !followed.has(one.activity.id)).map((one) => ({ id: one.activity.id })),
    earliest: on.opens,
    due: on.closes,
  }
  return {
    activity,
    batch: null,
    day,
    portion: null,
    inRow: false,
    phases: [{ part: 'clean-up', step: null, units: 0 }],
  }
}

/** As many as are there towards the end of the day, two at most: those who leave early do not clean up. */
function thereAtTheEnd(helpers: readonly Helper[], { opens, closes }: WorkDay): number {
  const leaves = helpers.flatMap(({ hours }) => {
    const last = hours.filter(({ from, to }) => from >= opens && to <= closes && to - from >= cleanUpMinutes).at(-1)
    return last ? [last.to] : []
  })
  const end = Math.max(...leaves)
  return Math.max(1, Math.min(cleanUpPeople, leaves.filter((at) => at >= end - towardsTheEnd).length))
}
