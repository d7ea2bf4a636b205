import type { TestApp } from '../../support/app.ts'

/** The tables of totals as lists of plain rows, each row a text, sorted. */
export type Totals = { lines: string[]; totals: string[]; products: string[]; use: string[] }

type Prisma = TestApp['prisma']

/** What the database keeps. */
export async function keptTotals(prisma: Prisma): Promise<Totals> {
  const lines = await prisma.shelfLine.findMany()
  const totals = await prisma.shelfTotal.findMany()
  const products = await prisma.shelfProduct.findMany()
  const use = await prisma.shelfUse.findMany({ where: { units: { not: 0 } } })
  return {
    lines: texts(lines),
    totals: texts(totals.map((row) => ({ ...row, places: row.places.sort(), owners: row.owners.sort() }))),
    products: texts(products),
    use: texts(use),
  }
}

/**
 * The same, added up from the entries of the ledger one by one, with nothing taken from the totals or from the stock
 * that lines say they have.
 */
export async function countedTotals(prisma: Prisma): Promise<Totals> {
  const lines = await prisma.jarBatch.findMany({ include: { batch: true, entries: { include: { undoes: true } } } })
  const batches = await prisma.batch.findMany({ orderBy: { number: 'asc' } })
  const counted: Record<string, unknown>[] = []
  const totals = new Map<string, Total>()
  const products = new Map<string, Product>()
  const use = new Map<string, { units: number } & Record<string, unknown>>()
  for (const { coopId, recipeId, pack, product, unit, unitsName, madeOn } of batches) {
    const key = JSON.stringify([coopId, recipeId, pack])
    const before = products.get(key)
    const firstMadeOn = before !== undefined && before.firstMadeOn < madeOn ? before.firstMadeOn : madeOn
    const counts = { lines: before?.lines ?? 0, units: 0, eatable: 0 }
    products.set(key, { ...{ coopId, recipeId, pack, product, unit, unitsName, firstMadeOn }, ...counts })
  }
  for (const { coopId, id, placeId, householdId, batch, entries } of lines) {
    const { recipeId, pack, product, keeping, bestBy, number } = batch
    for (const { kind, units, at, undoes } of entries) {
      const used = kind === 'undo' ? undoes : { kind, at }
      if (used === null || !['take', 'give', 'use'].includes(used.kind)) continue
      const day = used.at.toISOString().slice(0, 10)
      for (const [span, from] of [
        ['day', day],
        ['month', `${day.slice(0, 7)}-01`],
      ]) {
        const key = JSON.stringify([coopId, span, from, recipeId, pack])
        const row = { ...{ coopId, span, from: new Date(`${from}T00:00:00Z`), recipeId, pack } }
        use.set(key, { ...row, units: (use.get(key)?.units ?? 0) - units })
      }
    }
    const stock = entries.reduce((sum, { units }) => sum + units, 0)
    if (stock === 0) continue
    const eatable = batch.recalledAt === null
    const kindOf = { coopId, recipeId, pack, product, variety: batch.variety ?? '', keeping }
    const owner = householdId ?? '-'
    const cold = keeping === 'refrigerator'
    counted.push({ ...kindOf, jarBatchId: id, placeId, owner, cold, bestBy, number, eatable, stock })
    for (const place of ['', placeId])
      for (const of of ['', owner]) {
        const key = JSON.stringify([kindOf, place, of])
        const total = totals.get(key) ?? { ...kindOf, placeId: place, owner: of, ...none() }
        total.lines += 1
        total.recalled += eatable ? 0 : 1
        total.units += stock
        total.shared += householdId === null ? stock : 0
        if (bestBy !== null && (total.oldest === null || bestBy < total.oldest)) total.oldest = bestBy
        total.places = [...new Set([...total.places, placeId])].sort()
        total.owners = [...new Set([...total.owners, ...(householdId === null ? [] : [householdId])])].sort()
        totals.set(key, total)
      }
    const of = products.get(JSON.stringify([coopId, recipeId, pack]))
    if (of === undefined) throw new Error('jars are of a batch')
    of.lines += 1
    of.units += stock
    of.eatable += eatable ? stock : 0
  }
  return {
    lines: texts(counted),
    totals: texts([...totals.values()]),
    products: texts([...products.values()]),
    use: texts([...use.values()].filter(({ units }) => units !== 0)),
  }
}

type Total = Record<string, unknown> & ReturnType<typeof none>
type Product = Record<string, unknown> & { firstMadeOn: Date; lines: number; units: number; eatable: number }

function none() {
  return {
    ...{ lines: 0, recalled: 0, units: 0, shared: 0 },
    oldest: null as Date | null,
    places: [] as string[],
    owners: [] as string[],
  }
}

function texts(rows: readonly Record<string, unknown>[]): string[] {
  return rows
    .map((row) =>
      Object.keys(row)
        .sort()
        .map((name) => `${name} ${textOf(row[name])}`)
        .join(', '),
    )
    .sort()
}

function textOf(value: unknown): string {
  return value instanceof Date ? value.toISOString().slice(0, 10) : String(value)
}
