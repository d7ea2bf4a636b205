import type { NotedPlan, Timetable } from '../../../core/day/index.ts'
import type { Station } from '../../../core/produce/vocabulary.ts'
import type { Formatter } from '../../../web/format.ts'
import { entriesOf, nightOf } from './days.ts'
import { type Looks, looksOf } from './looks.ts'
import type { DayPicture } from './picture.ts'
import { type Piece, piecesOf } from './pieces.ts'
import type { TableWords } from './words.ts'

/** What is put down for no longer than this is one line on the wall, in minutes. Our choice. */
const pauseMinutes = 10

/** Stations that follow each other at the same bench are one line. */
const stages: Partial<Record<Station, string>> = {
  wash: 'prepare',
  cut: 'prepare',
  press: 'prepare',
  fill: 'jars',
  canner: 'jars',
}

/** Work on a batch at one place, with everybody who is in it at any time. */
type Stretch = { pieces: Piece[]; from: number; to: number }

/** A day's part of the sheet for the wall, in as few lines as tell who stands where, when. */
export function wallDays(
  plan: NotedPlan,
  table: Timetable,
  words: TableWords,
  pictures: readonly (DayPicture | null)[],
  format: Formatter,
) {
  const looks = looksOf(plan)
  return plan.kitchen.days.flatMap(({ date }, number) => {
    const stretches = stretchesOf(piecesOf(entriesOf(plan, number, table.entries)))
    if (stretches.length === 0) return []
    return {
      day: format.day(date),
      picture: pictures[number] ?? null,
      rows: stretches.map((one) => rowOf(plan, one, words, looks, date)),
      ...nightOf(plan, table, number, words),
    }
  })
}

function stretchesOf(pieces: readonly Piece[]): Stretch[] {
  const found: Stretch[] = []
  for (const piece of pieces) {
    const same = found.findLast(
      (one) => one.pieces.some((other) => placeOf(other) === placeOf(piece)) && one.to + pauseMinutes >= piece.from,
    )
    if (same === undefined) {
      found.push({ pieces: [piece], from: piece.from, to: piece.to })
      continue
    }
    same.pieces.push(piece)
    same.to = Math.max(same.to, piece.to)
  }
  return found
}

function placeOf({ batch, station, part }: Piece): string {
  return JSON.stringify([
    batch,
    station === null ? (batch === null && part !== 'clean-up' ? 'jars' : part) : (stages[station] ?? station),
  ])
}

function rowOf(plan: NotedPlan, { pieces, from, to }: Stretch, words: TableWords, looks: Looks, date: string) {
  const [first] = pieces
  if (first === undefined) throw new RangeError('a line on the wall is of one piece at least')
  const hands = pieces.filter(({ helpers }) => helpers.length > 0)
  const does = [...new Set((hands.length > 0 ? hands : pieces).map(words.brief))].join(', ')
  return {
    letter: looks(first.batch).letter,
    when: words.span(from, to, date),
    what: whatOf(plan, pieces, first, words),
    does: [does, ...notesOf(pieces, words)].join('; '),
    who: whoOf(plan, hands, words),
    alone: hands.length === 0,
  }
}

/**
 * Everybody in it; of a child also what it does where the line has other work too, so that nobody reads "wash, cut" as
 * leave to hand it a knife: "Ines, Wilfred; Bea: wash only".
 */
function whoOf(plan: NotedPlan, hands: readonly Piece[], words: TableWords): string {
  const kinds = new Set(hands.map(words.brief)).size
  const everybody = [...new Set(hands.flatMap(({ helpers }) => helpers))]
  const does = (helper: string) => [
    ...new Set(hands.filter(({ helpers }) => helpers.includes(helper)).map(words.brief)),
  ]
  const isPart = (helper: string) =>
    plan.kitchen.helpers.some(({ id, ageBand }) => id === helper && ageBand === 'child') && does(helper).length < kinds
  return [
    words.whoShort(everybody.filter((one) => !isPart(one))),
    ...everybody.filter(isPart).map((one) => `${words.whoShort([one])}: ${does(one).join(', ')} only`),
  ]
    .filter((part) => part !== '')
    .join('; ')
}

/** Units only where they are not the whole batch: the key has those. */
function whatOf(plan: NotedPlan, pieces: readonly Piece[], { batch, units }: Piece, words: TableWords): string {
  if (batch === null) return words.what({ batch, units })
  const portions = new Map(pieces.flatMap((one) => [...one.portions]))
  const of = [...portions.values()].reduce((sum, many) => sum + many, 0)
  const whole = plan.batches.find((one) => one.batch.id === batch)?.batch.units
  return of === whole ? words.name(batch) : words.what({ batch, units: of })
}

/** The tested minutes and the lid of each load, and what runs on by itself at the end. */
function notesOf(pieces: readonly Piece[], words: TableWords): string[] {
  const loads = pieces.flatMap(({ parts }) => (parts.some(({ part }) => part === 'process') ? [parts] : []))
  const tested = loads.map((parts) =>
    parts
      .flatMap(({ part, from, to }) => {
        if (part === 'process') return [`tested minutes ${words.span(from, to)}`]
        return part === 'settle' ? [`lid on until ${words.time(to)}`] : []
      })
      .join(', '),
  )
  const last = pieces.at(-1)
  const runs = last !== undefined && last.helpers.length === 0 && last.part === 'machine' && pieces.length > 1
  return runs ? [...tested, `by itself from ${words.time(last.from)}`] : tested
}
