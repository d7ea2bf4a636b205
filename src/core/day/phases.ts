import { boilingWaterFigures, loadMinutes, pressureFigures } from '../process/pressure-practice.ts'
import type { EquipmentKind } from '../produce/vocabulary.ts'
import type { Step } from '../recipes/recipe.ts'
import type { Phase } from '../scheduling/problem.ts'
import type { Batch, BatchStep } from './batch.ts'
import { canners as cannerKinds, partsEach, partsFor } from './burners.ts'
import { crewOf, wholeMinutes } from './crew.ts'
import type { Kitchen, MachineKind } from './kitchen.ts'
import type { PhaseMeaning, PhasePart } from './plan.ts'

/** A phase of the problem together with what it means. */
export type MeantPhase = { phase: Phase; means: PhaseMeaning }

/** Where and on which day a step is done, and what of. */
export type Setting = {
  kitchen: Kitchen
  day: number
  process: Batch['process']
  index: number
  step: BatchStep
  hot: boolean
  units: number
  grams: number
  /** Starts of the step's own run. */
  starts: number
}

/** Machines at which it is hot, or under pressure. */
const hotMachines: readonly EquipmentKind[] = ['canner', 'pressure-canner', 'steam-canner', 'burner', 'oven']
const canners: readonly EquipmentKind[] = cannerKinds
/** Machines that work by themselves while a step waits. A burner is off while something rests. */
const solo: readonly EquipmentKind[] = ['dehydrator', 'oven']
/** What stands this long after the stove is no longer hot: common practice, no source. */
const cooledMinutes = 120
/** A pot with less than this beside its hands is heated up in it; more is simmering between two stirs. Our choice. */
const heatingUpMinutes = 15

/** Whether a step is hot work: at a stove, oven or canner, or pressing and filling what comes from there. */
export function isHot(steps: readonly { step: Step }[], index: number): boolean {
  const step = steps[index]?.step
  if (!step) return false
  if (step.station === 'stove' || step.station === 'canner') return true
  if (step.equipment.some((kind) => hotMachines.includes(kind))) return true
  const before = steps[index - 1]?.step
  if (before?.thenAtOnce === true && isHot(steps, index - 1)) return true
  if (step.station === 'fill' && (step.thenAtOnce || before?.thenAtOnce === true)) return true
  return (step.station === 'fill' || step.station === 'press') && isStillHot(steps, index)
}

/** Whether what comes to a step was hot and has neither stood for long nor been rinsed cold since. */
function isStillHot(steps: readonly { step: Step }[], index: number): boolean {
  let waited = 0
  for (let number = index - 1; number >= 0; number--) {
    const step = steps[number]?.step
    if (!step || step.station === 'wash') return false
    waited += step.waitMinutes
    if (waited >= cooledMinutes) return false
    if (isHot(steps, number)) return true
  }
  return false
}

/** Minutes of one pair of hands that a step takes; a load without a run of its own is counted once. */
export function handMinutes({
  step,
  starts,
  units,
  grams,
}: Pick<Setting, 'step' | 'starts' | 'units' | 'grams'>): number {
  const { perKg, perUnit, perRun } = step.step.minutes
  return (perKg * grams) / 1000 + perUnit * units + perRun * (step.run === null ? 1 : starts)
}

/** Machines that a step keeps busy; a freezer is room, which the division counts. */
export function machinesOf({ step, run }: BatchStep): EquipmentKind[] {
  const kinds = run === null ? step.equipment : (Object.keys(run.machineMinutes) as EquipmentKind[])
  return kinds.filter((kind) => kind !== 'freezer')
}

/** Whether the last phase of a step is a machine at work by itself, which may go on when the kitchen is closed. */
export function runsAlone(step: BatchStep): boolean {
  return step.run !== null && machinesOf(step).some((kind) => solo.includes(kind))
}

/** Minutes of waiting that are left when the step's own phases are over. */
export function waitAfter(step: BatchStep): number {
  const { waitMinutes } = step.step
  return wholeMinutes(runsAlone(step) ? Math.max(0, waitMinutes - longest(step)) : waitMinutes)
}

