import type { AllocationProblem, AllocationResult } from '../allocation/index.ts'
import { ripenessClasses } from '../produce/vocabulary.ts'
import type { Question } from './question.ts'
import type {
  Destination,
  DivisionSummary,
  EndTotal,
  FlowLink,
  FlowNode,
  LotTotal,
  MaterialTotal,
  ProductTotal,
} from './summary-types.ts'

/** Thrown where a division does not add up: which part, and by how many grams. */
export class NotAccountedFor extends Error {
  constructor(where: string, cameIn: number, wentOut: number) {
    super(`${where}: ${cameIn} g came in and ${wentOut} g are accounted for`)
    this.name = 'NotAccountedFor'
  }
}

/**
 * Adds a division up: what becomes of each lot, what goes into and stays in each product, where each leftover ends.
 * Takes the question as it was asked, the problem made of it and the answer; gives whole grams and units.
 *
 * Throws NotAccountedFor unless every gram that came in is in exactly one place: for each lot, item, product and
 * material what comes in equals what goes out, and the ends together equal what came in.
 */
export function summarise(question: Question, problem: AllocationProblem, result: AllocationResult): DivisionSummary {
  const products = problem.products.map((product) => productTotal(product.id, problem, result))
  const lots = question.lots.map((lot) => lotTotal(lot, problem, result))
  const materials = problem.materials.map(({ id }) => materialTotal(id, result))
  const summary: DivisionSummary = {
    cameInGrams: sum(lots, (lot) => lot.cameInGrams),
    setAsideGrams: sum(lots, (lot) => lot.setAsideGrams),
    lostInSortingGrams: sum(lots, (lot) => lot.lostInSortingGrams),
    madeGrams: sum(products, (product) => product.netGrams),
    products,
    lots,
    materials,
    ends: endTotals(problem, lots, materials),
    links: linksOf(problem, result, lots, products, materials),
    spent: sum(result.purchases, (purchase) => purchase.cost),
  }
  checkNodes(summary)
  checkWhole(summary)
  return summary
}

/** The same text for the same destination. */
export function destinationKey(to: Destination): 'kept' | 'lost' | `outlet:${string}` {
  return typeof to === 'string' ? to : `outlet:${to.outletId}`
}

function productTotal(productId: string, problem: AllocationProblem, result: AllocationResult): ProductTotal {
  const batches = result.batches
    .filter((batch) => batch.productId === productId && (batch.units > 0 || batch.grams > 0))
    .sort((a, b) => a.day - b.day)
  const taken =
    sum(result.allocations, (use) => (use.productId === productId ? use.grams : 0)) +
    sum(result.materialUses, (use) => (use.productId === productId ? use.grams : 0))
  const rawGrams = sum(batches, (batch) => batch.grams)
  if (taken !== rawGrams) throw new NotAccountedFor(`product ${productId}`, taken, rawGrams)
  const given = (kind: 'trim' | 'intermediate') =>
    sum(result.materialsMade, (made) =>
      made.productId === productId && problem.materials.find(({ id }) => id === made.materialId)?.kind === kind
        ? made.grams
        : 0,
    )
  const trimGrams = given('trim')
  const passedOnGrams = given('intermediate')
  const netGrams = rawGrams - trimGrams - passedOnGrams
  if (netGrams < 0) throw new NotAccountedFor(`product ${productId}`, rawGrams, trimGrams + passedOnGrams)
  return {
    productId,
    units: sum(batches, (batch) => batch.units),
    rawGrams,
    trimGrams,
    passedOnGrams,
    netGrams,
    byDay: batches.map(({ day, units, grams, runs }) => ({ day, units, rawGrams: grams, runs })),
  }
}

function lotTotal(lot: Question['lots'][number], problem: AllocationProblem, result: AllocationResult): LotTotal {
  const uses = new Map<string, LotTotal['uses'][number]>()
  const leftovers: LotTotal['leftovers'] = []
  for (const item of problem.items) {
    if (item.lotId !== lot.id) continue
    let out = 0
    for (const use of result.allocations) {
      if (use.itemId !== item.id) continue
      const ripeness = item.classByDay[use.day]
      if (!ripeness) throw new RangeError(`item ${item.id} is used on day ${use.day}, when it is of no use`)
      out += use.grams
      const key = [use.day, use.productId, ripeness].join(' ')
      const same = uses.get(key)
      if (same) same.grams += use.grams
      else uses.set(key, { day: use.day, productId: use.productId, ripeness, grams: use.grams })
    }
    for (const leftover of result.leftovers) {
      if (!('itemId' in leftover.from) || leftover.from.itemId !== item.id) continue
      out += leftover.grams
      addLeftover(leftovers, leftover)
    }
    if (out !== item.grams) throw new NotAccountedFor(`item ${item.id}`, item.grams, out)
  }
  const order = new Map(problem.products.map((product, number) => [product.id, number]))
  const rank = (use: LotTotal['uses'][number]) =>
    use.day * 10_000 + (order.get(use.productId) ?? 0) * 10 + ripenessClasses.indexOf(use.ripeness)
  return {
    lotId: lot.id,
    cameInGrams: sum(ripenessClasses, (ripeness) => lot.grams[ripeness]) + lot.setAsideGrams + lot.lostGrams,
    setAsideGrams: lot.setAsideGrams,
    lostInSortingGrams: lot.lostGrams,
    uses: [...uses.values()].sort((a, b) => rank(a) - rank(b)),
    leftovers: inOrder(leftovers, problem),
  }
}

