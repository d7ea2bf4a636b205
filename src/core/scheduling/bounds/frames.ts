import type { BoundModel } from './model.ts'
import { startFrom, startUpTo } from './starts.ts'

/**
 * Between which starts each activity must lie, if all is to be done by some moment. Each rule narrows them and says
 * `changed`, or says `refuted`: no schedule ends by then.
 */
export type Frames = { first: Float64Array; last: Float64Array }

export type Outcome = 'same' | 'changed' | 'refuted'

/** What is left of the elementary steps that may be spent; a rule that runs out stops, which refutes nothing. */
export type Effort = { left: number }

/** The frames before anything is known but what each activity allows by itself. */
export function openFrames({ count, earliest, minutes, starts }: BoundModel, end: number): Frames {
  const first = new Float64Array(count)
  const last = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const possible = starts[i]
    const from = earliest[i] ?? 0
    const upTo = end - (minutes[i] ?? 0)
    first[i] = possible ? startFrom(possible, from) : from
    last[i] = possible ? startUpTo(possible, upTo) : upTo
  }
  return { first, last }
}

/** Narrows the frames by what comes after what, with lags and calendars, forwards and backwards (the critical path). */
export function followLinks(model: BoundModel, frames: Frames, effort: Effort): Outcome {
  const { before, next, lag, minutes, starts, count } = model
  const { first, last } = frames
  let changed = false
  effort.left -= 2 * before.length + count
  for (let link = 0; link < before.length; link++) {
    const a = before[link] ?? 0
    const b = next[link] ?? 0
    const free = (first[a] ?? 0) + (minutes[a] ?? 0) + (lag[link] ?? 0)
    if (free > (first[b] ?? 0)) {
      const possible = starts[b]
      first[b] = possible ? startFrom(possible, free) : free
      changed = true
    }
  }
  for (let link = before.length - 1; link >= 0; link--) {
    const a = before[link] ?? 0
    const b = next[link] ?? 0
    const free = (last[b] ?? 0) - (minutes[a] ?? 0) - (lag[link] ?? 0)
    if (free < (last[a] ?? 0)) {
      const possible = starts[a]
      last[a] = possible ? startUpTo(possible, free) : free
      changed = true
    }
  }
  for (let i = 0; i < count; i++) if ((first[i] ?? 0) > (last[i] ?? 0)) return 'refuted'
  return changed ? 'changed' : 'same'
}

/** Raises an activity's first start to a moment, or to the next that its calendars allow; whether it still can start. */
export function startLater({ starts }: BoundModel, { first, last }: Frames, activity: number, moment: number): boolean {
  const possible = starts[activity]
  const start = possible ? startFrom(possible, moment) : moment
  first[activity] = start
  return start <= (last[activity] ?? 0)
}

/** Lowers an activity's last start likewise. */
export function startSooner(
  { starts }: BoundModel,
  { first, last }: Frames,
  activity: number,
  moment: number,
): boolean {
  const possible = starts[activity]
  const start = possible ? startUpTo(possible, moment) : moment
  last[activity] = start
  return start >= (first[activity] ?? 0)
}
