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
  // Of each phase that reaches beyond a stretch's beginning: its minutes there at most, its last start, its units.
  const reach = new Float64Array(size)
  const latest = new Float64Array(size)
  const units = new Float64Array(size)
  for (const begin of begins) {
    let reaching = 0
    let most = 0
    for (let k = 0; k < size; k++) {
      const left = Math.min((firstStart[k] ?? 0) + (minutes[k] ?? 0) - begin, minutes[k] ?? 0)
      if (left <= 0) continue
      reach[reaching] = left
      latest[reaching] = lastStart[k] ?? 0
      units[reaching++] = limit.units[k] ?? 0
      most += left * (limit.units[k] ?? 0)
    }
    effort.left -= size
    const areaFrom = areaUpTo(limit.steps, areas, begin)
    for (let e = 0; e < ends.length; e++) {
      const end = ends[e] ?? 0
      if (end <= begin) continue
      const room = (areaTo[e] ?? 0) - areaFrom
      // Room only grows from here.
      if (room >= most) break
      effort.left -= reaching
      if (effort.left < 0) return 'same'
      let work = 0
      for (let k = 0; k < reaching; k++) {
        const right = Math.min(end - (latest[k] ?? 0), end - begin)
        if (right > 0) work += Math.min(reach[k] ?? 0, right) * (units[k] ?? 0)
      }
      if (work > room) return 'refuted'
    }
  }
  return 'same'
}

function distinct(moments: number[]): number[] {
  return [...new Set(moments)].sort((a, b) => a - b)
}
