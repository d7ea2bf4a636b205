import type { Person, SchedulingProblem } from './problem.ts'
import { refuseBadProblem } from './refuse.ts'
import { topologicalOrder } from './topological.ts'

/** A time that never comes; sums of two such stay below 2^31. */
export const never = 2 ** 30

/** One phase with places instead of names: lanes are the resources in their order, then the people. */
export type ModelPhase = {
  /** Minutes after the activity's start. */
  offset: number
  minutes: number
  lanes: Int32Array
  units: Int32Array
  /** For each person wanted the lanes of those who could; one entry a head. */
  slots: Int32Array[]
}

/** A problem ready for passes: everything by index, checked. */
export type Model = {
  count: number
  resources: number
  /** Units of each lane; a person is a lane of one unit. */
  capacity: Int32Array
  /** Window bounds (from, to, from, to ...) of each lane, null for always. */
  calendars: (Int32Array | null)[]
  /** Lanes of people, those who are wanted least first. */
  people: Int32Array
  phases: ModelPhase[][]
  duration: Int32Array
  earliest: Int32Array
  /** `never` where nothing is due. */
  due: Int32Array
  weight: Float64Array
  before: Int32Array[]
  beforeLag: Int32Array[]
  next: Int32Array[]
  nextLag: Int32Array[]
  /** Place in one order that respects all `before`. */
  rank: Int32Array
  topological: Int32Array
  hasDue: boolean
}

/** Turns a problem into indices. Throws RangeError that names the place if the problem cannot be meant. */
export function modelOf(problem: SchedulingProblem): Model {
  refuseBadProblem(problem)
  const { activities, resources, people = [] } = problem
  const count = activities.length
  const indexOf = new Map(activities.map((activity, index) => [activity.id, index]))
  const laneOf = new Map(resources.map((resource, index) => [resource.id, index]))

  const lags = activities.map((activity) => {
    const lagOf = new Map<number, number>()
    for (const { id, lag = 0 } of activity.after ?? []) {
      const other = known(indexOf, id)
      lagOf.set(other, Math.max(lag, lagOf.get(other) ?? 0))
    }
    return lagOf
  })
  const next: number[][] = activities.map(() => [])
  const nextLag: number[][] = activities.map(() => [])
  lags.forEach((lagOf, index) => {
    for (const [other, lag] of lagOf) {
      next[other]?.push(index)
      nextLag[other]?.push(lag)
    }
  })
  const before = lags.map((lagOf) => Int32Array.from(lagOf.keys()))
  const topological = topologicalOrder(before, next)
  const rank = new Int32Array(count)
  topological.forEach((index, place) => {
    rank[index] = place
  })

  return {
    count,
    resources: resources.length,
    capacity: Int32Array.from([...resources.map((resource) => resource.capacity), ...people.map(() => 1)]),
    calendars: [...resources, ...people].map(({ calendar }) =>
      calendar ? Int32Array.from(calendar.flatMap(({ from, to }) => [from, to])) : null,
    ),
    people: leastWantedFirst(problem, people, resources.length),
    phases: activities.map((activity) => {
      let offset = 0
      return activity.phases.map((phase) => {
        const held = Object.entries(phase.resources ?? {}).filter(([, units]) => units > 0)
        const slots = (phase.people ?? []).flatMap(({ skill, count: heads }) => {
          const able = people.flatMap((person, index) =>
            person.skills.includes(skill) ? [resources.length + index] : [],
          )
          return Array.from({ length: heads }, () => Int32Array.from(able))
        })
        const own = {
          offset,
          minutes: phase.minutes,
          lanes: Int32Array.from(held.map(([id]) => known(laneOf, id))),
          units: Int32Array.from(held.map(([, units]) => units)),
          slots,
        }
        offset += phase.minutes
        return own
      })
    }),
    duration: Int32Array.from(activities.map(({ phases }) => phases.reduce((sum, phase) => sum + phase.minutes, 0))),
    earliest: Int32Array.from(activities.map((activity) => activity.earliest ?? 0)),
    due: Int32Array.from(activities.map((activity) => Math.min(activity.due ?? never, never))),
    weight: Float64Array.from(activities.map((activity) => activity.weight ?? 1)),
    before,
    beforeLag: lags.map((lagOf) => Int32Array.from(lagOf.values())),
    next: next.map((list) => Int32Array.from(list)),
    nextLag: nextLag.map((list) => Int32Array.from(list)),
    rank,
    topological,
    hasDue: activities.some((activity) => activity.due !== undefined),
  }
}

/** Who has skills that are scarce for the work there is comes last, so that they stay free for it. */
function leastWantedFirst(problem: SchedulingProblem, people: Person[], offset: number): Int32Array {
  const wanted = new Map<string, number>()
  for (const { phases } of problem.activities)
    for (const { minutes, people: crew = [] } of phases)
      for (const { skill, count } of crew) wanted.set(skill, (wanted.get(skill) ?? 0) + minutes * count)
  const able = (skill: string) => people.filter((person) => person.skills.includes(skill)).length
  const pressure = people.map(({ skills }) =>
    [...new Set(skills)].reduce((sum, skill) => sum + (wanted.get(skill) ?? 0) / Math.max(1, able(skill)), 0),
  )
  const order = people.map((_, index) => index)
  order.sort((a, b) => (pressure[a] ?? 0) - (pressure[b] ?? 0) || a - b)
  return Int32Array.from(order, (index) => offset + index)
}

function known(places: Map<string, number>, id: string): number {
  const place = places.get(id)
  if (place === undefined) throw new RangeError(`"${id}" is not known`)
  return place
}
