import { type Effort, type Frames, type Outcome, startLater, startSooner } from './frames.ts'
import type { BoundModel, Limit } from './model.ts'

/** Room for a profile, shared by all passes of one bound. */
export type Scratch = { keys: Float64Array; changes: Float64Array; from: Float64Array; height: Float64Array }

// A moment and the place of its change in one number, so that the moments can be sorted as plain numbers.
const places = 2 ** 17

export function scratchFor({ limits }: BoundModel): Scratch {
  const most = Math.max(0, ...limits.map(({ steps, phases }) => steps.moments.length + 2 * phases.length))
  if (most >= places) throw new RangeError(`${most} changes on one resource, more than can be planned`)
  const room = () => new Float64Array(most + 1)
  return { keys: room(), changes: room(), from: room(), height: room() }
}

/**
 * Between its last start and its first end a phase is certain to run. Added up over a resource these certain parts must
 * fit (or nothing ends in time), and a phase moves out of the stretches where it does not fit beside them (the
 * timetable rule for cumulative resources: Le Pape 1988, Fox; with each phase tested against all stretches; from
 * memory). Calendars count as stretches that are taken.
 */
export function fitTimetable(
  model: BoundModel,
  limit: Limit,
  frames: Frames,
  scratch: Scratch,
  effort: Effort,
): Outcome {
  const stretches = profileOf(model, limit, frames, scratch)
  effort.left -= stretches + 4 * limit.phases.length
  const { from, height } = scratch
  let highest = 0
  for (let s = 0; s < stretches; s++) highest = Math.max(highest, height[s] ?? 0)
  // A calendar takes all there is, so only more than that is too much.
  if (highest > limit.most) return 'refuted'
  const { activityOf, offset, length } = model
  const { first, last } = frames
  let changed = false
  for (let k = 0; k < limit.phases.length; k++) {
    const room = limit.most - (limit.units[k] ?? 0)
    if (highest <= room) continue
    const p = limit.phases[k] ?? 0
    const a = activityOf[p] ?? 0
    const after = offset[p] ?? 0
    const minutes = length[p] ?? 0
    // Within its own certain part a phase finds itself in the profile, so it is only tested outside.
    const lastStart = (last[a] ?? 0) + after
    let start = (first[a] ?? 0) + after
    let s = stretchAt(from, stretches, start)
    for (; s < stretches && (from[s] ?? 0) < Math.min(start + minutes, lastStart); s++)
      if ((height[s] ?? 0) > room) start = from[s + 1] ?? Number.POSITIVE_INFINITY
    const raised = start - after
    if (raised > (first[a] ?? 0)) {
      if (!startLater(model, frames, a, raised)) return 'refuted'
      changed = true
    }
    const firstEnd = (first[a] ?? 0) + after + minutes
    let end = (last[a] ?? 0) + after + minutes
    s = stretchAt(from, stretches, end - 1)
    for (; s >= 0 && (from[s + 1] ?? 0) > Math.max(end - minutes, firstEnd); s--)
      if ((height[s] ?? 0) > room) end = from[s] ?? 0
    const lowered = end - after - minutes
    if (lowered < (last[a] ?? 0)) {
      if (!startSooner(model, frames, a, lowered)) return 'refuted'
      changed = true
    }
    effort.left -= 8
  }
  return changed ? 'changed' : 'same'
}

/** Writes stretches (from, height), the last for ever, and gives their number. */
function profileOf(model: BoundModel, limit: Limit, frames: Frames, scratch: Scratch): number {
  const { activityOf, offset, length } = model
  const { first, last } = frames
  const { keys, changes, from, height } = scratch
  const { moments, units } = limit.steps
  let size = 0
  let taken = 0
  for (let step = 0; step < moments.length; step++) {
    const closed = limit.most - (units[step] ?? 0)
    if (step > 0 && closed === taken) continue
    keys[size] = (moments[step] ?? 0) * places + size
    changes[size++] = closed - taken
    taken = closed
  }
  for (let k = 0; k < limit.phases.length; k++) {
    const p = limit.phases[k] ?? 0
    const a = activityOf[p] ?? 0
    const lastStart = (last[a] ?? 0) + (offset[p] ?? 0)
    const firstEnd = (first[a] ?? 0) + (offset[p] ?? 0) + (length[p] ?? 0)
    if (lastStart >= firstEnd) continue
    keys[size] = lastStart * places + size
    changes[size++] = limit.units[k] ?? 0
    keys[size] = firstEnd * places + size
    changes[size++] = -(limit.units[k] ?? 0)
  }
  const sorted = keys.subarray(0, size).sort()
  let stretches = 0
  let now = 0
  for (let k = 0; k < size; k++) {
    const key = sorted[k] ?? 0
    const moment = Math.floor(key / places)
    now += changes[key - moment * places] ?? 0
    if (stretches > 0 && from[stretches - 1] === moment) height[stretches - 1] = now
    else {
      from[stretches] = moment
      height[stretches++] = now
    }
  }
  from[stretches] = Number.POSITIVE_INFINITY
  return stretches
}

/** The stretch that a moment lies in; -1 before the first. */
function stretchAt(from: Float64Array, stretches: number, moment: number): number {
  let low = -1
  let high = stretches - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((from[middle] ?? 0) <= moment) low = middle
    else high = middle - 1
  }
  return low
}
