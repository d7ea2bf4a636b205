import type { Person, Phase, SchedulingProblem } from '../problem.ts'
import { type SkillSet, skillSets } from './skills.ts'
import { common, type Starts, shifted, startsIn, startsOfMany } from './starts.ts'
import { type Steps, stepsOf } from './steps.ts'

/** Something of which there is only so much at a time: a resource, or the people who have one of some skills. */
export type Limit = {
  steps: Steps
  most: number
  /** The phases that take from it, by index, with their units. */
  phases: Int32Array
  units: Float64Array
}

/** A problem as the bounds see it, by index; times in minutes. */
export type BoundModel = {
  count: number
  minutes: Int32Array
  earliest: Float64Array
  /** Where an activity may start for its calendars' sake; null: anywhere. */
  starts: (Starts | null)[]
  /** Which starts after which ends, `lag` later, in an order in which everything stands after what it waits for. */
  before: Int32Array
  next: Int32Array
  lag: Int32Array
  /** Phases that take anything: their activity, minutes after its start, minutes. */
  activityOf: Int32Array
  offset: Int32Array
  length: Int32Array
  limits: Limit[]
  /** Every schedule that is no longer than it need be ends by then, if there is a schedule. */
  horizon: number
}

type Take = { index: number; phase: Phase }

/** Puts a problem that `solveSchedule` accepts into numbers; a circle or a name that leads nowhere throws RangeError. */
export function boundModel(problem: SchedulingProblem): BoundModel {
  const { activities } = problem
  const sets = skillSets(problem)
  const startsOf = phaseStartsOf(problem, sets)
  const takes: Take[] = []
  const activityOf: number[] = []
  const offset: number[] = []
  const length: number[] = []
  const starts = activities.map((activity, index) => {
    let possible: Starts | null = null
    let after = 0
    for (const phase of activity.phases) {
      if (phase.minutes > 0) {
        for (const own of startsOf(phase)) {
          const moved = shifted(own, -after)
          possible = possible ? common(possible, moved) : moved
        }
        takes.push({ index: takes.length, phase })
        activityOf.push(index)
        offset.push(after)
        length.push(phase.minutes)
      }
      after += phase.minutes
    }
    return possible
  })
  const minutes = activities.map(({ phases }) => phases.reduce((sum, phase) => sum + phase.minutes, 0))
  const earliest = activities.map((activity) => Math.max(0, activity.earliest ?? 0))
  const links = linksInOrder(problem)
  return {
    count: activities.length,
    minutes: Int32Array.from(minutes),
    earliest: Float64Array.from(earliest),
    starts,
    before: Int32Array.from(links, ({ before }) => before),
    next: Int32Array.from(links, ({ next }) => next),
    lag: Int32Array.from(links, ({ lag }) => lag),
    activityOf: Int32Array.from(activityOf),
    offset: Int32Array.from(offset),
    length: Int32Array.from(length),
    limits: [...resourceLimits(problem, takes), ...skillLimits(sets, takes)],
    horizon:
      lastChange(problem) +
      Math.max(0, ...earliest) +
      minutes.reduce((a, b) => a + b, 0) +
      links.reduce((sum, { lag }) => sum + Math.max(0, lag), 0),
  }
}

/** Where a phase may start for each calendar's sake; what phases have in common is worked out once. */
function phaseStartsOf(problem: SchedulingProblem, sets: SkillSet[]): (phase: Phase) => Starts[] {
  const known = new Map<string, Starts | null>()
  const once = (key: string, make: () => Starts | null): Starts | null => {
    const before = known.get(key)
    if (before !== undefined) return before
    const made = make()
    known.set(key, made)
    return made
  }
  const closing = problem.resources.flatMap(({ id, calendar }) => (calendar ? [{ id, calendar }] : []))
  const leaving = sets.flatMap((set, index) => {
    const calendars = set.people.flatMap((person) => (person.calendar ? [person.calendar] : []))
    return calendars.length > 0 ? [{ set, index, calendars, always: set.people.length - calendars.length }] : []
  })
  return (phase) => {
    const { minutes } = phase
    const lists: (Starts | null)[] = []
    for (const { id, calendar } of closing)
      if (unitsOf(phase, id) > 0) lists.push(once(`${minutes} ${id}`, () => startsIn(calendar, minutes)))
    for (const { set, index, calendars, always } of phase.people?.length ? leaving : []) {
      const heads = headsOf(phase, set)
      if (heads > always)
        lists.push(once(`${minutes}/${index}/${heads}`, () => startsOfMany(calendars, always, heads, minutes)))
    }
    return lists.filter((starts) => starts !== null)
  }
}

function resourceLimits(problem: SchedulingProblem, takes: Take[]): Limit[] {
  return problem.resources.flatMap(({ id, capacity, calendar }) =>
    limitOf([{ units: capacity, calendar }], takes, (phase) => unitsOf(phase, id)),
  )
}

function skillLimits(sets: SkillSet[], takes: Take[]): Limit[] {
  return sets.flatMap((set) =>
    limitOf(
      set.people.map(({ calendar }: Person) => ({ units: 1, calendar })),
      takes,
      (phase) => headsOf(phase, set),
    ),
  )
}

/** The limit, or none where it can never bind. */
function limitOf(parties: Parameters<typeof stepsOf>[0], takes: Take[], of: (phase: Phase) => number): Limit[] {
  const taking = takes.map(({ index, phase }) => ({ index, units: of(phase) })).filter(({ units }) => units > 0)
  const steps = stepsOf(parties)
  const all = taking.reduce((sum, { units }) => sum + units, 0)
  if (steps.units.every((units) => all <= units)) return []
  return [
    {
      steps,
      most: Math.max(...steps.units),
      phases: Int32Array.from(taking, ({ index }) => index),
      units: Float64Array.from(taking, ({ units }) => units),
    },
  ]
}

function unitsOf(phase: Phase, resource: string): number {
  const resources = phase.resources
  return resources && Object.hasOwn(resources, resource) ? (resources[resource] ?? 0) : 0
}

function headsOf(phase: Phase, set: SkillSet): number {
  let heads = 0
  for (const { skill, count } of phase.people ?? []) if (set.skills.has(skill)) heads += count
  return heads
}

function lastChange({ resources, people }: SchedulingProblem): number {
  let last = 0
  for (const { calendar } of [...resources, ...(people ?? [])])
    for (const { to } of calendar ?? []) last = Math.max(last, to)
  return last
}

type Link = { before: number; next: number; lag: number }

function linksInOrder({ activities }: SchedulingProblem): Link[] {
  const indexOf = new Map(activities.map(({ id }, index) => [id, index]))
  const into = activities.map(({ id, after }, next) =>
    (after ?? []).map((link) => {
      const before = indexOf.get(link.id)
      if (before === undefined) throw new RangeError(`${id} comes after ${link.id}, which is no activity`)
      return { before, next, lag: link.lag ?? 0 }
    }),
  )
  const out: number[][] = activities.map(() => [])
  const waiting = into.map((links) => links.length)
  for (const { before, next } of into.flat()) out[before]?.push(next)
  const ready = waiting.flatMap((open, index) => (open === 0 ? [index] : []))
  // The list grows while it is gone through.
  for (const index of ready)
    for (const next of out[index] ?? []) {
      const open = (waiting[next] ?? 0) - 1
      waiting[next] = open
      if (open === 0) ready.push(next)
    }
  if (ready.length < activities.length) throw new RangeError('activities that come after each other in a circle')
  return ready.flatMap((index) => into[index] ?? [])
}
