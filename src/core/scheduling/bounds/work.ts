import type { Effort, Frames } from './frames.ts'
import type { BoundModel, Limit } from './model.ts'
import { areasOf, areaUpTo, whenArea } from './steps.ts'

/**
 * A bound by work alone: what cannot begin before some moment, and after whose end some minutes must still pass, needs
 * its minutes times units from the moment on, and those minutes after (heads and tails, as Carlier 1982 for one
 * machine; for several units from memory). For every such moment and tail of every limit; in minutes.
 */
export function workBound(model: BoundModel, frames: Frames, effort: Effort): number {
  const after = minutesAfter(model)
  let bound = 0
  for (const limit of model.limits) bound = Math.max(bound, workOf(model, limit, frames, after, effort))
  return bound
}

/** For each activity the minutes from its end to the end of all, by links and lags alone. */
function minutesAfter({ count, before, next, lag, minutes }: BoundModel): Float64Array {
  const after = new Float64Array(count)
  for (let link = before.length - 1; link >= 0; link--) {
    const a = before[link] ?? 0
    const b = next[link] ?? 0
    after[a] = Math.max(after[a] ?? 0, (lag[link] ?? 0) + (minutes[b] ?? 0) + (after[b] ?? 0))
  }
  return after
}

function workOf(model: BoundModel, limit: Limit, frames: Frames, after: Float64Array, effort: Effort): number {
  const { activityOf, offset, length, minutes } = model
  const parts = [...limit.phases].map((p, k) => {
    const a = activityOf[p] ?? 0
    const end = (offset[p] ?? 0) + (length[p] ?? 0)
    return {
      head: (frames.first[a] ?? 0) + (offset[p] ?? 0),
      tail: (minutes[a] ?? 0) - end + (after[a] ?? 0),
      work: (length[p] ?? 0) * (limit.units[k] ?? 0),
    }
  })
  parts.sort((one, other) => other.tail - one.tail)
  const heads = Float64Array.from(parts, ({ head }) => head)
  const tails = Float64Array.from(parts, ({ tail }) => tail)
  const works = Float64Array.from(parts, ({ work }) => work)
  const areas = areasOf(limit.steps)
  let bound = 0
  for (const begin of new Set(heads)) {
    effort.left -= parts.length
    if (effort.left < 0) return bound
    let work = areaUpTo(limit.steps, areas, begin)
    for (let k = 0; k < parts.length; k++) {
      if ((heads[k] ?? 0) < begin) continue
      work += works[k] ?? 0
      // The sum is that of all tails down to this one.
      if (tails[k + 1] === tails[k]) continue
      bound = Math.max(bound, whenArea(limit.steps, areas, work) + (tails[k] ?? 0))
    }
  }
  return bound
}
