import { runningLow } from '../../../core/shelf/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { emptiesPath, jarBatchPath, shelfFirstPath, shelfPath, shelfProductPath } from '../paths.ts'
import { ROWS_PER_PAGE } from '../stock/filter.ts'
import { bestByWords, unitsText } from '../words.ts'
import type { First, ProductUse } from './queries.ts'

/** What to eat first, one page of it, and what runs low. */
export function firstPage(
  { lines, all }: First,
  { use, page, today }: { use: ProductUse[]; page: number; today: string },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const low = runningLow(use)
  const to = (other: number): string => `${shelfFirstPath()}${other === 1 ? '' : `?page=${other}`}`
  return {
    title: 'What to eat first',
    place: 'shelf' as const,
    sentence:
      page === 1 ? firstSentence({ lines, all }, today, format) || nothingNear : pageSentence(page, all, format),
    rows: lines.map((line) => ({
      href: jarBatchPath(line.id),
      product: line.product,
      code: line.code,
      units: unitsText(line.stock, line, format),
      bestBy: bestByWords(line.bestBy, today, format),
      where: line.place.name,
      whose: line.household?.name ?? 'shared',
    })),
    before: page > 1 ? to(page - 1) : '',
    after: page * ROWS_PER_PAGE < all ? to(page + 1) : '',
    moreLow: low.length > ROWS_PER_PAGE ? `And ${format.count(low.length - ROWS_PER_PAGE, 'more product')}.` : '',
    low: low.slice(0, ROWS_PER_PAGE).map((one) => lowRow(one, format)),
    empties: emptiesPath(),
    back: shelfPath(),
  }
}

function lowRow(one: ProductUse & { lasts: number }, format: Formatter) {
  const days = one.lasts === 0 ? 'less than a day' : `about ${format.count(one.lasts, 'day')}`
  return {
    href: shelfProductPath(one.recipeId, one.pack),
    product: one.product,
    stock: one.stock === 0 ? 'none left' : unitsText(one.stock, one, format),
    used: format.number(one.used),
    lasts: one.stock === 0 ? '' : days,
  }
}

const nothingNear = 'Nothing is near its best-by date.'

/** "51 to 100 of 4,630 that are past or near their best." */
function pageSentence(page: number, all: number, format: Formatter): string {
  const from = (page - 1) * ROWS_PER_PAGE + 1
  const to = Math.min(all, page * ROWS_PER_PAGE)
  if (to < from) return `There are no more: ${format.number(all)} in all.`
  return `${format.number(from)} to ${format.number(to)} of ${format.number(all)} that are past or near their best.`
}

/** "Eat first: Damson jam 7KQ4M, by 3 Nov 2026, in 12 days, and 4 more." '' where nothing is near its date. */
function firstSentence({ lines, all }: First, today: string, format: Formatter): string {
  const [first] = lines
  if (first === undefined) return ''
  const more = all > 1 ? `, and ${format.count(all - 1, 'more batch', 'more batches')}` : ''
  return `Eat first: ${first.product} ${first.code}, ${bestByWords(first.bestBy, today, format).text}${more}.`
}

/** The line for the first page of the service, and where it leads; null where nothing is near its date. */
export function shelfLine(first: First, today: string, coop: CoopWays): { href: string; sentence: string } | null {
  const sentence = firstSentence(first, today, formatFor(coop))
  return sentence === '' ? null : { href: shelfFirstPath(), sentence }
}

/** Products that run low, the shortest first, so many of them, and the link to all; null where none does. */
type LowLines = { rows: { href: string; name: string; says: string }[]; href: string; more: string }

/** What runs low, for the first page of the service. @param most so many products are named */
export function lowLines(use: readonly ProductUse[], most: number, coop: CoopWays): LowLines | null {
  const format = formatFor(coop)
  const low = runningLow(use)
  if (low.length === 0) return null
  return {
    rows: low.slice(0, most).map((one) => {
      const { href, product, stock, lasts } = lowRow(one, format)
      return { href, name: product, says: lasts === '' ? stock : `${stock} left, for ${lasts}` }
    }),
    href: `${shelfFirstPath()}#low-heading`,
    more: low.length > most ? `All ${format.number(low.length)} that run low` : 'At what rate, and what to eat first',
  }
}
