import { solveAllocation } from '../allocation/index.ts'
import { askDivision } from '../division/ask.ts'
import type { HelperAtHand, Question } from '../division/question.ts'
import type { EquipmentKind, WorkKind } from '../produce/vocabulary.ts'
import { type Agreement, type AgreeOptions, agree } from './agree.ts'

/** Something that could be borrowed, asked for or agreed on. */
export type Help =
  /** One more machine of a kind, on all days. */
  | { kind: 'machine'; machine: EquipmentKind }
  /** The kitchen is open so many minutes longer on a day (its number), and whoever is there until closing stays. */
  | { kind: 'hours'; day: number; minutes: number }
  /** One more adult with these skills, there whenever the kitchen is open. */
  | { kind: 'hands'; skills: WorkKind[] }
  /** So many more millilitres of freezer. */
  | { kind: 'freezer'; ml: number }

export type HelpWorth = {
  help: Help
  /** How much more the agreed division with the help is worth, minor units. */
  gain: number
  /** Those that change. */
  unitsChanged: { productId: string; units: number }[]
  /** Minutes by which the last hands of the plan end earlier, summed over its work days; negative: they end later. */
  minutesSaved: number
}

/**
 * What each help would be worth on the clock: the question with it, without what timetables taught, divided and agreed
 * anew, less the agreement there is. In descending order of gain. Told only where it holds and where the gain is larger
 * than both divisions' gaps together, so that it is no accident of the search; the gaps are those to the best division
 * within each one's cuts, so what the search for schedules may have missed is not in them.
 *
 * @throws RangeError for a day that the question does not have, for minutes or millilitres that are not whole and above
 *   0, and for hours beyond midnight
 */
export async function worthOfHelp(
  question: Question,
  agreement: Agreement,
  candidates: readonly Help[],
  options: AgreeOptions,
): Promise<HelpWorth[]> {
  const { clock: _taught, ...asked } = question
  const changed = candidates.map((help) => ({ help, question: withHelp(asked, help) }))
  const worths: HelpWorth[] = []
  for (const { help, question: helped } of changed) {
    if (options.stop?.()) break
    const divided = await solveAllocation(askDivision(helped), options.allocation)
    const found = await agree(helped, divided, options)
    const gain = found.result.objective - agreement.result.objective
    const gaps = gapOf(agreement) + gapOf(found)
    if (!found.holds || !(gain > gaps + 1e-6 * Math.max(1, Math.abs(agreement.result.objective)))) continue
    worths.push({
      help,
      gain,
      unitsChanged: unitsChanged(agreement, found),
      minutesSaved: lastHands(agreement) - lastHands(found),
    })
  }
  return worths.sort((a, b) => b.gain - a.gain)
}

/** The question with a help in it; what is refused is told at `worthOfHelp`. */
export function withHelp(question: Question, help: Help): Question {
  switch (help.kind) {
    case 'machine':
      return { ...question, equipment: [...question.equipment, oneMore(question, help.machine)] }
    case 'freezer':
      demandAmount(help.ml, 'millilitres')
      return {
        ...question,
        equipment: [...question.equipment, { ...oneMore(question, 'freezer'), roomMl: help.ml }],
      }
    case 'hands': {
      const hours = question.days.map(({ id, opensMinute, closesMinute }) => ({
        dayId: id,
        fromMinute: opensMinute,
        toMinute: closesMinute,
      }))
      const helper: HelperAtHand = {
        id: newId('help', question.helpers),
        name: 'One more',
        ageBand: 'adult',
        skills: help.skills,
        hours,
      }
      return { ...question, helpers: [...question.helpers, helper] }
    }
    case 'hours':
      return withHours(question, help)
  }
}

function withHours(question: Question, { day: number, minutes }: { day: number; minutes: number }): Question {
  demandAmount(minutes, 'minutes')
  const day = question.days[number]
  if (!day) throw new RangeError(`there is no work day ${number}`)
  const closesMinute = day.closesMinute + minutes
  if (closesMinute > 24 * 60) throw new RangeError(`${minutes} minutes more would end after midnight`)
  return {
    ...question,
    days: question.days.map((one) => (one === day ? { ...one, closesMinute } : one)),
    helpers: question.helpers.map((helper) => ({
      ...helper,
      hours: helper.hours.map((span) =>
        span.dayId === day.id && span.toMinute >= day.closesMinute
          ? { ...span, toMinute: Math.max(span.toMinute, closesMinute) }
          : span,
      ),
    })),
  }
}

/** Like those of its kind that are there already; where there are none, within the opening hours. */
function oneMore({ equipment }: Question, kind: EquipmentKind): Question['equipment'][number] {
  const alike = equipment.find((one) => one.kind === kind)
  const id = newId(`more-${kind}`, equipment)
  if (alike) return { ...alike, id, count: 1, outOn: [] }
  const aroundTheClock = kind === 'freezer' || kind === 'dehydrator'
  return { id, kind, name: kind, count: 1, roomMl: null, aroundTheClock, outOn: [] }
}

function newId(wanted: string, things: readonly { id: string }[]): string {
  let id = wanted
  while (things.some((one) => one.id === id)) id += '+'
  return id
}

function demandAmount(amount: number, of: string): void {
  if (!(Number.isSafeInteger(amount) && amount > 0)) throw new RangeError(`${amount} is no number of ${of}`)
}

function gapOf({ result }: Agreement): number {
  return result.bound - result.objective
}

function unitsChanged(before: Agreement, after: Agreement): HelpWorth['unitsChanged'] {
  const units = ({ result }: Agreement, id: string) =>
    result.batches.reduce((sum, one) => sum + (one.productId === id ? one.units : 0), 0)
  const all = [...before.result.batches, ...after.result.batches].map(({ productId }) => productId)
  return [...new Set(all)]
    .map((productId) => ({ productId, units: units(after, productId) - units(before, productId) }))
    .filter((one) => one.units !== 0)
}

/** When the last hands of each work day end, minutes after its opening, added up. */
function lastHands({ plan: { kitchen }, timetable }: Agreement): number {
  return kitchen.days.reduce((sum, { opens, closes }) => {
    const ends = timetable.entries
      .filter(({ helpers, from }) => helpers.length > 0 && from >= opens && from < closes)
      .map(({ to }) => to - opens)
    return sum + Math.max(0, ...ends)
  }, 0)
}
