import { type Model, never } from './model.ts'

/**
 * The same problem with time running backwards from `end`: what came after comes before, phases and calendars turned
 * round. Times before the true start are open in its calendars, so that a pass always ends; such a schedule is
 * an order to build the next one from, never an answer.
 */
export function mirrorOf(model: Model, end: number): Model {
  const rank = model.rank.map((place) => model.count - 1 - place)
  return {
    ...model,
    calendars: model.calendars.map((calendar) => (calendar ? turned(calendar, end) : null)),
    phases: model.phases.map((phases, activity) =>
      phases
        .map((phase) => ({ ...phase, offset: (model.duration[activity] ?? 0) - phase.offset - phase.minutes }))
        .reverse(),
    ),
    earliest: new Int32Array(model.count),
    // Starting too early is what ending too late was.
    due: model.earliest.map((earliest) => (earliest > 0 ? end - earliest : never)),
    weight: new Float64Array(model.count).fill(1),
    before: model.next,
    beforeLag: model.nextLag,
    next: model.before,
    nextLag: model.beforeLag,
    rank,
    topological: model.topological.toReversed(),
  }
}

function turned(calendar: Int32Array, end: number): Int32Array {
  const windows: number[] = []
  for (let at = calendar.length - 2; at >= 0; at -= 2) {
    const from = calendar[at] ?? 0
    const to = Math.min(calendar[at + 1] ?? 0, end)
    if (to > from) windows.push(end - to, end - from)
  }
  return Int32Array.from([...windows, end, never])
}
