import type { Entry, NotedPlan, PhasePart } from '../../../core/day/index.ts'
import { clockOf } from '../../../core/day/index.ts'
import type { EquipmentKind } from '../../../core/produce/vocabulary.ts'
import type { Formatter } from '../../../web/format.ts'
import { stationWords } from '../../recipes/index.ts'
import { unitWords } from '../words.ts'

const machineWords: Record<EquipmentKind, string> = {
  canner: 'canner',
  'pressure-canner': 'pressure canner',
  'steam-canner': 'steam canner',
  burner: 'burner',
  oven: 'oven',
  dehydrator: 'dehydrator',
  press: 'press',
  freezer: 'freezer',
}

const partWords: Record<Exclude<PhasePart, 'hands'>, string> = {
  machine: 'runs by itself',
  wait: 'rests',
  'come-up': 'heating up to the beginning of its time',
  process: 'the tested minutes',
  settle: 'settling before the lid is opened',
  'lift-out': 'lifting the jars out',
  'wash-jars': 'washing jars and looking them over',
  'heat-jars': 'heating jars',
  'clean-up': 'clearing away and wiping down',
}

/** Parts in which food or jars are at boiling heat or under pressure. */
export const hotParts: readonly PhasePart[] = ['come-up', 'process', 'settle', 'lift-out', 'heat-jars']

/** Times and names in a plan, as its pages and sheets write them. */
export function tableWords(plan: NotedPlan, format: Formatter) {
  const batches = new Map(plan.batches.map((one) => [one.batch.id, one]))
  const helpers = new Map(plan.kitchen.helpers.map(({ id, name }) => [id, name]))
  const several = new Map(plan.kitchen.machines.map(({ kind, countByDay }) => [kind, Math.max(0, ...countByDay) > 1]))

  /** "9:40"; with the day where it is another than the one it is listed under: "9:40 on Sat 19 Sep" */
  function time(minute: number, underDate?: string): string {
    const at = clockOf(plan.kitchen, minute)
    if (at === null) return ''
    const clock = format.minuteOfDay(at.minuteOfDay)
    return underDate === undefined || underDate === at.date ? clock : `${clock} on ${format.day(at.date)}`
  }

  /** "Damson jam, 8 half-pints" */
  function what({ batch: id, units }: Pick<Entry, 'batch' | 'units'>): string {
    const of = id === null ? undefined : batches.get(id)?.batch
    if (!of) return units > 0 ? format.count(units, 'jar') : 'the kitchen'
    return `${of.name}, ${unitWords(format, units, { unit: of.unit, units: of.unitsName })}`
  }

  /** What is done in it, in a few words: "peeling and cutting", "the tested minutes (45)". */
  function does({ part, step, batch, from, to }: Entry): string {
    if (part === 'process') return `${partWords.process}, ${format.duration(to - from)}`
    if (part !== 'hands') return partWords[part]
    const station = batch === null || step === null ? undefined : batches.get(batch)?.steps[step]?.step.station
    return station === undefined ? 'work' : stationWords[station]
  }

  /** The recipe's own words for the step; empty where it has none. */
  function says({ part, step, batch }: Entry): string {
    if (part !== 'hands' || step === null || batch === null) return ''
    return batches.get(batch)?.steps[step]?.step.says ?? ''
  }

  const who = (ids: readonly string[]): string => ids.map((id) => helpers.get(id) ?? id).join(', ')
  const machine = ({ kind, number }: Entry['machines'][number]): string =>
    several.get(kind) ? `${machineWords[kind]} ${number}` : machineWords[kind]
  const machines = (of: Entry['machines']): string => of.map(machine).join(', ')

  return { time, what, does, says, who, machine, machines }
}

export type TableWords = ReturnType<typeof tableWords>
