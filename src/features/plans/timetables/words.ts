import type { Entry, NotedPlan, PhasePart } from '../../../core/day/index.ts'
import { clockOf } from '../../../core/day/index.ts'
import type { EquipmentKind, Station } from '../../../core/produce/vocabulary.ts'
import type { Formatter } from '../../../web/format.ts'
import { stationWords } from '../../recipes/index.ts'
import { unitWords } from '../words.ts'
import type { Piece } from './pieces.ts'

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

/** As short as the bar of a picture needs it. */
const briefStations: Record<Station, string> = {
  wash: 'wash',
  cut: 'cut',
  press: 'press',
  stove: 'stove',
  fill: 'fill',
  canner: 'canner',
  oven: 'trays',
  freezer: 'freeze',
  label: 'label',
}
const briefParts: Record<Exclude<PhasePart, 'hands'>, string> = {
  machine: 'by itself',
  wait: 'rests',
  'come-up': 'canner',
  process: 'canner',
  settle: 'canner',
  'lift-out': 'lift out',
  'wash-jars': 'wash jars',
  'heat-jars': 'heat jars',
  'clean-up': 'clear away',
}

/** Parts in which food or jars are at boiling heat or under pressure. */
export const hotParts: readonly PhasePart[] = ['come-up', 'process', 'settle', 'lift-out', 'heat-jars']

/** Times and names in a plan, as its pages and sheets write them. */
export function tableWords(plan: NotedPlan, format: Formatter) {
  const batches = new Map(plan.batches.map((one) => [one.batch.id, one]))
  const helpers = new Map(plan.kitchen.helpers.map(({ id, name }) => [id, name]))
  const called = shortNames(plan.kitchen.helpers)
  const several = new Map(plan.kitchen.machines.map(({ kind, countByDay }) => [kind, Math.max(0, ...countByDay) > 1]))

  /** "9:40"; with the day where it is another than the one it is listed under: "9:40 on Sat 19 Sep" */
  function time(minute: number, underDate?: string): string {
    const at = clockOf(plan.kitchen, minute)
    if (at === null) return ''
    const clock = format.minuteOfDay(at.minuteOfDay)
    return underDate === undefined || underDate === at.date ? clock : `${clock} on ${format.day(at.date)}`
  }

  /** "9:40 to 10:20"; "9:40 to 10:20 AM" where both are of the same half of the day */
  function span(from: number, to: number, underDate?: string): string {
    const [begin, end] = [time(from), time(to, underDate)]
    const half = /^\d+\D\d+(\D+)$/.exec(begin)?.[1]
    return half !== undefined && end.endsWith(half) ? `${begin.slice(0, -half.length)} to ${end}` : `${begin} to ${end}`
  }

  /** "Damson jam, 8 half-pints" */
  function what({ batch: id, units }: Pick<Entry, 'batch' | 'units'>): string {
    const of = id === null ? undefined : batches.get(id)?.batch
    if (!of) return units > 0 ? format.count(units, 'jar') : 'the kitchen'
    return `${of.name}, ${unitWords(format, units, { unit: of.unit, units: of.unitsName })}`
  }

  /** "Damson jam" */
  const name = (batch: string): string => batches.get(batch)?.batch.name ?? batch.split(':')[0] ?? batch

  const stationOf = (batch: string | null, step: number | null): Station | undefined =>
    batch === null || step === null ? undefined : batches.get(batch)?.steps[step]?.step.station

  /** What is done in it, in a few words: "peeling and cutting", "the tested minutes, 45 min" */
  function does({ part, step, batch, from, to }: Pick<Entry, 'part' | 'step' | 'batch' | 'from' | 'to'>): string {
    if (part === 'process') return `${partWords.process}, ${format.duration(to - from)}`
    if (part !== 'hands') return partWords[part]
    const station = stationOf(batch, step)
    return station === undefined ? 'work' : stationWords[station]
  }

  /** The same of a piece; of a loaded canner also when its tested minutes run and when its lid may be opened. */
  function doing(piece: Piece): string {
    if (piece.parts.length === 1) return does(piece)
    const words = piece.parts.map(({ part, from, to }) => {
      if (part === 'process') return `its tested ${format.duration(to - from)} from ${span(from, to)}`
      if (part === 'come-up') return `heating up until ${time(to)}`
      if (part === 'settle') return `settling with the lid on until ${time(to)}`
      return `${does({ ...piece, part, from, to })} until ${time(to)}`
    })
    return words.join('; ')
  }

  /** "cut", "wash jars" */
  function brief({ part, step, batch }: Piece): string {
    if (part !== 'hands') return briefParts[part]
    const station = stationOf(batch, step)
    return station === undefined ? 'work' : briefStations[station]
  }

  /**
   * The recipe's own words for a step, wherever hands are in it: whoever only lifts jars out reads how long they wait
   * before. Empty where it has none.
   */
  function says({ part, step, batch }: Pick<Entry, 'part' | 'step' | 'batch'>): string {
    const hands = part === 'hands' || part === 'lift-out'
    return hands && step !== null && batch !== null ? stepSays(batch, step) : ''
  }
  const stepSays = (batch: string, step: number): string => batches.get(batch)?.steps[step]?.step.says ?? ''

  const who = (ids: readonly string[]): string => ids.map((id) => helpers.get(id) ?? id).join(', ')
  /** The same by what they are called where there is little room. */
  const whoShort = (ids: readonly string[]): string => ids.map((id) => called.get(id) ?? id).join(', ')
  const machine = ({ kind, number }: Entry['machines'][number]): string =>
    several.get(kind) ? `${machineWords[kind]} ${number}` : machineWords[kind]
  const machines = (of: Entry['machines']): string => of.map(machine).join(', ')

  return { time, span, what, name, does, doing, brief, says, stepSays, who, whoShort, machine, machines }
}

/** First names where they tell people apart. */
function shortNames(helpers: readonly { id: string; name: string }[]): Map<string, string> {
  const first = (name: string) => name.trim().split(/\s+/)[0] ?? name
  const alone = (name: string) => helpers.filter((one) => first(one.name) === first(name)).length === 1
  return new Map(helpers.map(({ id, name }) => [id, alone(name) ? first(name) : name]))
}

export type TableWords = ReturnType<typeof tableWords>
