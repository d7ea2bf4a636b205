import type { Window } from '../problem.ts'

/** How many units there are when: a list of moments, ascending from 0, each with the units from then on. */
export type Steps = { moments: number[]; units: number[] }

/** The units that several parties bring together: each brings `units` always, or in its windows. */
export function stepsOf(parties: { units: number; calendar?: Window[] | undefined }[]): Steps {
  const changes = new Map<number, number>([[0, 0]])
  const change = (moment: number, units: number) => changes.set(moment, (changes.get(moment) ?? 0) + units)
  for (const { units, calendar } of parties) {
    if (!calendar) change(0, units)
    // Windows that overlap are one for a party's presence.
    let end = Number.NEGATIVE_INFINITY
    for (const { from, to } of calendar ?? []) {
      const begin = Math.max(from, end)
      if (to <= begin) continue
      change(begin, units)
      change(to, -units)
      end = to
    }
  }
  const moments: number[] = []
  const totals: number[] = []
  let total = 0
  for (const [moment, units] of [...changes].sort((a, b) => a[0] - b[0])) {
    total += units
    if (moments.length > 0 && totals.at(-1) === total) continue
    moments.push(moment)
    totals.push(total)
  }
  return { moments, units: totals }
}

/** Unit minutes from minute 0 up to each of the steps' moments. */
export function areasOf({ moments, units }: Steps): Float64Array {
  const areas = new Float64Array(moments.length)
  for (let step = 1; step < moments.length; step++)
    areas[step] = (areas[step - 1] ?? 0) + ((moments[step] ?? 0) - (moments[step - 1] ?? 0)) * (units[step - 1] ?? 0)
  return areas
}

/** Unit minutes from minute 0 up to a moment. */
export function areaUpTo(steps: Steps, areas: Float64Array, moment: number): number {
  let low = 0
  let high = steps.moments.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((steps.moments[middle] ?? 0) <= moment) low = middle
    else high = middle - 1
  }
  return (areas[low] ?? 0) + (moment - (steps.moments[low] ?? 0)) * (steps.units[low] ?? 0)
}

/** The first whole minute up to which there are so many unit minutes from minute 0; Infinity if there never are. */
export function whenArea(steps: Steps, areas: Float64Array, area: number): number {
  let low = 0
  let high = areas.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((areas[middle] ?? 0) < area) low = middle
    else high = middle - 1
  }
  const missing = area - (areas[low] ?? 0)
  if (missing <= 0) return steps.moments[low] ?? 0
  const units = steps.units[low] ?? 0
  return units > 0 ? (steps.moments[low] ?? 0) + Math.ceil(missing / units) : Number.POSITIVE_INFINITY
}
