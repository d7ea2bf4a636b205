import { changesBetween, type Destination, destinationKey } from '../../../core/division/index.ts'
import type { Beam } from '../../../web/beam.ts'
import type { Formatter } from '../../../web/format.ts'
import type { AnsweredView } from '../divisions/view.ts'
import { beamPair, endGrams } from '../divisions/view.ts'
import { comparePath, divisionPath, planPath } from '../paths.ts'
import { changeWords, listed, provedWords, sentence, unitWords } from '../words.ts'

/** Two divisions side by side: what changed in the question, and what it brought. */
export function comparePage(a: AnsweredView, b: AnsweredView, format: Formatter) {
  const beams = beamPair(a, b)
  return {
    title: `${nameOf(a, b)} beside ${nameOf(b, a).replace(/^Division/, 'division')}`,
    place: 'plans' as const,
    sentence: compareSentence(a, b, format),
    doubt: doubtWords(a, b),
    sides: [sideOf(a, b, beams[0], format), sideOf(b, a, beams[1], format)],
    key: beams[1].rows.map(({ key, label, swatch }) => ({ key, label, swatch })),
    names: [nameOf(a, b), nameOf(b, a)],
    products: productRows(a, b, format),
    ends: endRows(a, b, format),
    purchases: purchaseRows(a, b, format),
    totals: [
      row('To spend', a.summary.spent, b.summary.spent, format.money),
      row('Worth of it all, less cost and loss', a.answer.result.objective, b.answer.result.objective, (worth) =>
        format.money(Math.round(worth)),
      ),
    ],
    turn: { href: comparePath(b.division.planId, b.division.id, a.division.id), text: 'The other way round' },
    plan: { href: planPath(b.division.planId), name: b.division.planName },
  }
}

/** "Compost behind the hall is closed. That brings 3 more of Apple sauce; 4 kg more are lost." */
export function compareSentence(a: AnsweredView, b: AnsweredView, format: Formatter): string {
  const asked = changesBetween(a.division.question, b.division.question).map((change) => changeWords(format, change))
  const products = productDifferences(a, b, format)
  const ends = endDifferences(a, b, format)
  const question = asked.length === 0 ? 'Both ask the same.' : sentence(`${listed(asked)}.`)
  const brings = asked.length === 0 || doubtWords(a, b) !== '' ? 'The second has' : 'That brings'
  if (products.length + ends.length === 0) return `${question} The division stays the same.`
  // the largest of each kind: the tables have all
  const shown = [...products.slice(0, 4), ...ends.slice(0, 3)]
  const rest = products.length + ends.length - shown.length
  return `${question} ${brings} ${listed([...shown, ...(rest > 0 ? [format.count(rest, 'smaller difference')] : [])])}.`
}

/** What must be said where an answer is not proved: it may differ by chance of the search as well. Empty: both are. */
function doubtWords(a: AnsweredView, b: AnsweredView): string {
  const unproved = [a, b].filter((view) => view.answer.result.status !== 'proved')
  if (unproved.length === 0) return ''
  const which = unproved.length === 2 ? 'Neither is' : 'One of the two is not'
  return `${which} proved best, so some of this may come from how far the search got rather than from the change.`
}

/** Smaller differences come from whole grams, and stand in the table only. */
const WORTH_TELLING_GRAMS = 50

export type Difference = { a: number; b: number; difference: number }

/** Units of every product of either, in the order of the second. */
export function productUnits(a: AnsweredView, b: AnsweredView): ({ productId: string } & Difference)[] {
  const ids = new Set([...b.summary.products, ...a.summary.products].map(({ productId }) => productId))
  const units = (view: AnsweredView, id: string) =>
    view.summary.products.find(({ productId }) => productId === id)?.units ?? 0
  return [...ids].map((productId) => difference(units(a, productId), units(b, productId), { productId }))
}

/** Grams at every end of either. */
export function endWeights(a: AnsweredView, b: AnsweredView): ({ to: Destination } & Difference)[] {
  const ends = new Map<string, Destination>()
  for (const { to } of [...b.summary.ends, ...a.summary.ends]) ends.set(destinationKey(to), to)
  return [...ends.values()].map((to) => difference(endGrams(a.summary, to), endGrams(b.summary, to), { to }))
}

