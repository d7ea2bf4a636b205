import type { AllocationProblem, AllocationResult, Limit, StepWorth } from '../../core/allocation/index.ts'
import type { Destination, Question, QuestionChange } from '../../core/division/index.ts'
import { productId } from '../../core/division/index.ts'
import { crop, daysBetween } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { packsOf } from './headline.ts'

/** What the things of a question are called; made once for each page. */
export type Names = {
  format: Formatter
  /** "Damson jam" and its pack's "half-pint", "half-pints" */
  product(id: string): { name: string; unit: string; units: string }
  /** "14 half-pints" */
  units(id: string, many: number): string
  /** "Saturday" while a weekday says which; else with its date */
  day(number: number): string
  crops(keys: readonly string[]): string
  material(id: string): string
  machine(id: string): { one: string; more: string; count: number }
  supply(id: string): { name: string; packSize: number; unit: string }
  destination(to: Destination): string
  budget: number | null
  days: number
}

export function namesOf(question: Question, problem: AllocationProblem, coop: CoopWays): Names {
  const format = formatFor(coop)
  const packs = new Map(packsOf(question).map(({ recipe, pack }) => [productId(recipe.id, pack.key), { recipe, pack }]))
  const product = (id: string) => {
    const found = packs.get(id)
    return found
      ? { name: found.recipe.name, unit: found.pack.unit, units: found.pack.units }
      : { name: id, unit: 'unit', units: 'units' }
  }
  const days = dayNames(problem.days, format, coop.locale)
  return {
    format,
    product,
    units: (id, many) => unitWords(format, many, product(id)),
    day: (number) => days[number] ?? `day ${number + 1}`,
    crops: (keys) => listed(keys.map((key) => crop(key)?.plural ?? key)),
    material: (id) => problem.materials.find((material) => material.id === id)?.name ?? id,
    machine: (id) => ({
      ...(machineWords[id] ?? { one: id, more: `${id}s` }),
      count: problem.machines.find((machine) => machine.id === id)?.count ?? 0,
    }),
    supply: (id) => {
      const supply = problem.supplies.find((one) => one.id === id)
      return { name: supply?.name ?? id, packSize: supply?.packSize ?? 1, unit: supply?.unit ?? '' }
    },
    destination: (to) =>
      to === 'kept'
        ? 'kept for later'
        : to === 'lost'
          ? 'lost'
          : (problem.outlets.find(({ id }) => id === to.outletId)?.name ?? to.outletId),
    budget: problem.budget,
    days: problem.days.length,
  }
}

/**
 * What is made of a product and why not more: "14 quarts" and "the canner is full on Saturday". Takes a reason of the
 * answer; `because` is '' where none is given, and has no full stop.
 */
export function whyNotMore(
  names: Names,
  { productId: id, units, limits }: { productId: string; units: number; limits: Limit[] },
): { made: string; because: string } {
  return {
    made: units === 0 ? 'None' : names.units(id, units),
    because: [...limits]
      .sort((a, b) => tellingOrder.indexOf(a.kind) - tellingOrder.indexOf(b.kind))
      .map((limit) => limitWords(names, limit))
      .join('; '),
  }
}

/** What a cook can see comes first. */
const tellingOrder: readonly Limit['kind'][] = [
  'wish',
  'produce',
  'material',
  'machine',
  'work',
  'room',
  'supply',
  'budget',
  'run-fill',
  'worth',
]

/** One limit in a cook's words, without a full stop. */
export function limitWords(names: Names, limit: Limit): string {
  switch (limit.kind) {
    case 'wish':
      return 'that is as many as you wished for at most'
    case 'produce':
      return `the ${names.crops(limit.crops)} that suit it are spoken for`
    case 'material':
      return `there is no more ${names.material(limit.materialId)} for it`
    case 'machine':
      return machineFull(names, limit.machineId, limit.days)
    case 'work':
      return `nobody has time left for ${listed(
        limit.skills.map((skill) => workWords[skill] ?? skill),
        'or',
      )} ${onDays(names, limit.days)}`
    case 'room':
      return 'the freezer is full'
    case 'supply':
      return `no more ${names.supply(limit.supplyId).name} can be had`
    case 'budget':
      return names.budget === null
        ? 'it would cost too much'
        : `one more would go over the ${names.format.money(names.budget)} that may be spent`
    case 'run-fill':
      return `what is left would not fill enough of a load ${onDays(names, limit.days)}`
    case 'worth':
      return 'what one more takes is worth more elsewhere'
  }
}

/** What one step more would bring: "One more hour of the canner on Sat 19 Sep: 7 quarts more of Apple sauce." */
export function stepWords(names: Names, { step, unitsChanged, gain }: StepWorth): string {
  const changes = unitsChanged.map(({ productId: id, units }) => {
    const count = names.units(id, Math.abs(units))
    return `${count} ${units > 0 ? 'more' : 'fewer'} of ${names.product(id).name}`
  })
  const brings = changes.length > 0 ? listed(changes) : `${names.format.money(Math.round(gain))} in worth`
  return `${stepOf(names, step)}: ${brings}.`
}

