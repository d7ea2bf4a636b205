import { type Timetable, wishesNotMet } from '../../../core/day/index.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { Formatter } from '../../../web/format.ts'
import { stationWords } from '../../recipes/index.ts'
import { listed, sentence } from '../words.ts'
import type { TimetableRow } from './queries.ts'
import type { TableWords } from './words.ts'

/** How much it is, for how many, and when the last hands are done. */
export function leadSentences(
  { plan }: WorkedOut,
  { entries }: Timetable,
  words: TableWords,
  format: Formatter,
): string[] {
  const tasks = new Set(entries.map(({ activity }) => activity)).size
  if (tasks === 0) return ['Nothing is made in this division, so there is nothing to do.']
  const people = new Set(entries.flatMap(({ helpers }) => helpers)).size
  const ends = plan.kitchen.days.flatMap(({ date, opens, closes }) => {
    const last = entries.filter((one) => one.helpers.length > 0 && one.from >= opens && one.from < closes)
    return last.length === 0 ? [] : [`${format.day(date)} at ${words.time(Math.max(...last.map(({ to }) => to)))}`]
  })
  return [
    `${format.count(tasks, 'task')} for ${format.count(people, 'helper')}; the last hands are done ${listed(ends)}.`,
  ]
}

/** What the clock changed of the division that was asked about; empty: nothing. */
export function fittedWords(
  { fittedFrom, divisionNumber }: TimetableRow,
  { gave }: WorkedOut,
  names: (productId: string) => string,
): string[] {
  if (fittedFrom === null) return []
  const told = gave
    .filter(({ before, after }) => before !== after)
    .map(({ productId, before, after }) => `${names(productId)}: ${after} instead of ${before}`)
  return [
    `The clock did not hold division ${fittedFrom}, so it was divided again with what the timetable taught: this carries out division ${divisionNumber}.`,
    ...(told.length > 0 ? [sentence(`${told.join('; ')}.`)] : ['The same is made, on other days.']),
  ]
}

/** "No order of the work ends more than 2 % earlier." */
export function boundWords({ schedule: { makespan, lowerBound, lateness } }: WorkedOut, format: Formatter): string {
  if (makespan === 0 || lateness > 0) return ''
  if (makespan <= lowerBound) return 'Proved best: no order of this work ends earlier.'
  const gap = Math.ceil(((makespan - lowerBound) / lowerBound) * 1000) / 1000
  return `The end is within ${format.percent(gap)} of the earliest possible, counted from the first midnight.`
}

/** What is late, does not fit or cannot be done at all, each in a sentence. */
export function troubles({ plan }: WorkedOut, table: Timetable, words: TableWords, format: Formatter): string[] {
  const name = (id: string | null) => (id === null ? 'Clearing away' : words.name(id))
  const short = table.short.map(
    ({ batch, units, finished }) =>
      `${name(batch)}: ${format.number(finished)} of ${format.number(units)} are finished within the work days.`,
  )
  const late = new Map<string, number>()
  for (const { batch, day, end } of table.late) {
    if (end === null) continue
    const key = `${name(batch)} of ${format.day(plan.kitchen.days[day]?.date ?? '')}`
    late.set(key, Math.max(late.get(key) ?? 0, end))
  }
  const lacks = {
    hands: 'nobody there can do it',
    adult: 'no adult is there for it: it is hot work',
    machine: 'the machine for it is not there on that day',
  }
  return [
    ...table.impossible.map(
      ({ batch, lacks: what }) => `${words.name(batch)} is not in the timetable: ${lacks[what]}.`,
    ),
    ...short,
    ...[...late].map(([what, end]) => `${what} is not done before closing: it ends at ${words.time(end, '')}.`),
  ].map(sentence)
}

/** Whose wishes the timetable could not wholly meet, a sentence for each helper. */
export function wishLines({ plan, schedule }: WorkedOut, words: TableWords, format: Formatter): string[] {
  return wishesNotMet(plan, schedule).map(({ helper, disliked, tooLong }) => {
    const parts = [
      ...disliked.map(
        ({ station, minutes }) => `stands ${format.duration(minutes)} at a place not liked (${stationWords[station]})`,
      ),
      ...tooLong.map(
        ({ station, from, to, longest }) =>
          `has no change from ${words.time(from)} to ${words.time(to)} (${stationWords[station]}; ${format.duration(longest)} is the wish)`,
      ),
    ]
    return `${words.who([helper])} ${listed(parts)}.`
  })
}

/** Steps that no work day will see. */
export function laterLines({ plan }: WorkedOut, table: Timetable, words: TableWords): string[] {
  return table.afterwards.map(({ batch, step, units, fromMinute }) => {
    const of = plan.batches.find((one) => one.batch.id === batch)
    const lastDate = plan.kitchen.days.at(-1)?.date
    return `${words.what({ batch, units })}, from ${words.time(fromMinute, lastDate)}: ${of?.steps[step]?.step.says ?? ''}`
  })
}

/** "6 h 10 min of work on 3 days" */
export function helperSays({ helpers }: Timetable, id: string, format: Formatter): string {
  const days = helpers.find(({ helper }) => helper === id)?.days ?? []
  const worked = days.reduce((sum, { workedMinutes }) => sum + workedMinutes, 0)
  if (worked === 0) return 'nothing to do in this timetable'
  return `${format.duration(worked)} of work on ${format.count(days.filter((day) => day.workedMinutes > 0).length, 'day')}`
}
