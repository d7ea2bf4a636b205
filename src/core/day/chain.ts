import type { Batch, BatchStep } from './batch.ts'
import type { Kitchen } from './kitchen.ts'
import { isHot, type MeantPhase, pause, phasesOf, type Setting } from './phases.ts'
import type { Group, Portion } from './portions.ts'

export type ChainOf = {
  kitchen: Kitchen
  batch: Batch
  steps: readonly BatchStep[]
  day: number
  portion: Portion
}

/** How one step of a batch is done for a portion on a day. */
export function settingOf({ kitchen, batch, steps, day, portion }: ChainOf, index: number, step: BatchStep): Setting {
  return {
    kitchen,
    day,
    process: batch.process,
    index,
    step,
    hot: isHot(steps, index),
    units: portion.units,
    grams: portion.grams,
    starts: step.run === null ? 0 : (portion.starts.get(step.run) ?? 0),
  }
}

/** The phases of steps that follow each other without a pause; what rests between two of them is in it. */
export function chainOf(of: ChainOf, group: Group): MeantPhase[] {
  return group.flatMap(({ index, step }, at) => {
    const setting = settingOf(of, index, step)
    return at === group.length - 1 ? phasesOf(setting) : [...phasesOf(setting), ...pause(setting)]
  })
}
