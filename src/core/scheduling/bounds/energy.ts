import type { Effort, Frames, Outcome } from './frames.ts'
import type { BoundModel, Limit } from './model.ts'
import { areasOf, areaUpTo } from './steps.ts'

/**
 * Energetic reasoning (Erschler and Lopez 1990; Baptiste, Le Pape and Nuijten 1999; from memory): whatever the schedule,
 * a phase runs in a stretch of time for at least the least of its minutes, the stretch, and its overlap when pushed
 * as far to the left or to the right as its frame lets it. If these minutes times units, added up, exceed what the
 * resource has in the stretch, nothing ends in time. Tried for stretches from a first start to a last end; this
 * includes the work that lies wholly between a head and a tail. It only refutes.
 */
export function fitEnergy(model: BoundModel, limit: Limit, frames: Frames, effort: Effort): Outcome {
  const { activityOf, offset, length } = model
  const size = limit.phases.length
  const firstStart = new Float64Array(size)
  const lastStart = new Float64Array(size)
  const minutes = new Float64Array(size)
  const lastEnd = new Float64Array(size)
  let all = 0
  for (let k = 0; k < size; k++) {
    const p = limit.phases[k] ?? 0
    const a = activityOf[p] ?? 0
    firstStart[k] = (frames.first[a] ?? 0) + (offset[p] ?? 0)
    lastStart[k] = (frames.last[a] ?? 0) + (offset[p] ?? 0)
    minutes[k] = length[p] ?? 0
    lastEnd[k] = (lastStart[k] ?? 0) + (minutes[k] ?? 0)
    all += limit.units[k] ?? 0
  }
  const begins = distinct(firstStart)
  const ends = distinct(lastEnd)
  // Beyond that the sums would no longer be exact.
  if (all * (ends.at(-1) ?? 0) > Number.MAX_SAFE_INTEGER) return 'same'
  const areas = areasOf(limit.steps)
  const areaTo = ends.map((end) => areaUpTo(limit.steps, areas, end))
  const startsFrom = lastStart.map((moment) => firstAtOrAfter(ends, moment))
  const endsAt = lastEnd.map((moment) => firstAtOrAfter(ends, moment))
  // The work in the stretch up to an end grows by `slope` a minute from one end to the next, out of `base`.
  const slope = new Float64Array(ends.length + 1)
  const base = new Float64Array(ends.length + 1)

  for (const begin of begins) {
    effort.left -= 4 * size + ends.length
    if (effort.left < 0) return 'same'
    slope.fill(0)
    base.fill(0)
    const atBegin = firstAtOrAfter(ends, begin)
    let most = 0
    for (let k = 0; k < size; k++) {
      const reach = Math.min((firstStart[k] ?? 0) + (minutes[k] ?? 0) - begin, minutes[k] ?? 0)
      if (reach <= 0) continue
      const units = limit.units[k] ?? 0
      most += reach * units
      const waits = (lastStart[k] ?? 0) >= begin
      const from = waits ? (lastStart[k] ?? 0) : begin
      const to = from + reach
      const grows = waits ? (startsFrom[k] ?? 0) : atBegin
      const full = to === lastEnd[k] ? (endsAt[k] ?? 0) : firstAtOrAfter(ends, to)
      slope[grows] = (slope[grows] ?? 0) + units
      base[grows] = (base[grows] ?? 0) - units * from
      slope[full] = (slope[full] ?? 0) - units
      base[full] = (base[full] ?? 0) + units * to
    }
    const areaFrom = areaUpTo(limit.steps, areas, begin)
    let growing = 0
    let grown = 0
    for (let e = atBegin; e < ends.length; e++) {
      growing += slope[e] ?? 0
      grown += base[e] ?? 0
      const room = (areaTo[e] ?? 0) - areaFrom
      if (growing * (ends[e] ?? 0) + grown > room) return 'refuted'
      // Room only grows from here.
      if (room >= most) break
    }
  }
  return 'same'
}

function distinct(moments: Float64Array): Float64Array {
  const sorted = moments.slice().sort()
  return sorted.filter((moment, index) => index === 0 || moment !== sorted[index - 1])
}

/** The place of the first moment that is not before this one; the length if none. */
function firstAtOrAfter(moments: Float64Array, moment: number): number {
  let low = 0
  let high = moments.length
  while (low < high) {
    const middle = (low + high) >> 1
    if ((moments[middle] ?? 0) < moment) low = middle + 1
    else high = middle
  }
  return low
}