/** Packs of every supply that either buys. */
export function packsBought(a: AnsweredView, b: AnsweredView): ({ supplyId: string } & Difference)[] {
  const ids = new Set([...b.answer.result.purchases, ...a.answer.result.purchases].map(({ supplyId }) => supplyId))
  const packs = (view: AnsweredView, id: string) =>
    view.answer.result.purchases.find(({ supplyId }) => supplyId === id)?.packs ?? 0
  return [...ids].map((supplyId) => difference(packs(a, supplyId), packs(b, supplyId), { supplyId }))
}

function difference<T>(a: number, b: number, of: T): T & Difference {
  return { ...of, a, b, difference: b - a }
}

function nameOf({ division }: AnsweredView, other: AnsweredView): string {
  const name = `division ${division.number}`
  return sentence(division.planId === other.division.planId ? name : `${division.planName}, ${name}`)
}

function sideOf(view: AnsweredView, other: AnsweredView, beam: Beam, format: Formatter) {
  return {
    name: nameOf(view, other),
    href: divisionPath(view.division.planId, view.division.number),
    proved: provedWords(format, view.answer.result),
    beam,
  }
}

type Row = { name: string; a: string; b: string; difference: string; changed: boolean }

function row(name: string, a: number, b: number, words: (value: number) => string): Row {
  return { name, a: words(a), b: words(b), difference: signed(b - a, words), changed: words(a) !== words(b) }
}

/** "+3", "−2", "0": with words, so that a sign never stands alone. */
function signed(value: number, words: (value: number) => string): string {
  if (words(value) === words(0)) return 'same'
  return value > 0 ? `+${words(value)}` : `−${words(-value)}`
}

function nameIn(a: AnsweredView, b: AnsweredView, productId: string) {
  const inB = b.summary.products.some((product) => product.productId === productId)
  return (inB ? b : a).names.product(productId)
}

function productRows(a: AnsweredView, b: AnsweredView, format: Formatter): Row[] {
  return productUnits(a, b)
    .filter((units) => units.a > 0 || units.b > 0)
    .map((units) => {
      const { name, units: called } = nameIn(a, b, units.productId)
      return row(`${name}, ${called}`, units.a, units.b, (value) => format.number(value))
    })
}

function endRows(a: AnsweredView, b: AnsweredView, format: Formatter): Row[] {
  return endWeights(a, b).map((weights) =>
    row(sentence(endName(a, b, weights.to)), weights.a, weights.b, (grams) => format.weight(grams)),
  )
}

function endName(a: AnsweredView, b: AnsweredView, to: Destination): string {
  const inB = b.problem.outlets.some((outlet) => typeof to === 'object' && outlet.id === to.outletId)
  return (inB ? b : a).names.destination(to)
}

function purchaseRows(a: AnsweredView, b: AnsweredView, format: Formatter): Row[] {
  return packsBought(a, b).map(({ supplyId, a: before, b: after }) => {
    const known = b.problem.supplies.some(({ id }) => id === supplyId) ? b : a
    return row(`${sentence(known.names.supply(supplyId).name)}, packs`, before, after, (packs) => format.number(packs))
  })
}

function productDifferences(a: AnsweredView, b: AnsweredView, format: Formatter): string[] {
  return productUnits(a, b)
    .filter((units) => units.difference !== 0)
    .sort((x, y) => Math.abs(y.difference) - Math.abs(x.difference))
    .map(({ productId, difference: by }) => {
      const { name, unit, units } = nameIn(a, b, productId)
      return `${unitWords(format, Math.abs(by), { unit, units })} ${by > 0 ? 'more' : 'fewer'} of ${name}`
    })
}

function endDifferences(a: AnsweredView, b: AnsweredView, format: Formatter): string[] {
  return endWeights(a, b)
    .filter((weights) => Math.abs(weights.difference) >= WORTH_TELLING_GRAMS)
    .sort((x, y) => Math.abs(y.difference) - Math.abs(x.difference))
    .map(({ to, difference: by }) => {
      const weight = `${format.weight(Math.abs(by))} ${by > 0 ? 'more' : 'less'}`
      return typeof to === 'object' ? `${weight} for ${endName(a, b, to)}` : `${weight} ${endName(a, b, to)}`
    })
}
