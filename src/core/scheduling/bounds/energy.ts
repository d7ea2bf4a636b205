import type { Effort, Frames, Outcome } from './frames.ts'
import type { BoundModel, Limit } from './model.ts'
import { areasOf, areaUpTo } from './steps.ts'

/**
 * Energetic reasoning (Erschler and Lopez 1990; Baptiste, Le Pape and Nuijten 1999; from memory): whatever the schedule,
 * a phase runs in a stretch of time for at least the least of its minutes, the stretch, and its overlap when pushed
 * as far to the left or to the right as its frame lets it. If these minutes times units, added up, exceed what the
 * resource has in the stretch, nothing ends in time. Tried for stretches from a first start or a last start to a last
 * end or a first end; this includes the work that lies wholly between a head and a tail. It only refutes.
 */
export function fitEnergy(model: BoundModel, limit: Limit, frames: Frames, effort: Effort): Outcome {
  const { activityOf, offset, length } = model
  const size = limit.phases.length
  const firstStart = new Float64Array(size)
  const lastStart = new Float64Array(size)
  const minutes = new Float64Array(size)
  for (let k = 0; k < size; k++) {
    const p = limit.phases[k] ?? 0
    const a = activityOf[p] ?? 0
    firstStart[k] = (frames.first[a] ?? 0) + (offset[p] ?? 0)
    lastStart[k] = (frames.last[a] ?? 0) + (offset[p] ?? 0)
    minutes[k] = length[p] ?? 0
  }
  const begins = distinct([...firstStart])
  const ends = distinct([...lastStart].map((start, k) => start + (minutes[k] ?? 0)))
  const areas = areasOf(limit.steps)
  const areaTo = ends.map((end) => areaUpTo(limit.steps, areas, end))
  for (const begin of begins) {
    const areaFrom = areaUpTo(limit.steps, areas, begin)
    for (let e = 0; e < ends.length; e++) {
      const end = ends[e] ?? 0
      if (end <= begin) continue
      effort.left -= size
      if (effort.left < 0) return 'same'
      const room = (areaTo[e] ?? 0) - areaFrom
      let work = 0
      for (let k = 0; k < size; k++) {
        const left = (firstStart[k] ?? 0) + (minutes[k] ?? 0) - begin
        const right = end - (lastStart[k] ?? 0)
        if (left <= 0 || right <= 0) continue
        work += Math.min(left, right, minutes[k] ?? 0, end - begin) * (limit.units[k] ?? 0)
      }
      if (work > room) return 'refuted'
    }
  }
  return 'same'
}

function distinct(moments: number[]): number[] {
  return [...new Set(moments)].sort((a, b) => a - b)
}
