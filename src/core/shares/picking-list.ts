import { byText } from '../allocation/arrays.ts'
import { refuseTwice, refuseUnlessWhole } from './refuse.ts'

/** Jars of one batch that stand in one place. */
export type StockLine = {
  jarBatchId: string
  productId: string
  placeId: string
  /** ISO date; null if none is written on them. */
  bestBy: string | null
  /** Whole, from 0 up. */
  units: number
}

export type Pick = { productId: string; jarBatchId: string; placeId: string; bestBy: string | null; units: number }

export type PickingList = {
  /** In the order in which the households come; each with its picks by product and the oldest first. */
  households: { householdId: string; picks: Pick[] }[]
  /** What is due and stands nowhere. */
  missing: { householdId: string; productId: string; units: number }[]
  /** What stands there afterwards, lines with nothing left out. */
  left: StockLine[]
}

/**
 * Says for each household which jars to take from where: of every product the earliest best-by date first (none comes
 * last), then by batch and place. Households come in the order of ids, from `startWith` on and round; a co-op that
 * starts with another one each time lets everybody have the freshest in turn. No line gives more than stands there.
 *
 * @throws RangeError for units that are not whole from 0 up, a household or a line (batch and place) given twice, and a
 * household to start with that is not there
 */
export function pickingList(
  due: readonly { householdId: string; units: Readonly<Record<string, number>> }[],
  stock: readonly StockLine[],
  startWith?: string,
): PickingList {
  refuse(due, stock)
  const lines = stock.toSorted(oldestFirst).map((line) => ({ ...line }))
  const missing: PickingList['missing'] = []
  const households = inTurn(due, startWith).map(({ householdId, units }) => {
    const picks = Object.entries(units)
      .toSorted(byText(([productId]) => productId))
      .flatMap(([productId, wanted]) => {
        const { taken, short } = take(lines, productId, wanted)
        if (short > 0) missing.push({ householdId, productId, units: short })
        return taken
      })
    return { householdId, picks }
  })
  return { households, missing, left: lines.filter(({ units }) => units > 0) }
}

/** Takes from the lines, in their order, what is wanted of a product; `short` is what they do not hold. */
function take(lines: StockLine[], productId: string, wanted: number): { taken: Pick[]; short: number } {
  const taken: Pick[] = []
  let short = wanted
  for (const line of lines) {
    if (line.productId !== productId) continue
    const units = Math.min(short, line.units)
    if (units === 0) continue
    line.units -= units
    short -= units
    taken.push({ productId, jarBatchId: line.jarBatchId, placeId: line.placeId, bestBy: line.bestBy, units })
  }
  return { taken, short }
}

function oldestFirst(a: StockLine, b: StockLine): number {
  if (a.bestBy !== b.bestBy && (a.bestBy === null || b.bestBy === null)) return a.bestBy === null ? 1 : -1
  return (
    byText((line: StockLine) => line.bestBy ?? '')(a, b) ||
    byText((line: StockLine) => line.jarBatchId)(a, b) ||
    byText((line: StockLine) => line.placeId)(a, b)
  )
}

function inTurn<T extends { householdId: string }>(due: readonly T[], startWith: string | undefined): T[] {
  const inOrder = due.toSorted(byText(({ householdId }) => householdId))
  if (startWith === undefined) return inOrder
  const first = inOrder.findIndex(({ householdId }) => householdId === startWith)
  if (first === -1) throw new RangeError(`household ${startWith} is not there`)
  return [...inOrder.slice(first), ...inOrder.slice(0, first)]
}

function refuse(
  due: readonly { householdId: string; units: Readonly<Record<string, number>> }[],
  stock: readonly StockLine[],
): void {
  refuseTwice(
    'household',
    due.map(({ householdId }) => householdId),
  )
  for (const { householdId, units } of due) {
    for (const [productId, count] of Object.entries(units)) refuseUnlessWhole(count, `${productId} for ${householdId}`)
  }
  refuseTwice(
    'batch and place',
    stock.map(({ jarBatchId, placeId }) => JSON.stringify([jarBatchId, placeId])),
  )
  for (const { jarBatchId, units } of stock) refuseUnlessWhole(units, `units of batch ${jarBatchId}`)
}
