import {
  type DivisionSummary,
  destinationKey,
  type LotTotal,
  productId,
  type Question,
} from '../../../core/division/index.ts'
import { uncountedPerUnit } from '../../../core/recipes/index.ts'
import type { Formatter } from '../../../web/format.ts'
import { supplyAmount } from '../amounts.ts'
import { putUpWords } from '../put-up.ts'
import { listed, sentence, stepWords, whyNotMore } from '../words.ts'
import type { AnsweredView } from './view.ts'

// The parts of a division's pages, each as plain text: shared by the page and the sheet for the wall.

/** "186 kg give 94 jars and 14 bags. 12 kg are left over: 8 kg to the cider press by Thu 24 Sep." */
export function leadSentences({ answer, summary, names }: AnsweredView): string[] {
  const { format } = names
  const { counts, cameInGrams, leftOverGrams } = answer.headline
  const made = listed(counts.map(({ many, unit, units }) => format.count(many, unit, units)))
  const sentences = [`${format.weight(cameInGrams)} give ${made === '' ? 'nothing' : made}.`]
  const ends = gathered(summary.lots)
  if (leftOverGrams > 0) {
    const taken = ends.filter(({ to }) => to !== 'kept')
    const parts = taken.map(({ to, grams }) =>
      to === 'lost' ? `${format.weight(grams)} lost` : `${format.weight(grams)} to ${names.destination(to)}`,
    )
    const dates = taken.flatMap(({ to, actBy }) => (to === 'lost' ? [] : [actBy])).sort()
    const first = dates[0] === undefined ? '' : `, the first of it by ${format.day(dates[0])}`
    sentences.push(`${format.weight(leftOverGrams)} are left over: ${listed(parts)}${first}.`)
  } else sentences.push('Nothing is left over.')
  const kept = ends.find(({ to }) => to === 'kept')
  if (kept)
    sentences.push(
      `${format.weight(kept.grams)} keep for a later day, the first of it until ${format.day(kept.actBy)}.`,
    )
  return sentences
}

/** One row for each product: what is made on which day, and why not more. */
export function productRows(
  { division, answer, summary, names }: AnsweredView,
  processes: ReadonlyMap<string, string>,
  likely: (productId: string, units: number) => string,
) {
  const { format } = names
  const onTheClock = new Set(division.question.clock?.flatMap((one) => (one.kind === 'units' ? [one.productId] : [])))
  return summary.products.map((product, number) => {
    const reason = answer.result.reasons.find(({ productId }) => productId === product.productId)
    const { productId, units } = product
    const { name } = names.product(productId)
    const why = whyNotMore(names, { productId, units, limits: reason?.limits ?? [] })
    return {
      anchor: `product-${number + 1}`,
      name,
      none: units === 0,
      made: why.made,
      // a limit that a timetable taught is none that the division's own reasons know
      because: why.because || (onTheClock.has(productId) ? 'a timetable had no room for more' : ''),
      from: units === 0 ? '' : `from ${format.weight(product.rawGrams)}`,
      process: units === 0 ? '' : (processes.get(productId) ?? ''),
      likely: likely(productId, units),
      days: product.byDay.map((batch) => `${names.day(batch.day)} ${format.number(batch.units)}`).join(', '),
    }
  })
}

/** What is made on each day, with what goes into it: for the wall. */
export function dayRows({ division, problem, summary, names }: AnsweredView, processes: ReadonlyMap<string, string>) {
  const { format } = names
  return problem.days.map((_, day) => ({
    day: names.day(day),
    batches: summary.products.flatMap((product) =>
      product.byDay
        .filter((batch) => batch.day === day)
        .map((batch) => {
          const runs = problem.products.find(({ id }) => id === product.productId)?.runs ?? []
          return {
            name: names.product(product.productId).name,
            units: names.units(product.productId, batch.units),
            process: processes.get(product.productId) ?? '',
            runs: batch.runs.map((starts, run) => `${format.number(starts)} × ${runs[run]?.name ?? 'run'}`).join(', '),
            takes: listed([
              ...summary.lots.flatMap((lot) => {
                const uses = lot.uses.filter((use) => use.day === day && use.productId === product.productId)
                const name = division.question.lots.find(({ id }) => id === lot.lotId)?.name ?? lot.lotId
                return uses.map((use) => `${format.weight(use.grams)} ${use.ripeness} ${name}`)
              }),
              ...materialsInto(product.productId, day),
            ]),
          }
        }),
    ),
  }))

  function materialsInto(productId: string, day: number): string[] {
    const uses = division.answer?.result.materialUses ?? []
    const grams = new Map<string, number>()
    for (const use of uses) {
      if (use.productId !== productId || use.day !== day) continue
      grams.set(use.materialId, (grams.get(use.materialId) ?? 0) + use.grams)
    }
    return [...grams].map(([id, of]) => `${format.weight(of)} ${names.material(id)}`)
  }
}

