import type { Question } from '../../src/core/division/index.ts'
import { dateAfter } from '../../src/core/produce/index.ts'
import { demonstrationQuestion } from './demonstration-question.ts'

const days = 10
/** So many of each lot, each a little larger than the one before. */
const lotsOfEach = 4
/** Of the hours that each helper has in the demonstration. */
const shareOfHours = 0.3

/**
 * The demonstration's question made large and short of hands: after 40 s its best division was still 0.4 % below the
 * bound, so that whatever ends within a few seconds was told to. The demonstration's own is proved within two.
 */
export function longQuestion(): Question {
  const question = demonstrationQuestion()
  const [first] = question.days
  if (!first) throw new Error('the demonstration has work days')
  const usual = (number: number) => question.days[number % question.days.length] ?? first
  const longDays = Array.from({ length: days }, (_, number) => ({
    ...usual(number),
    id: `day-${number}`,
    date: dateAfter(first.date, number),
  }))
  return {
    ...question,
    days: longDays,
    lots: Array.from({ length: lotsOfEach }, (_, copy) =>
      question.lots.map((lot) => ({
        ...lot,
        id: `${lot.id}-${copy}`,
        name: `${lot.name} ${copy + 1}`,
        grams: {
          firm: larger(lot.grams.firm, copy),
          ripe: larger(lot.grams.ripe, copy),
          soft: larger(lot.grams.soft, copy),
          damaged: larger(lot.grams.damaged, copy),
        },
      })),
    ).flat(),
    helpers: question.helpers.map((helper) => ({
      ...helper,
      breaks: [],
      hours: longDays.flatMap(({ id }, number) => {
        const span = helper.hours.find(({ dayId }) => dayId === usual(number).id)
        if (!span) return []
        const minutes = Math.round((span.toMinute - span.fromMinute) * shareOfHours)
        return [{ dayId: id, fromMinute: span.fromMinute, toMinute: span.fromMinute + minutes }]
      }),
    })),
    supplies: question.supplies.map((supply) => ({
      ...supply,
      onHand: supply.onHand * 6,
      packsAtMost: supply.packsAtMost * 6,
    })),
    wishes: question.wishes.map((wish) => ({ ...wish, about: wish.about * 4, atMost: wish.atMost * 8 })),
  }
}

function larger(grams: number, copy: number): number {
  return Math.round(grams * (1 + 0.13 * copy))
}