function materialTotal(materialId: string, result: AllocationResult): MaterialTotal {
  const leftovers: MaterialTotal['leftovers'] = []
  for (const leftover of result.leftovers) {
    if ('materialId' in leftover.from && leftover.from.materialId === materialId) addLeftover(leftovers, leftover)
  }
  return {
    materialId,
    madeGrams: sum(result.materialsMade, (made) => (made.materialId === materialId ? made.grams : 0)),
    usedGrams: sum(result.materialUses, (use) => (use.materialId === materialId ? use.grams : 0)),
    leftovers,
  }
}

function addLeftover(
  leftovers: LotTotal['leftovers'],
  { to, actBy, grams }: { to: Destination; actBy: string; grams: number },
): void {
  if (grams === 0) return
  const same = leftovers.find((one) => one.actBy === actBy && destinationKey(one.to) === destinationKey(to))
  if (same) same.grams += grams
  else leftovers.push({ to, actBy, grams })
}

function inOrder(leftovers: LotTotal['leftovers'], problem: AllocationProblem): LotTotal['leftovers'] {
  const keys = endKeys(problem)
  const rank = (to: Destination) => keys.indexOf(destinationKey(to))
  return leftovers.sort((a, b) => rank(a.to) - rank(b.to) || (a.actBy < b.actBy ? -1 : 1))
}

function endKeys(problem: AllocationProblem): string[] {
  return [...problem.outlets.map((outlet) => destinationKey({ outletId: outlet.id })), 'kept', 'lost']
}

function endTotals(problem: AllocationProblem, lots: LotTotal[], materials: MaterialTotal[]): EndTotal[] {
  const destinations: Destination[] = [...problem.outlets.map(({ id }) => ({ outletId: id })), 'kept', 'lost']
  return destinations.flatMap((to) => {
    const at = (owners: { leftovers: LotTotal['leftovers'] }[]) =>
      sum(owners, ({ leftovers }) =>
        sum(leftovers, (one) => (destinationKey(one.to) === destinationKey(to) ? one.grams : 0)),
      )
    const fromLotsGrams = at(lots)
    const fromMaterialsGrams = at(materials)
    const grams = fromLotsGrams + fromMaterialsGrams
    return grams > 0 ? [{ to, grams, fromLotsGrams, fromMaterialsGrams }] : []
  })
}

function linksOf(
  problem: AllocationProblem,
  result: AllocationResult,
  lots: LotTotal[],
  products: ProductTotal[],
  materials: MaterialTotal[],
): FlowLink[] {
  const links = new Map<string, FlowLink>()
  const add = (from: FlowNode, to: FlowNode, grams: number) => {
    if (grams === 0) return
    const key = `${from} > ${to}`
    const same = links.get(key)
    if (same) same.grams += grams
    else links.set(key, { from, to, grams })
  }
  for (const lot of lots) {
    for (const { productId, grams } of lot.uses) add(`lot:${lot.lotId}`, `product:${productId}`, grams)
    for (const { to, grams } of lot.leftovers) add(`lot:${lot.lotId}`, destinationKey(to), grams)
    add(`lot:${lot.lotId}`, 'set-aside', lot.setAsideGrams)
    add(`lot:${lot.lotId}`, 'lost', lot.lostInSortingGrams)
  }
  for (const use of result.materialUses) add(`material:${use.materialId}`, `product:${use.productId}`, use.grams)
  for (const { productId, netGrams } of products) add(`product:${productId}`, 'made', netGrams)
  for (const made of result.materialsMade) add(`product:${made.productId}`, `material:${made.materialId}`, made.grams)
  for (const { materialId, leftovers } of materials) {
    for (const { to, grams } of leftovers) add(`material:${materialId}`, destinationKey(to), grams)
  }
  const order = ['lot', 'product', 'material']
  const rank = ({ from }: FlowLink) => order.indexOf(from.split(':')[0] ?? '')
  return [...links.values()].sort((a, b) => rank(a) - rank(b) || productOrder(problem, a) - productOrder(problem, b))
}

function productOrder(problem: AllocationProblem, { to }: FlowLink): number {
  const place = problem.products.findIndex((product) => `product:${product.id}` === to)
  return place < 0 ? problem.products.length : place
}

/** What passes through a node comes in and goes out to the gram. */
function checkNodes({ links, lots }: DivisionSummary): void {
  const into = new Map<FlowNode, number>(lots.map((lot) => [`lot:${lot.lotId}`, lot.cameInGrams]))
  const out = new Map<FlowNode, number>()
  for (const { from, to, grams } of links) {
    out.set(from, (out.get(from) ?? 0) + grams)
    into.set(to, (into.get(to) ?? 0) + grams)
  }
  for (const [node, cameIn] of into) {
    if (!node.includes(':') || node.startsWith('outlet:')) continue
    const wentOut = out.get(node) ?? 0
    if (cameIn !== wentOut) throw new NotAccountedFor(node, cameIn, wentOut)
  }
  for (const [node, wentOut] of out) {
    if (!into.has(node)) throw new NotAccountedFor(node, 0, wentOut)
  }
}

function checkWhole({ cameInGrams, setAsideGrams, lostInSortingGrams, madeGrams, ends }: DivisionSummary): void {
  const accounted = madeGrams + setAsideGrams + lostInSortingGrams + sum(ends, (end) => end.grams)
  if (accounted !== cameInGrams) throw new NotAccountedFor('the whole', cameInGrams, accounted)
}

function sum<T>(list: readonly T[], of: (one: T) => number): number {
  return list.reduce((total, one) => total + of(one), 0)
}
