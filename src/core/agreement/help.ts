import type { HelperAtHand, Question } from '../division/question.ts'
import type { EquipmentKind, WorkKind } from '../produce/vocabulary.ts'

/** Something that could be borrowed, asked for or agreed on. */
export type Help =
  /** One more machine of a kind, on all days. */
  | { kind: 'machine'; machine: EquipmentKind }
  /** The kitchen is open so many minutes longer on a day (its number), and whoever is there until closing stays. */
  | { kind: 'hours'; day: number; minutes: number }
  /** So many more adults with these skills, there whenever the kitchen is open. */
  | { kind: 'hands'; skills: WorkKind[]; count: number }
  /** So many more millilitres of freezer. */
  | { kind: 'freezer'; ml: number }

/**
 * The question with a help in it.
 *
 * @throws RangeError for a day that the question does not have, for minutes, millilitres or adults that are not whole and
 *   above 0, and for hours beyond midnight
 */
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
    case 'hands':
      demandAmount(help.count, 'adults')
      return { ...question, helpers: [...question.helpers, ...moreHelpers(question, help)] }
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

function moreHelpers({ days, helpers }: Question, { skills, count }: Extract<Help, { kind: 'hands' }>): HelperAtHand[] {
  const hours = days.map(({ id, opensMinute, closesMinute }) => ({
    dayId: id,
    fromMinute: opensMinute,
    toMinute: closesMinute,
  }))
  const more: HelperAtHand[] = []
  while (more.length < count) {
    more.push({ id: newId('help', [...helpers, ...more]), name: 'One more', ageBand: 'adult', skills, hours })
  }
  return more
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
