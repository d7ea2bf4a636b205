import { keepings } from '../../../core/shelf/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { batchesPath, newBatchPath } from '../../batches/paths.ts'
import { filesPath } from '../../files/paths.ts'
import { labelsPath } from '../../labels/paths.ts'
import { recallsPath } from '../../recalls/paths.ts'
import { sharesPath } from '../../shares/paths.ts'
import { slowJobsPath } from '../../slow-jobs/paths.ts'
import { suppliesPath } from '../../supplies/paths.ts'
import { entryRow } from '../entries/pages.ts'
import type { Entry } from '../entries/queries.ts'
import type { JarLine } from '../jars/queries.ts'
import {
  emptiesPath,
  jarBatchPath,
  ledgerPath,
  newPlacePath,
  placesPath,
  shelfFirstPath,
  shelfPath,
  shelfProductPath,
} from '../paths.ts'
import { bestByWords, keepingWords, listOf, unitsText } from '../words.ts'
import { ROWS_PER_PAGE, type StockQuery } from './filter.ts'
import type { findProduct, listNames, Named, ProductStock, StockPage } from './queries.ts'

type Option = { value: string; text: string; chosen: boolean }

/** What is there, by product, with the means to narrow it. */
export function stockPage(
  stock: StockPage,
  query: StockQuery,
  { places, households, today }: Awaited<ReturnType<typeof listNames>> & { today: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const narrowed = query.q !== '' || query.place !== '' || query.whose !== '' || query.keeping !== ''
  const openPlaces = places.filter(({ closed }) => !closed)
  const chosen = (options: { value: string; text: string }[], value: string): Option[] =>
    options.map((option) => ({ ...option, chosen: option.value === value }))
  return {
    title: 'Shelf',
    place: 'shelf' as const,
    sentence: stockSentence(stock, narrowed, format),
    rows: stock.products.map((product) => productRow(product, { places, households, today }, format)),
    action: shelfPath(),
    q: query.q,
    places: chosen([{ value: '', text: 'everywhere' }, ...named(openPlaces)], query.place),
    whose: chosen(
      [{ value: '', text: 'everybody’s' }, { value: 'shared', text: 'shared' }, ...named(households)],
      query.whose,
    ),
    keepings: chosen(
      [{ value: '', text: 'any way' }, ...keepings.map((value) => ({ value, text: keepingWords[value] }))],
      query.keeping,
    ),
    all: narrowed ? shelfPath() : '',
    noPlace: openPlaces.length === 0,
    addPlace: newPlacePath(),
    ...paging(query, stock.all.products),
    ways: waysOn(),
  }
}

function stockSentence({ all }: StockPage, narrowed: boolean, format: Formatter): string {
  if (all.products === 0) return narrowed ? 'Nothing like that is on the shelf.' : 'Nothing is on the shelf yet.'
  const units = `${format.count(all.units, 'jar, bag or crock', 'jars, bags and crocks')} of ${format.count(all.products, 'product')}`
  return narrowed ? `${units} of what you look for.` : `${units}.`
}

function productRow(
  row: ProductStock,
  { places, households, today }: { places: Named[]; households: Named[]; today: string },
  format: Formatter,
) {
  const namesIn = (things: Named[], ids: ReadonlySet<string>): string =>
    listOf(things.filter(({ id }) => ids.has(id)).map(({ name }) => name))
  const own = row.units - row.shared
  return {
    href: shelfProductPath(row.recipeId, row.pack),
    product: row.product,
    units: unitsText(row.units, row, format),
    whose: [
      ...(row.shared > 0 ? [`${format.number(row.shared)} shared`] : []),
      ...(own > 0 ? [`${format.number(own)} of ${namesIn(households, row.householdIds)}`] : []),
    ].join(', '),
    bestBy: bestByWords(row.oldest, today, format),
    where: namesIn(places, row.placeIds),
    recalled: row.recalled,
  }
}

function named(things: Named[]): { value: string; text: string }[] {
  return things.map(({ id, name }) => ({ value: id, text: name }))
}

/** Addresses of the pages before and after; '' for none. */
function paging(query: StockQuery, products: number): { before: string; after: string } {
  const to = (page: number): string => {
    const params = new URLSearchParams()
    for (const name of ['q', 'place', 'whose', 'keeping'] as const)
      if (query[name] !== '') params.set(name, query[name])
    params.set('page', String(page))
    return `${shelfPath()}?${params}`
  }
  return {
    before: query.page > 1 ? to(query.page - 1) : '',
    after: query.page * ROWS_PER_PAGE < products ? to(query.page + 1) : '',
  }
}

/** Where the shelf leads on to. */
function waysOn() {
  return [
    { href: shelfFirstPath(), text: 'What to eat first', says: 'what is past or near its best, what runs low' },
    { href: newBatchPath(), text: 'Put a batch on the shelf', says: 'when it is finished and has sealed' },
    { href: batchesPath(), text: 'Batches', says: 'what went in, how it was processed' },
    { href: placesPath(), text: 'Places', says: 'pantries, cellars, freezers, and counting what stands there' },
    { href: ledgerPath(), text: 'Ledger', says: 'who put, took and moved what' },
    { href: sharesPath(), text: 'Shares', says: 'what each household is due' },
    { href: emptiesPath(), text: 'Empty jars', says: 'who has how many to bring back' },
    { href: labelsPath(), text: 'Labels', says: 'on sheets, to print' },
    { href: recallsPath(), text: 'Recalls', says: 'warnings, and tracing a batch' },
    { href: slowJobsPath(), text: 'Slow jobs', says: 'vinegar, crocks, trays' },
    { href: suppliesPath(), text: 'Supplies', says: 'jars, lids, sugar' },
    { href: filesPath(), text: 'Tables', says: 'to take out and bring in' },
  ]
}

/** One product: its batches where they stand, and what was last done with it. */
export function productPage(
  product: Awaited<ReturnType<typeof findProduct>>,
  {
    lines,
    entries,
    page,
    here,
    today,
  }: { lines: JarLine[]; entries: Entry[]; page: number; here: string; today: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  return {
    title: `${product.product} on the shelf`,
    place: 'shelf' as const,
    sentence: product.units === 0 ? 'None is left.' : `${unitsText(product.units, product, format)} in stock.`,
    lines: lines.map((line) => ({
      href: jarBatchPath(line.id),
      code: line.code,
      variety: line.variety ?? '',
      madeOn: format.date(line.madeOn),
      bestBy: bestByWords(line.bestBy, today, format),
      where: line.place.name,
      whose: line.household?.name ?? 'shared',
      stock: format.number(line.stock),
      recalled: line.recalled,
    })),
    before: page > 1 ? `${here}?page=${page - 1}` : '',
    after: page * ROWS_PER_PAGE < product.lines ? `${here}?page=${page + 1}` : '',
    rows: entries.map((entry) => entryRow(entry, format)),
    ledger: ledgerPath(),
    back: shelfPath(),
  }
}