/** The phases of a step, back to back, without the waiting after it. Phases of no minutes are left out. */
export function phasesOf(at: Setting): MeantPhase[] {
  const { step, starts, units } = at
  const hands = handMinutes(at)
  const kinds = machinesOf(step)
  if (step.run !== null && starts > 0) {
    const together = sideBySide(at, kinds)
    const machine = wholeMinutes(longest(step) * Math.ceil(starts / together))
    if (kinds.some((kind) => canners.includes(kind))) return load(at, hands, machine)
    if (runsAlone(step)) return [...work(at, hands, []), ...alone(at, 'machine', machine, kinds, together)]
    return pot(at, hands, machine, kinds, together)
  }
  if (step.run === null && step.machineMinutesPerUnit > 0) {
    return pot(at, hands, wholeMinutes(step.machineMinutesPerUnit * units), kinds)
  }
  return work(at, hands, step.run === null ? kinds : [])
}

/** The minutes of a run's machines; the longest counts for all of them. */
function longest({ run }: BatchStep): number {
  return Math.max(0, ...Object.values(run?.machineMinutes ?? {}))
}

/** Starts for one portion are made at the same time, as many as there are machines on that day. */
function sideBySide({ kitchen, day, starts }: Setting, kinds: readonly EquipmentKind[]): number {
  const counts = kinds.map((kind) => {
    const { machines } = kitchen
    const there = machines.find((one) => one.kind === kind)?.countByDay[day] ?? 1
    return Math.floor((there * partsEach(machines, kind)) / partsFor(machines, kind, kinds))
  })
  return Math.max(1, Math.min(starts, ...counts))
}

/**
 * Pots or a press: hands at the beginning and the end, alone between; a short rest is the heating up. Several pots for
 * one load have as many cooks as are there together; what is done first is kept hot, and all is filled together.
 */
function pot(at: Setting, hands: number, machine: number, kinds: EquipmentKind[], many = 1): MeantPhase[] {
  const wanted = at.step.step.hands * many
  const stretch = (part: number) => work(at, part, kinds, 'hands', wanted, many)
  const attended = stretch(hands)
  const rest = machine - minutesIn(attended)
  if (rest <= 0) return attended
  if (attended.length === 0) return alone(at, 'machine', machine, kinds, many)
  const unattended = alone(at, 'machine', rest, kinds, many)
  return rest < heatingUpMinutes
    ? [...unattended, ...attended]
    : [...stretch(hands / 2), ...unattended, ...stretch(hands / 2)]
}

/**
 * A canner load: somebody at its beginning and at its end, the canner alone while it comes up, for the tested minutes
 * and while it settles. The load's minutes are the recipe's; coming up and settling are the published ranges' middle as
 * far as that leaves room, and settling is never less than the published least, which then makes the load longer. What
 * the kitchen has stated of its canners takes the place of both, but undercuts neither the published least of settling
 * nor that of venting.
 */
function load(at: Setting, hands: number, machine: number): MeantPhase[] {
  const kinds = machinesOf(at.step)
  const [first, last] = [work(at, hands / 2, kinds), work(at, hands / 2, kinds, 'lift-out')]
  const left = machine - minutesIn(first) - minutesIn(last)
  if (at.process === null) return [...first, ...alone(at, 'machine', left, kinds), ...last]
  const { method, minutes } = at.process
  const { comeUpMinutes, coolDownMinutes } = statedOf(at.kitchen, kinds)
  const [soonest, least] = leastOf(kinds)
  const settling = Math.max(least, coolDownMinutes ?? 0)
  const heat = loadMinutes(method, minutes).heat - minutesIn(first)
  const beside = left - minutes
  const comeUp =
    comeUpMinutes === undefined
      ? Math.max(0, soonest - minutesIn(first), Math.min(heat, beside - settling))
      : Math.max(leastVenting(kinds), comeUpMinutes - minutesIn(first))
  // Without a stated cool-down the rest of the recipe's minutes is settling, so that the load is no shorter than it says.
  const settle = coolDownMinutes === undefined ? Math.max(settling, beside - comeUp) : settling
  return [
    ...first,
    ...alone(at, 'come-up', comeUp, kinds),
    ...alone(at, 'process', minutes, kinds),
    ...alone(at, 'settle', settle, kinds),
    ...last,
  ]
}

