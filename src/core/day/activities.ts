import type { Question } from '../division/question.ts'
import { trimKinds } from '../produce/vocabulary.ts'
import type { Resource, SchedulingProblem } from '../scheduling/problem.ts'
import { timetableSkills } from './age-rules.ts'
import type { Batch } from './batch.ts'
import { partsEach } from './burners.ts'
import { type Kitchen, type KitchenOptions, kitchenOf, minutesOfADay } from './kitchen.ts'
import { isLabelling } from './labelling.ts'
import type { DayPlan, Impossible, PlannedActivity } from './plan.ts'
import { type BatchPlan, planBatch } from './planner.ts'
import { cleanUpOf, jarsOf } from './whole-day.ts'
import { lengthOf, merged, type Window } from './windows.ts'

/**
 * What a division decided as a scheduling problem: the steps of every batch as activities within their day's opening
 * hours, in the order and with the hands and machines that they need, with jars made ready before and a clean-up after.
 * A batch with a step that nobody or no machine can do is left out and named; steps for which the work days are over
 * are named as well. What is due later than it can be done is late in the schedule, never refused.
 */
export function activitiesOf(question: Question, batches: readonly Batch[], options: KitchenOptions = {}): DayPlan {
  return planDays(kitchenOf(question, options), batches)
}

/** The same for a kitchen that is there already. Throws RangeError for a batch on a day that it does not have. */
export function planDays(kitchen: Kitchen, batches: readonly Batch[]): DayPlan {
  const plans: BatchPlan[] = []
  const impossible: Impossible[] = []
  for (const batch of inOrder(batches)) {
    if (!kitchen.days[batch.day]) throw new RangeError(`batch "${batch.id}": there is no work day ${batch.day}`)
    const plan = planBatch(kitchen, batch, linksOf(kitchen, batch, plans))
    const lack = lackOf(kitchen, plan)
    if (lack) impossible.push(lack)
    else plans.push(plan)
  }
  const activities = plans.flatMap((plan) => plan.activities)
  kitchen.days.forEach((_, day) => {
    const jars = jarsOf(kitchen, day, plans)
    if (jars) activities.push(jars)
    for (const one of plans.flatMap((plan) => plan.jars)) {
      const filling = activities.find(({ activity }) => activity.id === one.activity)?.activity
      if (jars && filling && one.day === day) filling.after = [...(filling.after ?? []), { id: jars.activity.id }]
    }
    const waitedFor = activities.filter((one) => !isLabelling(plans, one))
    const cleanUp = cleanUpOf(kitchen, day, waitedFor)
    if (cleanUp) activities.push(cleanUp)
  })
  const beyond = ((kitchen.days.at(-1)?.midnight ?? 0) / minutesOfADay + 1) * minutesOfADay
  return {
    kitchen,
    problem: problemOf(kitchen, activities, beyond),
    activities,
    batches: plans.map(({ batch, steps, portions }) => ({ batch, steps, portions })),
    afterwards: plans.flatMap(({ afterwards }) => afterwards),
    impossible,
    beyond,
  }
}

/** Those that make something come before those that use it; what goes in a circle stays as it came. */
function inOrder(batches: readonly Batch[]): Batch[] {
  const left = [...batches]
  const done: Batch[] = []
  while (left.length > 0) {
    const next = left.findIndex((batch) => !left.some((other) => other !== batch && givesTo(other, batch)))
    done.push(...left.splice(Math.max(0, next), 1))
  }
  return done
}

function usesOf({ recipe }: Batch): string[] {
  return recipe.definition.inputs.flatMap(({ from }) => ('material' in from ? [from.material] : []))
}

function trimOf({ recipe }: Batch): string[] {
  return recipe.definition.inputs.flatMap(({ trim }) => trim.map(({ kind }) => kind))
}

function givesTo(from: Batch, to: Batch): boolean {
  const uses = usesOf(to)
  const made = from.pack.makes?.material
  if (made !== undefined && uses.includes(made)) return from.day <= to.day
  return from.day === to.day && trimKinds.some((kind) => uses.includes(kind) && trimOf(from).includes(kind))
}

/** What a batch must wait for: juice before the jelly of it, cut fruit before what is made of its peels that day. */
function linksOf(kitchen: Kitchen, batch: Batch, plans: readonly BatchPlan[]): { id: string; lag: number }[] {
  const uses = usesOf(batch)
  return plans.flatMap((plan) => {
    if (!givesTo(plan.batch, batch)) return []
    const { makes } = plan.batch.pack
    if (!makes || !uses.includes(makes.material)) return plan.trimmed
    const apart =
      ((kitchen.days[batch.day]?.midnight ?? 0) - (kitchen.days[plan.batch.day]?.midnight ?? 0)) / minutesOfADay
    return apart >= makes.readyAfterDays ? plan.ends : []
  })
}

/** The first step that nobody has the skill for, or for which no machine is there on its day. */
function lackOf({ helpers, machines }: Kitchen, { batch, activities }: BatchPlan): Impossible | null {
  const skills = new Set<string>(helpers.flatMap((helper) => timetableSkills(helper.ageBand, helper.skills)))
  for (const { activity, day, phases } of activities) {
    for (const [number, phase] of activity.phases.entries()) {
      const step = phases[number]?.step ?? 0
      const missing = phase.people?.find(({ skill }) => !skills.has(skill))?.skill
      if (missing !== undefined) {
        const others = skills.has(missing.replace('adult:', 'hot:'))
        return { batch: batch.id, step, lacks: others ? 'adult' : 'hands' }
      }
      for (const [id, units] of Object.entries(phase.resources ?? {})) {
        if (id === 'counter' || id.includes('@')) continue
        const there = machines.find(({ kind }) => kind === id)?.countByDay[day] ?? 0
        if (there * partsEach(machines, id) < units) return { batch: batch.id, step, lacks: 'machine' }
      }
    }
  }
  return null
}

function problemOf(kitchen: Kitchen, planned: readonly PlannedActivity[], beyond: number): SchedulingProblem {
  const activities = planned.map(({ activity }) => activity)
  const all = activities.reduce(
    (sum, { phases, after = [] }) =>
      sum + phases.reduce((a, { minutes }) => a + minutes, 0) + Math.max(0, ...after.map(({ lag = 0 }) => lag)),
    0,
  )
  const endless = { from: beyond, to: beyond + 2 * all + minutesOfADay }
  return {
    activities,
    resources: [
      ...machineResources(kitchen, endless),
      ...(kitchen.counterPlaces === null ? [] : [{ id: 'counter', capacity: kitchen.counterPlaces }]),
    ],
    people: kitchen.helpers.map(({ id, ageBand, skills, hours }) => ({
      id,
      skills: timetableSkills(ageBand, skills),
      calendar: [...hours, endless],
    })),
  }
}

/** All of a kind, in its own hours or the kitchen's, and beside it the day's own where fewer can be used on one day than on another. */
function machineResources({ machines, days }: Kitchen, endless: Window): Resource[] {
  return machines.flatMap(({ kind, countByDay, aroundTheClock, hours, parts = 1 }) => {
    const capacity = Math.max(0, ...countByDay) * parts
    const open = merged(days.map(({ opens, closes }) => ({ from: opens, to: closes })))
    const always = hours === undefined && (aroundTheClock || lengthOf(open) === 0)
    const calendar = always ? {} : { calendar: [...(hours ?? open), endless] }
    const fewer = countByDay.flatMap((count, day) =>
      count * parts < capacity ? [{ id: `${kind}@${day}`, capacity: count * parts }] : [],
    )
    return [{ id: kind, capacity, ...calendar }, ...fewer]
  })
}