/** How good the division is: "Proved best" only where it is. */
export function provedWords(format: Formatter, result: Pick<AllocationResult, 'status' | 'gap' | 'elapsedMs'>): string {
  const { status, gap } = result
  const seconds = format.count(Math.max(1, Math.round(result.elapsedMs / 1000)), 'second')
  // Rounded up: what is claimed is never more than was proved.
  const within = Number.isFinite(gap)
    ? `within ${format.percent(Math.ceil(gap * 1000) / 1000)} of the best possible`
    : null
  switch (status) {
    case 'proved':
      return 'Proved best: no other division of this produce is worth more.'
    case 'limit':
      return within
        ? `The best found in ${seconds}: ${within}.`
        : `The best found in ${seconds}. How far it is from the best possible is not known.`
    case 'stopped':
      return within
        ? `Stopped by hand: ${within}.`
        : 'Stopped by hand. How far it is from the best possible is not known.'
    case 'fallback':
      return 'Divided by the plain rule, the best gain first, as the solver gave no answer. How far it is from the best possible is not known.'
  }
}

/** What is different in the second of two questions, one phrase each. */
export function changeWords(format: Formatter, change: QuestionChange): string {
  if (change.kind === 'wish') return wishChange(format, change)
  if (change.kind === 'budget') {
    if (change.after === null) return 'the budget has no limit any more'
    return change.before === null
      ? `no more than ${format.money(change.after)} may be spent`
      : `${format.money(change.after)} may be spent instead of ${format.money(change.before)}`
  }
  const name = change.kind === 'day' ? format.day(change.name) : change.name
  if (change.kind === 'outlet') {
    return change.how === 'changed' ? `${name} was changed` : `${name} is ${change.how === 'added' ? 'open' : 'closed'}`
  }
  if (change.kind === 'lot' && change.how === 'changed') return `${name} were sorted or stored anew`
  return `${name} ${change.how === 'added' ? 'came in' : change.how === 'left-out' ? 'is left out' : 'was changed'}`
}

/** "a, b and c" */
export function listed(words: readonly string[], join = 'and'): string {
  if (words.length <= 1) return words[0] ?? ''
  return `${words.slice(0, -1).join(', ')} ${join} ${words.at(-1)}`
}

/** The same text, its first letter large. */
export function sentence(text: string): string {
  return text === '' ? '' : `${text[0]?.toUpperCase()}${text.slice(1)}`
}

/** "14 quarts"; what begins with a figure is counted with a sign: "6 × 200 g bag". */
export function unitWords(format: Formatter, many: number, { unit, units }: { unit: string; units: string }): string {
  return /^\d/.test(unit) ? `${format.number(many)} × ${unit}` : format.count(many, unit, units)
}

function dayNames(dates: readonly string[], format: Formatter, locale: string): string[] {
  const [first, last] = [dates[0], dates.at(-1)]
  const sameWeek = first !== undefined && last !== undefined && daysBetween(first, last) < 7
  const weekday = new Intl.DateTimeFormat(locale, { timeZone: 'UTC', weekday: 'long' })
  return dates.map((date) => (sameWeek ? weekday.format(new Date(`${date}T00:00:00Z`)) : format.day(date)))
}

const machineWords: Record<string, { one: string; more: string }> = {
  canner: { one: 'canner', more: 'canners' },
  'pressure-canner': { one: 'pressure canner', more: 'pressure canners' },
  'steam-canner': { one: 'steam canner', more: 'steam canners' },
  burner: { one: 'burner', more: 'burners' },
  oven: { one: 'oven', more: 'ovens' },
  dehydrator: { one: 'dehydrator', more: 'dehydrators' },
  press: { one: 'press', more: 'presses' },
}

export const workWords: Record<string, string> = {
  wash: 'washing',
  cut: 'peeling and cutting',
  stove: 'the stove',
  fill: 'filling jars',
  pack: 'packing',
}

function machineFull(names: Names, id: string, days: readonly number[]): string {
  const { one, more, count } = names.machine(id)
  if (count === 0) return `the kitchen has no ${one}`
  return count === 1 ? `the ${one} is full ${onDays(names, days)}` : `the ${more} are full ${onDays(names, days)}`
}

function onDays(names: Names, days: readonly number[]): string {
  if (days.length === names.days && days.length > 2) return 'on every work day'
  return `on ${listed(days.map((day) => names.day(day)))}`
}

function stepOf(names: Names, step: StepWorth['step']): string {
  switch (step.kind) {
    case 'machine':
      return `${names.format.duration(step.minutes)} more of a ${names.machine(step.machineId).one} on ${names.day(step.day)}`
    case 'work':
      return `${names.format.duration(step.minutes)} more of somebody for ${workWords[step.skill] ?? step.skill} on ${names.day(step.day)}`
    case 'room':
      return `${names.format.volume(step.ml)} more room in the freezer`
    case 'supply':
      return `${names.format.count(step.packs, 'more pack', 'more packs')} of ${names.supply(step.supplyId).name}`
  }
}

function wishChange(format: Formatter, change: Extract<QuestionChange, { kind: 'wish' }>): string {
  const { recipe, pack, before, after } = change
  const what = `${recipe} (${pack})`
  if (after === null) return `${what} is no longer wished for`
  const range = (wish: NonNullable<typeof after>) =>
    `about ${format.number(wish.about)}, from ${format.number(wish.atLeast)} to ${format.number(wish.atMost)}`
  if (before === null) return `${what} is wished for: ${range(after)}`
  return range(before) === range(after)
    ? `${what} matters ${['', 'a little', 'fairly', 'very much'][after.matters]}`
    : `${what}: ${range(after)} instead of ${range(before)}`
}
