import { boardFor } from './board.ts'
import type { Model } from './model.ts'
import { worthOf } from './passes.ts'
import type { Schedule, SchedulingProblem } from './problem.ts'
import type { Found, Start } from './search.ts'

/** What an earlier schedule is worth for this problem: its order always, the schedule itself if it still holds. */
export function startFrom(problem: SchedulingProblem, model: Model, from: Schedule | undefined): Start {
  if (!from) return { lists: [], found: null }
  const known = new Map(Object.entries(from.start))
  const times = new Int32Array(model.count)
  // What the old schedule does not know goes right behind what it waits for.
  for (const activity of model.topological) {
    const waitsFor = Array.from(model.before[activity] ?? [], (other) => times[other] ?? 0)
    times[activity] = Math.max(...waitsFor, known.get(problem.activities[activity]?.id ?? '') ?? 0)
  }
  const order = model.topological.toSorted(
    (a, b) => (times[a] ?? 0) - (times[b] ?? 0) || (model.rank[a] ?? 0) - (model.rank[b] ?? 0),
  )
  return { lists: [order], found: replayed(problem, model, from, order) }
}

function replayed(problem: SchedulingProblem, model: Model, from: Schedule, order: Int32Array): Found | null {
  const { activities, resources, people = [] } = problem
  const laneOf = new Map(people.map(({ id }, index) => [id, resources.length + index]))
  const known = new Map(Object.entries(from.start))
  const named = new Map(Object.entries(from.people))
  const starts = new Int32Array(model.count)
  const board = boardFor(model)
  for (const activity of order) {
    const id = activities[activity]?.id ?? ''
    const start = known.get(id)
    if (start === undefined || !Number.isInteger(start) || start < readyAt(model, activity, starts)) return null
    const crews = (activities[activity]?.phases ?? []).map((_, phase) =>
      Int32Array.from(named.get(id)?.[phase] ?? [], (person) => laneOf.get(person) ?? -1),
    )
    if (!board.placeAs(activity, start, crews)) return null
    starts[activity] = start
  }
  const crews = Array.from(starts, (_, activity) => board.crew(activity))
  return { starts, crews, ...worthOf(model, starts) }
}

function readyAt(model: Model, activity: number, starts: Int32Array): number {
  let ready = model.earliest[activity] ?? 0
  model.before[activity]?.forEach((other, at) => {
    ready = Math.max(
      ready,
      (starts[other] ?? 0) + (model.duration[other] ?? 0) + (model.beforeLag[activity]?.[at] ?? 0),
    )
  })
  return ready
}
