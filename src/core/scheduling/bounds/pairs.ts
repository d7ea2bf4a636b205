import { type Effort, type Frames, type Outcome, startLater, startSooner } from './frames.ts'
import type { BoundModel } from './model.ts'

/** Pairs of phases of different activities that cannot run at one time: (one, other, one, other ...). */
export function exclusivePairs(model: BoundModel): Int32Array {
  const { activityOf, limits } = model
  const ordered = orderedActivities(model)
  const size = activityOf.length
  const seen = new Uint8Array(size * size)
  const pairs: number[] = []
  for (const { phases, units, most } of limits)
    for (let i = 0; i < phases.length; i++) {
      const room = most - (units[i] ?? 0)
      const p = phases[i] ?? 0
      const a = activityOf[p] ?? 0
      for (let j = i + 1; j < phases.length; j++) {
        if ((units[j] ?? 0) <= room) continue
        const q = phases[j] ?? 0
        const b = activityOf[q] ?? 0
        if (a === b || ordered(a, b) || seen[p * size + q]) continue
        seen[p * size + q] = 1
        pairs.push(p, q)
      }
    }
  return Int32Array.from(pairs)
}

/** Pairs whose order may still narrow something: the first `size` entries of the list. */
export type OpenPairs = { list: Int32Array; size: number }

/** Whether two activities have an order by what comes after what. */
function orderedActivities({ count, before, next }: BoundModel): (a: number, b: number) => boolean {
  const words = (count + 31) >> 5
  const ahead = new Int32Array(count * words)
  for (let link = 0; link < before.length; link++) {
    const a = before[link] ?? 0
    const into = (next[link] ?? 0) * words
    for (let word = 0; word < words; word++)
      ahead[into + word] = (ahead[into + word] ?? 0) | (ahead[a * words + word] ?? 0)
    ahead[into + (a >> 5)] = (ahead[into + (a >> 5)] ?? 0) | (1 << (a & 31))
  }
  const has = (a: number, b: number) => (((ahead[b * words + (a >> 5)] ?? 0) >> (a & 31)) & 1) === 1
  return (a, b) => has(a, b) || has(b, a)
}

/**
 * Of two phases that cannot run at one time one comes first; where only one order is left it narrows both frames
 * (immediate selection: Carlier and Pinson 1989; used for destructive bounds by Klein and Scholl 1999; from memory).
 */
export function orderPairs(model: BoundModel, pairs: OpenPairs, frames: Frames, effort: Effort): Outcome {
  const { activityOf, offset, length } = model
  const { first, last } = frames
  let changed = false
  const { list } = pairs
  effort.left -= pairs.size
  let kept = 0
  for (let k = 0; k < pairs.size; k += 2) {
    const p = list[k] ?? 0
    const q = list[k + 1] ?? 0
    const a = activityOf[p] ?? 0
    const b = activityOf[q] ?? 0
    // From the start of the one activity to the earliest start of the other, when the one's phase comes first.
    const ab = (offset[p] ?? 0) + (length[p] ?? 0) - (offset[q] ?? 0)
    const ba = (offset[q] ?? 0) + (length[q] ?? 0) - (offset[p] ?? 0)
    // Apart whatever happens: nothing more will come of this pair.
    if ((last[a] ?? 0) + ab <= (first[b] ?? 0) || (last[b] ?? 0) + ba <= (first[a] ?? 0)) continue
    list[kept++] = p
    list[kept++] = q
    const pFirst = (first[a] ?? 0) + ab <= (last[b] ?? 0)
    const qFirst = (first[b] ?? 0) + ba <= (last[a] ?? 0)
    if (pFirst && qFirst) continue
    if (!pFirst && !qFirst) return 'refuted'
    const one = pFirst ? a : b
    const other = pFirst ? b : a
    const apart = pFirst ? ab : ba
    const soonest = (first[one] ?? 0) + apart
    if (soonest > (first[other] ?? 0)) {
      if (!startLater(model, frames, other, soonest)) return 'refuted'
      changed = true
    }
    const latest = (last[other] ?? 0) - apart
    if (latest < (last[one] ?? 0)) {
      if (!startSooner(model, frames, one, latest)) return 'refuted'
      changed = true
    }
  }
  pairs.size = kept
  return changed ? 'changed' : 'same'
}
