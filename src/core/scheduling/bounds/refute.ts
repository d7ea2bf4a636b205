import { fitEnergy } from './energy.ts'
import { type Effort, type Frames, followLinks, type Outcome, openFrames } from './frames.ts'
import type { BoundModel } from './model.ts'
import { type OpenPairs, orderPairs } from './pairs.ts'
import { fitTimetable, type Scratch } from './timetable.ts'

/** A model with all that is worked out once for every moment that is tried. */
export type Trial = {
  model: BoundModel
  pairs: Int32Array
  scratch: Scratch
  effort: Effort
}

/** Frames that are being narrowed, with the pairs that may still narrow them. */
export type Narrowing = { frames: Frames; open: OpenPairs }

/** What is known at first if all is to be done by `end`. */
export function narrowingTo({ model, pairs }: Trial, end: number): Narrowing {
  return { frames: openFrames(model, end), open: { list: pairs.slice(), size: pairs.length } }
}

/**
 * Narrows by links, pairs and timetables until none of them changes anything; whether that refutes. Out of effort it
 * stops, which refutes nothing.
 */
export function narrowed({ model, scratch, effort }: Trial, { frames, open }: Narrowing): boolean {
  for (let changed = true; changed; ) {
    changed = false
    const seen = (outcome: Outcome) => {
      if (outcome === 'changed') changed = true
      return outcome === 'refuted'
    }
    if (effort.left < 0) return false
    if (seen(followLinks(model, frames, effort))) return true
    if (seen(orderPairs(model, open, frames, effort))) return true
    for (const limit of model.limits) if (seen(fitTimetable(model, limit, frames, scratch, effort))) return true
  }
  return false
}

/** Whether some stretch of time has too little of something for the frames as they are. */
export function lacksEnergy({ model, effort }: Trial, { frames }: Narrowing): boolean {
  return model.limits.some((limit) => fitEnergy(model, limit, frames, effort) === 'refuted')
}