/** What becomes of each lot, day by day. */
export function lotRows({ division, summary, names }: AnsweredView) {
  const { format } = names
  return summary.lots.map((lot, number) => {
    const { name = lot.lotId } = division.question.lots.find(({ id }) => id === lot.lotId) ?? {}
    const aside = [
      lot.setAsideGrams > 0 ? `${format.weight(lot.setAsideGrams)} set aside to eat fresh` : '',
      lot.lostInSortingGrams > 0 ? `${format.weight(lot.lostInSortingGrams)} thrown out in sorting` : '',
    ].filter((part) => part !== '')
    return {
      anchor: `lot-${number + 1}`,
      name: sentence(name),
      says: `${format.weight(lot.cameInGrams)} came in${aside.length > 0 ? `, ${aside.join(', ')}` : ''}`,
      rows: [
        ...lot.uses.map((use) => ({
          when: names.day(use.day),
          what: names.product(use.productId).name,
          ripeness: use.ripeness,
          weight: format.weight(use.grams),
        })),
        ...byDestination(lot.leftovers).map((end) => ({
          when: shortWhen(end, format),
          what: sentence(names.destination(end.to)),
          ripeness: '',
          weight: format.weight(end.grams),
        })),
      ],
    }
  })
}

/** Whole produce that no product took, the most urgent first, and what simply keeps. */
export function leftoverRows({ division, summary, names }: AnsweredView) {
  const { format } = names
  const rows = summary.lots
    .flatMap((lot) => byDestination(lot.leftovers).map((end) => ({ ...end, lotId: lot.lotId })))
    .sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : b.grams - a.grams))
    .map((end) => ({
      what: sentence(division.question.lots.find(({ id }) => id === end.lotId)?.name ?? end.lotId),
      weight: format.weight(end.grams),
      to: end.to === 'lost' ? 'No place, lost' : sentence(names.destination(end.to)),
      by: whenOf(end, format),
      kept: end.to === 'kept',
      lost: end.to === 'lost',
    }))
  return { act: rows.filter(({ kept }) => !kept), keep: rows.filter(({ kept }) => kept) }
}

/** Peels, cores, stones, and what was made for other products: how much there is and where it goes. */
export function trimRows({ summary, names }: AnsweredView) {
  const { format } = names
  return summary.materials
    .filter((material) => material.madeGrams > 0)
    .map(({ materialId, madeGrams, usedGrams, leftovers }) => ({
      what: sentence(names.material(materialId)),
      weight: format.weight(madeGrams),
      to: sentence(
        [
          ...(usedGrams > 0 ? [`${format.weight(usedGrams)} into other products`] : []),
          ...gathered([{ leftovers }]).map(
            ({ to, grams }) =>
              `${format.weight(grams)} ${to === 'lost' ? 'thrown out' : `to ${names.destination(to)}`}`,
          ),
        ].join(', '),
      ),
    }))
}

/** What to buy, and what it comes to. */
export function shopping({ division, answer, problem, summary, names }: AnsweredView) {
  const { format } = names
  const left = problem.budget === null ? null : problem.budget - summary.spent
  return {
    rows: answer.result.purchases.map(({ supplyId, packs, cost }) => {
      const { name, packSize, unit } = names.supply(supplyId)
      return {
        name: sentence(name),
        packs: `${format.count(packs, 'pack')} of ${supplyAmount(format, packSize, unit)}`,
        cost: format.money(cost),
      }
    }),
    total: format.money(summary.spent),
    budget:
      left === null || problem.budget === null
        ? ''
        : `${format.money(problem.budget)} may be spent: ${format.money(left)} are left.`,
    uncounted: uncountedRows(answer.result.batches, division.question, format),
  }
}

