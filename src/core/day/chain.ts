import type { Batch, BatchStep } from './batch.ts'
import type { Kitchen } from './kitchen.ts'
import { isHot, type MeantPhase, machinesOf, pause, phasesOf, type Setting } from './phases.ts'
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
    held: [],
  }
}

/**
 * The phases of steps that follow each other without a pause. Where a load takes several pots, they are cooked one
 * after the other and each is filled at once; the canner holds what is filled already until it is full.
 */
export function chainOf(of: ChainOf, group: Group, load: BatchStep['run']): MeantPhase[] {
  const loadAt = group.findIndex(({ step }) => step.run !== null && step.run === load)
  const potAt = group.findIndex(({ step }, at) => step.run !== null && at !== loadAt)
  const first = group[potAt]
  const pots = first?.step.run ? (of.portion.starts.get(first.step.run) ?? 0) : 0
  if (pots < 2) return group.flatMap(({ index, step }, at) => phases(of, index, step, at === group.length - 1))
  const end = loadAt > potAt ? loadAt : group.length
  const canner = group[loadAt]?.step
  const repeated = Array.from({ length: pots }, (_, pot) => pot).flatMap((pot) =>
    group.slice(potAt, end).flatMap(({ index, step }, at) => {
      const setting = settingOf(of, index, step)
      const held = pot > 0 && canner ? machinesOf(canner).filter((kind) => kind !== 'burner') : []
      const here = share(of.portion, pots, pot)
      const starts = step === first?.step ? 1 : pot === 0 ? setting.starts : 0
      const made = phasesOf({ ...setting, ...here, starts, held })
      return at === end - potAt - 1 && end === group.length && pot === pots - 1 ? made : [...made, ...pause(setting)]
    }),
  )
  return [
    ...group.slice(0, potAt).flatMap(({ index, step }) => phases(of, index, step, false)),
    ...repeated,
    ...group.slice(end).flatMap(({ index, step }, at) => phases(of, index, step, end + at === group.length - 1)),
  ]
}

function phases(of: ChainOf, index: number, step: BatchStep, last: boolean): MeantPhase[] {
  const setting = settingOf(of, index, step)
  return last ? phasesOf(setting) : [...phasesOf(setting), ...pause(setting)]
}

/** The part of a portion that is in one of its pots. */
function share({ units, grams }: Portion, pots: number, pot: number): { units: number; grams: number } {
  const here = Math.ceil(((pot + 1) * units) / pots) - Math.ceil((pot * units) / pots)
  return { units: here, grams: (grams * here) / units }
}
