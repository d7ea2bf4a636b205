import { storedAs, storedDate } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict, notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import {
  type ShareOutState,
  type StoredAnswer,
  type StoredQuestion,
  shareAnswer,
  shareOutStates,
  shareQuestion,
} from '../documents.ts'

/** Shared jars of one batch in one place that may be handed out. */
export type SharedLine = {
  jarBatchId: string
  productId: string
  placeId: string
  place: string
  code: string
  bestBy: string | null
  units: number
}
/** All shared jars of a recipe in a pack. Names as the newest batch has them; worth: the mean of all jars, rounded. */
export type SharedStock = {
  id: string
  recipeId: string
  pack: string
  name: string
  unit: string
  unitsName: string
  units: number
  worthMinor: number
  lines: SharedLine[]
}

/** What is in shared stock and not recalled, by product's name. One query, whatever there is. */
export async function sharedStock(prisma: TransactionClient, asking: Asking): Promise<SharedStock[]> {
  const rows = await prisma.jarBatch.findMany({
    where: { coopId: asking.coopId, householdId: null, stock: { gt: 0 }, batch: { is: { recalledAt: null } } },
    orderBy: [{ batch: { number: 'asc' } }, { id: 'asc' }],
    select: {
      id: true,
      stock: true,
      place: { select: { id: true, name: true } },
      batch: {
        select: {
          code: true,
          recipeId: true,
          pack: true,
          product: true,
          unit: true,
          unitsName: true,
          bestBy: true,
          worthMinor: true,
        },
      },
    },
  })
  const products = new Map<string, SharedStock & { worthOfAll: number }>()
  for (const { id: jarBatchId, stock: units, place, batch } of rows) {
    const { code, recipeId, pack, product: name, unit, unitsName, bestBy, worthMinor } = batch
    const id = `${recipeId}:${pack}`
    const before = products.get(id) ?? { units: 0, worthOfAll: 0, lines: [] as SharedLine[] }
    const worthOfAll = before.worthOfAll + units * worthMinor
    const all = before.units + units
    before.lines.push({
      jarBatchId,
      productId: id,
      placeId: place.id,
      place: place.name,
      code,
      bestBy: bestBy === null ? null : storedDate(bestBy),
      units,
    })
    products.set(id, {
      ...{ id, recipeId, pack, name, unit, unitsName, worthOfAll },
      units: all,
      worthMinor: Math.round(worthOfAll / all),
      lines: before.lines,
    })
  }
  return [...products.values()]
    .map(({ worthOfAll, ...product }) => product)
    .sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale) || (a.id < b.id ? -1 : 1))
}

export type ShareOutRow = {
  id: string
  number: number
  name: string
  state: ShareOutState
  by: string
  at: Date
  handedOutAt: Date | null
}
export type ShareOut = ShareOutRow & { question: StoredQuestion; answer: StoredAnswer; version: number }

/** Sharings out, the newest first; `before`: only those with a smaller number. */
export async function listShareOuts(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  take: number,
  before?: number,
): Promise<ShareOutRow[]> {
  const rows = await prisma.shareOut.findMany({
    where: { coopId, ...(before === undefined ? {} : { number: { lt: before } }) },
    orderBy: { number: 'desc' },
    take,
    select: { id: true, number: true, name: true, state: true, by: true, at: true, handedOutAt: true },
  })
  return rows.map((row) => ({ ...row, state: storedAs(shareOutStates, row.state) }))
}

export async function findShareOut(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<ShareOut> {
  const row = await prisma.shareOut.findUnique({
    where: { coopId_id: { coopId, id } },
    omit: { coopId: true },
  })
  if (row === null) throw notFound('such sharing out')
  return {
    ...row,
    state: storedAs(shareOutStates, row.state),
    question: shareQuestion.parse(row.question),
    answer: shareAnswer.parse(row.answer),
  }
}

/** How many sharings out were ever proposed. */
export async function countShareOuts(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>): Promise<number> {
  return prisma.shareOut.count({ where: { coopId } })
}

/** Keeps a proposal. `replaces`: an earlier one that it takes the place of; it is dropped if it is a proposal still. */
export async function addShareOut(
  writing: Writing,
  {
    name,
    question,
    answer,
    replaces,
  }: { name: string; question: StoredQuestion; answer: StoredAnswer; replaces?: string },
): Promise<ShareOut> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  await lockShares(writing)
  if (replaces !== undefined)
    await transaction.shareOut.updateMany({
      where: { coopId, id: replaces, state: 'proposed' },
      data: { state: 'dropped', version: { increment: 1 } },
    })
  const { _max } = await transaction.shareOut.aggregate({ where: { coopId }, _max: { number: true } })
  const id = newId()
  const number = (_max.number ?? 0) + 1
  await transaction.shareOut.create({
    data: { coopId, id, number, name, state: 'proposed', question, answer, by: asking.name, at: now },
  })
  await noteChange(writing, 'shares', id, `${name} proposed`)
  return findShareOut(transaction, asking, id)
}

/** Drops a proposal: it stays to be read. Refused where it is no proposal any more. */
export async function dropShareOut(writing: Writing, id: string): Promise<ShareOut> {
  const { transaction, asking } = writing
  const { name } = await findShareOut(transaction, asking, id)
  const { count } = await transaction.shareOut.updateMany({
    where: { coopId: asking.coopId, id, state: 'proposed' },
    data: { state: 'dropped', version: { increment: 1 } },
  })
  if (count === 0) throw conflict(`${name} is handed out or dropped already.`)
  await noteChange(writing, 'shares', id, `${name} dropped`)
  return findShareOut(transaction, asking, id)
}

/** Until this transaction ends nobody else proposes, hands out or takes back: numbers and what is owed stand still. */
export async function lockShares({ transaction, asking }: Writing): Promise<void> {
  // Prisma has no word for a row's lock. Not FOR UPDATE: every other write of the co-op would wait for its key.
  await transaction.$queryRaw`SELECT "id" FROM "Coop" WHERE "id" = ${asking.coopId} FOR NO KEY UPDATE`
}