/** What goes in that the kitchen keeps no count of: it stops nothing, and must be there. */
function uncountedRows(
  batches: readonly { productId: string; units: number }[],
  { recipes, supplies }: Question,
  format: Formatter,
): string[] {
  const kept = new Set(supplies.map(({ key }) => key))
  const total = new Map<string, { unit: string; amount: number }>()
  for (const recipe of recipes) {
    for (const pack of recipe.definition.packs) {
      const id = productId(recipe.id, pack.key)
      const units = batches.reduce((sum, batch) => sum + (batch.productId === id ? batch.units : 0), 0)
      if (units === 0) continue
      for (const { unit, amount, ...one } of uncountedPerUnit(recipe.definition, pack, kept)) {
        const name = one.supply in pack.supplies ? putUpWords(one.supply) : one.name
        const known = total.get(name) ?? { unit, amount: 0 }
        total.set(name, { unit, amount: known.amount + amount * units })
      }
    }
  }
  return [...total].map(
    ([name, { unit, amount }]) => `${name} ${format.number(Math.ceil(amount))}${unit === 'piece' ? '' : ` ${unit}`}`,
  )
}

/** Which wish gave way, one sentence each. */
export function shortfallSentences({ division, answer, names }: AnsweredView): string[] {
  return answer.result.shortfalls
    .filter(({ units }) => units > 0)
    .map(({ productId, units }) => {
      const wish = division.question.wishes.find((one) => `${one.recipeId}:${one.pack}` === productId)
      const { name } = names.product(productId)
      return `${name}: ${names.units(productId, units)} short of the ${names.format.number(wish?.atLeast ?? units)} wished for at least.`
    })
}

export function stepSentences({ answer, names }: AnsweredView): string[] {
  return (answer.steps ?? []).map((step) => stepWords(names, step))
}

type Leftovers = LotTotal['leftovers']
type EndWithDates = {
  to: Leftovers[number]['to']
  grams: number
  first: string
  dates: { actBy: string; grams: number }[]
}

/** The leftovers of one lot by where they go, with their dates in order. */
function byDestination(leftovers: Leftovers): EndWithDates[] {
  const ends = new Map<string, EndWithDates>()
  for (const { to, actBy, grams } of [...leftovers].sort((a, b) => (a.actBy < b.actBy ? -1 : 1))) {
    const end = ends.get(destinationKey(to)) ?? { to, grams: 0, first: actBy, dates: [] }
    end.grams += grams
    end.dates.push({ actBy, grams })
    ends.set(destinationKey(to), end)
  }
  return [...ends.values()]
}

/** "by Fri 18 Sep", "from Fri 18 Sep on" */
function shortWhen({ to, first, dates }: EndWithDates, format: Formatter): string {
  if (to === 'lost') return ''
  if (dates.length > 1) return `from ${format.day(first)} on`
  return `${to === 'kept' ? 'until' : 'by'} ${format.day(first)}`
}

/** "by Fri 18 Sep"; for several dates "788 g by Fri 18 Sep, 5.86 kg by Sat 19 Sep" */
function whenOf({ to, dates }: EndWithDates, format: Formatter): string {
  if (to === 'lost') return ''
  const word = to === 'kept' ? 'until' : 'by'
  const [only] = dates
  if (only && dates.length === 1) return `${word} ${format.day(only.actBy)}`
  return dates.map(({ actBy, grams }) => `${format.weight(grams)} ${word} ${format.day(actBy)}`).join('; ')
}

/** By where it goes, with the first date to act, in the order in which they first come. */
function gathered(owners: readonly { leftovers: Leftovers }[]): Leftovers {
  const ends = new Map<string, Leftovers[number]>()
  for (const { leftovers } of owners) {
    for (const { to, actBy, grams } of leftovers) {
      const end = ends.get(destinationKey(to))
      if (end === undefined) ends.set(destinationKey(to), { to, actBy, grams })
      else {
        end.grams += grams
        if (actBy < end.actBy) end.actBy = actBy
      }
    }
  }
  const rank = (to: LotTotal['leftovers'][number]['to']) => (to === 'lost' ? 2 : to === 'kept' ? 1 : 0)
  return [...ends.values()].sort((a, b) => rank(a.to) - rank(b.to))
}

/** Links of the flow as rows of a table. */
export function linkRows(
  summary: DivisionSummary,
  name: (node: DivisionSummary['links'][number]['from']) => string,
  weight: (grams: number) => string,
) {
  return summary.links.map(({ from, to, grams }) => ({
    from: sentence(name(from)),
    to: sentence(name(to)),
    weight: weight(grams),
  }))
}