/** What is stated of the canner among some machines, in whole minutes. */
function statedOf(
  { machines }: Pick<Kitchen, 'machines'>,
  kinds: readonly EquipmentKind[],
): Pick<MachineKind, 'comeUpMinutes' | 'coolDownMinutes'> {
  return machines.find(({ kind }) => canners.includes(kind) && kinds.includes(kind)) ?? {}
}

/** Minutes of steady steam before a pressure canner is closed; nothing for the others. */
function leastVenting(kinds: readonly EquipmentKind[]): number {
  return kinds.includes('pressure-canner') ? pressureFigures.vent.least : 0
}

/** The published least of coming up, hands at the beginning included, and of settling. */
function leastOf(kinds: readonly EquipmentKind[]): [comeUp: number, settle: number] {
  if (!kinds.includes('pressure-canner')) return [boilingWaterFigures.heatUp.least, boilingWaterFigures.waitAfter.least]
  const { heatUp, vent, pressurise, coolBeforeOpening } = pressureFigures
  return [heatUp.least + vent.least + pressurise.least, coolBeforeOpening.least]
}

/** A stretch of hands at a step, with the machines that are busy meanwhile. */
export function work(
  at: Setting,
  hands: number,
  kinds: readonly EquipmentKind[],
  part: PhasePart = 'hands',
  wanted = at.step.step.hands,
  machines = 1,
): MeantPhase[] {
  const { kitchen, day, step, hot } = at
  const kind = step.step.work
  if (kind === null || !(hands > 1e-6)) return []
  const crew = crewOf(kitchen, day, kind, { hot, hands: Math.max(1, wanted), handMinutes: hands })
  return [
    meant(at, part, {
      minutes: crew.minutes,
      people: crew.people,
      resources: { ...ofEach(kitchen, day, kinds, machines), ...counter(at, crew.count) },
    }),
  ]
}

function alone(
  at: Setting,
  part: PhasePart,
  minutes: number,
  kinds: readonly EquipmentKind[],
  machines = 1,
): MeantPhase[] {
  const resources = ofEach(at.kitchen, at.day, kinds, machines)
  return minutes > 0 ? [meant(at, part, { minutes, resources })] : []
}

/** A pause within a chain. */
export function pause(at: Setting): MeantPhase[] {
  return alone(at, 'wait', waitAfter(at.step), [])
}

function meant({ index, units }: Setting, part: PhasePart, phase: Phase): MeantPhase {
  return { phase, means: { part, step: index, units } }
}

/**
 * So many of each machine, and of the day's own where fewer can be used on that day than on another. Burners are counted
 * in their parts; what a canner covers none of is not there.
 */
export function ofEach(
  { machines }: Pick<Kitchen, 'machines'>,
  day: number,
  kinds: readonly EquipmentKind[],
  many = 1,
): Record<string, number> {
  const result: Record<string, number> = {}
  for (const kind of kinds) {
    const units = many * partsFor(machines, kind, kinds)
    if (units === 0) continue
    result[kind] = units
    const found = machines.find((machine) => machine.kind === kind)
    if (found && (found.countByDay[day] ?? 0) < Math.max(...found.countByDay)) result[`${kind}@${day}`] = units
  }
  return result
}

function counter({ kitchen, step }: Setting, count: number): Record<string, number> {
  const there = ['wash', 'cut', 'fill', 'label'].includes(step.step.station)
  return kitchen.counterPlaces === null || !there ? {} : { counter: Math.min(count, kitchen.counterPlaces) }
}

export function minutesIn(phases: readonly MeantPhase[]): number {
  return phases.reduce((sum, { phase }) => sum + phase.minutes, 0)
}
