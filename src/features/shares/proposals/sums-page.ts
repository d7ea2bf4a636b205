import type { Formatter } from '../../../web/format.ts'
import type { StoredAnswer, StoredQuestion } from '../documents.ts'

type Divided = NonNullable<StoredAnswer['products'][number]['apportionment']>
type Share = Divided['shares'][number]
type Rounds = Exclude<Divided['method'], 'largest-remainder'>

/** Where a method of divisors rounds up from so many whole jars. */
const roundsUp: Readonly<Record<Rounds, (whole: number) => number>> = {
  webster: (whole) => whole + 0.5,
  'huntington-hill': (whole) => Math.sqrt(whole * (whole + 1)),
  jefferson: (whole) => whole + 1,
}

/** The sums of one product, so that anybody can do them again: the heads of a table, its rows, and what to do. */
export function productSums(
  product: StoredQuestion['products'][number],
  divided: Divided | null,
  names: ReadonlyMap<string, string>,
  format: Formatter,
) {
  const { name, unit, unitsName, units, worthMinor } = product
  const title = `${name}: ${format.count(units, unit, unitsName)}, ${format.money(worthMinor)} each`
  if (divided === null)
    return { title, says: 'Every household declined it: it stays in shared stock.', heads: [] as string[], rows: [] }
  const shares = divided.shares.map((share) => ({ ...share, name: names.get(share.id) ?? '' }))
  const rows = divided.method === 'largest-remainder' ? byRemainder(shares, format) : byDivisor(shares, divided, format)
  return { title, ...rows }
}

function byRemainder(shares: (Share & { name: string })[], format: Formatter) {
  return {
    says: 'Still due, divided by what is due to all, times the jars, is the exact part. Everybody gets its whole jars; the jars left over go one each to the largest pieces left.',
    heads: ['Household', 'Still due', 'Exact part', 'Whole jars', 'Piece left', 'Gets'],
    rows: shares.map((share) => ({
      name: share.name,
      cells: [
        dueText(share.weight, format),
        format.number(share.quota, 3),
        format.number(share.remainder === null ? share.seats : Math.round(share.quota - share.remainder)),
        share.remainder === null ? '' : format.number(share.remainder, 3),
        format.number(share.seats),
      ],
      tie: tieWords(share),
    })),
  }
}

function byDivisor(
  shares: (Share & { name: string })[],
  { method, divisor }: Divided,
  format: Formatter,
): { says: string; heads: string[]; rows: { name: string; cells: string[]; tie: string }[] } {
  if (divisor === null || method === 'largest-remainder')
    return {
      says: 'There are fewer jars than households: one each for those to whom most is still due.',
      heads: ['Household', 'Still due', 'Exact part', 'Gets'],
      rows: shares.map((share) => ({
        name: share.name,
        cells: [dueText(share.weight, format), format.number(share.quota, 3), format.number(share.seats)],
        tie: tieWords(share),
      })),
    }
  const number = exactText(divisor.divisor / 100, format)
  return {
    says: `What is still due is divided by ${number} for all, and rounded up from the figure that the row names.`,
    heads: ['Household', 'Still due', 'Exact part', `Divided by ${number}`, 'Rounded up from', 'Gets'],
    rows: shares.map((share) => {
      const result = share.weight / divisor.divisor
      return {
        name: share.name,
        cells: [
          dueText(share.weight, format),
          format.number(share.quota, 3),
          format.number(result, 3),
          share.weight === 0 ? '' : format.number(roundsUp[method](Math.floor(result)), 3),
          format.number(share.seats),
        ],
        tie: tieWords(share),
      }
    }),
  }
}

/** All digits that count: rounded, the sum could come out differently. */
function exactText(value: number, format: Formatter): string {
  const exact = Number(value.toPrecision(14))
  return Number(exact.toFixed(3)) === exact ? format.number(exact, 3) : String(exact)
}

/** Worth that may have parts of the smallest coin. */
function dueText(minor: number, format: Formatter): string {
  return Number.isInteger(minor) ? format.money(minor) : format.number(minor / 100, 3)
}

function tieWords({ tie }: Share): string {
  if (tie === null) return ''
  return tie === 'won'
    ? 'equal with another: more is due to it, or it comes first in the list'
    : 'equal with another, which comes first'
}
