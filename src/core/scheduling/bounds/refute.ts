import { fitEnergy } from './energy.ts'
import { type Effort, followLinks, type Outcome, openFrames } from './frames.ts'
import type { BoundModel } from './model.ts'
import { orderPairs } from './pairs.ts'
import { fitTimetable, type Scratch } from './timetable.ts'

/** A model with all that is worked out once for every moment that is tried. */
export type Trial = {
  model: BoundModel
  pairs: Int32Array
  scratch: Scratch
  effort: Effort
}

/** Whether it is certain that not all can be done by `end`. Out of effort it is not certain. */
export function isRefuted({ model, pairs, scratch, effort }: Trial, end: number, energetic: boolean): boolean {
  const frames = openFrames(model, end)
  const open = { list: pairs.slice(), size: pairs.length }
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
  return energetic && model.limits.some((limit) => fitEnergy(model, limit, frames, effort) === 'refuted')
}
