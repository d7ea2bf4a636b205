import { batchCode } from '../../core/labels/index.ts'
import { type RipenessClass, ripenessClasses, type TrimKind, trimKinds } from '../../core/produce/index.ts'
import { type Keeping, keepings } from '../../core/shelf/index.ts'
import { Prisma } from '../../db/generated/client.ts'
import { dateColumn, storedAs, storedDate } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'
import { processDocument, type StoredProcess } from './process-document.ts'

type OfCoop = Pick<Asking, 'coopId'>

export const BATCHES_PER_PAGE = 30

export type BatchLine = {
  id: string
  number: number
  code: string
  product: string
  variety: string | null
  unit: string
  unitsName: string
  keeping: Keeping
  madeOn: string
  bestBy: string | null
  units: number
  recalled: boolean
}

export type Batch = BatchLine & {
  recipeId: string
  recipeVersion: number
  pack: string
  method: string
  planId: string | null
  plan: string | null
  planned: string | null
  inGrams: number
  unsealed: number
  handMinutes: number | null
  expectedUnits: number | null
  expectedHandMinutes: number | null
  process: StoredProcess | null
  allergens: string[]
  note: string | null
  finishedBy: string
  finishedAt: Date
  version: number
  inputs: BatchInput[]
  trim: { kind: TrimKind; grams: number; outletId: string | null; outlet: string | null }[]
  helpers: { name: string; helperId: string | null }[]
  /** Where they stand now. */
  jars: { id: string; stock: number; place: string; household: string | null }[]
}

export type BatchInput =
  | {
      kind: 'lot'
      lotId: string
      crop: string
      variety: string | null
      broughtBy: string
      class: RipenessClass | null
      grams: number
    }
  | { kind: 'jars'; jarBatchId: string; batchId: string; code: string; product: string; units: number; grams: number }

/** Batches, newest first. @param q part of a product's or variety's name, or of a code */
export async function listBatches(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  { page, q }: { page: number; q: string },
): Promise<{ batches: BatchLine[]; more: boolean }> {
  const like = { contains: q, mode: 'insensitive' } as const
  const rows = await prisma.batch.findMany({
    where: { coopId, ...(q === '' ? {} : { OR: [{ product: like }, { variety: like }, { code: like }] }) },
    orderBy: { number: 'desc' },
    skip: (page - 1) * BATCHES_PER_PAGE,
    take: BATCHES_PER_PAGE + 1,
    select: lineColumns,
  })
  return { batches: rows.slice(0, BATCHES_PER_PAGE).map(lineOf), more: rows.length > BATCHES_PER_PAGE }
}

export async function findBatch(prisma: TransactionClient, { coopId }: OfCoop, id: string): Promise<Batch> {
  const row = await prisma.batch.findUnique({
    where: { coopId_id: { coopId, id } },
    include: {
      plan: { select: { name: true } },
      inputs: {
        include: { lot: true, jarBatch: { include: { batch: { select: { code: true, product: true } } } } },
        orderBy: { id: 'asc' },
      },
      trim: { include: { outlet: { select: { name: true } } }, orderBy: { id: 'asc' } },
      helpers: { orderBy: { name: 'asc' } },
      jarBatches: {
        include: { place: { select: { name: true } }, household: { select: { name: true } } },
        orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
      },
    },
  })
  if (row === null) throw notFound('such batch')
  return {
    ...lineOf(row),
    recipeId: row.recipeId,
    recipeVersion: row.recipeVersion,
    pack: row.pack,
    method: row.method,
    planId: row.planId,
    plan: row.plan?.name ?? null,
    planned: row.planned,
    inGrams: row.inGrams,
    unsealed: row.unsealed,
    handMinutes: row.handMinutes,
    expectedUnits: row.expectedUnits,
    expectedHandMinutes: row.expectedHandMinutes,
    process: row.process === null ? null : readProcess(row.code, row.process),
    allergens: row.allergens,
    note: row.note,
    finishedBy: row.finishedBy,
    finishedAt: row.finishedAt,
    version: row.version,
    inputs: row.inputs.flatMap(({ lot, jarBatch, grams, units, ...input }): BatchInput[] => {
      if (lot !== null) {
        const { id: lotId, crop, variety, broughtBy } = lot
        const named = input.class === null ? null : storedAs(ripenessClasses, input.class)
        return [{ kind: 'lot', lotId, crop, variety, broughtBy, class: named, grams }]
      }
      if (jarBatch === null) return []
      const { id: jarBatchId, batchId, batch } = jarBatch
      return [{ kind: 'jars', jarBatchId, batchId, ...batch, units: units ?? 0, grams }]
    }),
    trim: row.trim.map(({ kind, grams, outletId, outlet }) => ({
      kind: storedAs(trimKinds, kind),
      grams,
      outletId,
      outlet: outlet?.name ?? null,
    })),
    helpers: row.helpers.map(({ name, helperId }) => ({ name, helperId })),
    jars: row.jarBatches.map(({ id: jarId, stock, place, household }) => ({
      id: jarId,
      stock,
      place: place.name,
      household: household?.name ?? null,
    })),
  }
}

/** A record of an older form, or of another hand, is named rather than passed over. */
function readProcess(code: string, stored: unknown): StoredProcess {
  const read = processDocument.safeParse(stored)
  if (read.success) return read.data
  const where = read.error.issues.map((issue) => issue.path.join('.') || 'the whole').join(', ')
  throw new Error(`the process record of batch ${code} is stored in a form that no longer fits, at: ${where}`)
}

/** What was finished of a plan since an instant. */
export async function finishedOfPlan(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  planId: string,
  since: Date,
): Promise<{ planned: string; batchId: string; code: string; product: string }[]> {
  const rows = await prisma.batch.findMany({
    where: { coopId, planId, planned: { not: null }, finishedAt: { gte: since } },
    select: { id: true, planned: true, code: true, product: true },
    orderBy: { number: 'asc' },
  })
  return rows.map(({ id, planned, code, product }) => ({ planned: planned ?? '', batchId: id, code, product }))
}

/** The next batch's number and code. Whoever finishes another batch waits until this transaction ends. */
export async function nextNumber(writing: Writing): Promise<{ number: number; code: string }> {
  const [first] = await nextNumbers(writing, 1)
  if (first === undefined) throw new Error('one number was asked for, and none came')
  return first
}

/** As `nextNumber`, for so many batches at once. */
export async function nextNumbers(
  { transaction, asking }: Writing,
  many: number,
): Promise<{ number: number; code: string }[]> {
  const { batchesNumbered } = await transaction.coop.update({
    where: { id: asking.coopId },
    data: { batchesNumbered: { increment: many } },
    select: { batchesNumbered: true },
  })
  return Array.from({ length: many }, (_, n) => {
    const number = batchesNumbered - many + 1 + n
    return { number, code: batchCode(number) }
  })
}

export type NewBatch = Omit<
  Batch,
  'id' | 'recalled' | 'plan' | 'finishedBy' | 'finishedAt' | 'version' | 'inputs' | 'trim' | 'helpers' | 'jars'
> & {
  jar: string | null
  worthMinor: number
  inputs: (
    | { lotId: string; class: RipenessClass; grams: number }
    | { jarBatchId: string; units: number; grams: number }
  )[]
  trim: { kind: TrimKind; grams: number; outletId: string | null }[]
  helpers: { name: string; helperId: string }[]
}

/** Adds a batch with what hangs on it; its id. */
export async function insertBatch({ transaction, asking, now, newId }: Writing, batch: NewBatch): Promise<string> {
  const { coopId } = asking
  const id = newId()
  const { inputs, trim, helpers, madeOn, bestBy, process, ...row } = batch
  await transaction.batch.create({
    data: {
      ...row,
      coopId,
      id,
      madeOn: dateColumn(madeOn),
      bestBy: bestBy === null ? null : dateColumn(bestBy),
      process: process ?? Prisma.DbNull,
      finishedBy: asking.name,
      finishedAt: now,
    },
  })
  const own = { coopId, batchId: id }
  await transaction.batchInput.createMany({ data: inputs.map((input) => ({ ...own, id: newId(), ...input })) })
  await transaction.batchTrim.createMany({ data: trim.map((one) => ({ ...own, id: newId(), ...one })) })
  await transaction.batchHelper.createMany({ data: helpers.map((one) => ({ ...own, ...one })) })
  return id
}

/** A batch on which nothing hangs: of what went in and who made it nothing is known. */
export type BareBatch = Omit<NewBatch, 'inputs' | 'trim' | 'helpers'>

/** Adds many batches in one statement; their ids in the same order. */
export async function insertBareBatches(
  { transaction, asking, now, newId }: Writing,
  batches: readonly BareBatch[],
): Promise<string[]> {
  const rows = batches.map((batch) => ({ ...batch, id: newId() }))
  // One value for all of them: Prisma would take several times as long to build the rows as the database to write them.
  await transaction.$executeRaw`
    INSERT INTO "Batch" ("coopId", "finishedBy", "finishedAt", "id", "number", "code", "recipeId", "recipeVersion", "pack",
      "product", "variety", "method", "unit", "unitsName", "jar", "keeping", "madeOn", "bestBy", "planId", "planned",
      "inGrams", "units", "unsealed", "handMinutes", "expectedUnits", "expectedHandMinutes", "process", "allergens",
      "worthMinor", "note")
    SELECT ${asking.coopId}, ${asking.name}, ${now}::timestamptz, b."id", b."number", b."code", b."recipeId",
      b."recipeVersion", b."pack", b."product", b."variety", b."method", b."unit", b."unitsName", b."jar", b."keeping",
      b."madeOn", b."bestBy", b."planId", b."planned", b."inGrams", b."units", b."unsealed", b."handMinutes",
      b."expectedUnits", b."expectedHandMinutes", b."process", b."allergens", b."worthMinor", b."note"
    FROM jsonb_populate_recordset(NULL::"Batch", ${JSON.stringify(rows)}::jsonb) b`
  return rows.map(({ id }) => id)
}

/** Corrects what may be corrected; conflict where somebody else did meanwhile. */
export async function updateBatch(
  { transaction, asking }: Writing,
  id: string,
  version: number,
  change: {
    note: string | null
    bestBy: string | null
    handMinutes: number | null
    helpers: { name: string; helperId: string | null }[]
  },
): Promise<void> {
  const { coopId } = asking
  const { note, bestBy, handMinutes, helpers } = change
  const { count } = await transaction.batch.updateMany({
    where: { coopId, id, version },
    data: { note, bestBy: bestBy === null ? null : dateColumn(bestBy), handMinutes, version: { increment: 1 } },
  })
  if (count === 0) {
    await findBatch(transaction, asking, id)
    throw changedMeanwhile('this batch')
  }
  await transaction.batchHelper.deleteMany({ where: { coopId, batchId: id } })
  await transaction.batchHelper.createMany({ data: helpers.map((one) => ({ coopId, batchId: id, ...one })) })
}

/** A supply as it is now; nobody else writes an entry of it until this transaction ends. */
export async function lockSupply({ transaction, asking }: Writing, key: string): Promise<LockedSupply | null> {
  // Prisma has no word for a row's lock.
  const [row] = await transaction.$queryRaw<LockedSupply[]>`
    SELECT "id", "name", "unit", "onHand" FROM "Supply"
    WHERE "coopId" = ${asking.coopId} AND "key" = ${key} AND NOT "gone" FOR UPDATE`
  return row ?? null
}
export type LockedSupply = { id: string; name: string; unit: string; onHand: number }

export type JarsOfMaterial = {
  jarBatchId: string
  batchId: string
  recipeId: string
  pack: string
  code: string
  product: string
  unit: string
  unitsName: string
  stock: number
  place: string
  household: string | null
}

/** So many lines of an intermediate product are offered: the oldest first. */
const MOST_LINES = 50

/** Jars in stock of products (recipe and pack) that can go into another batch. Recalled ones are left out. */
export async function jarsOfProducts(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  products: readonly { recipeId: string; pack: string }[],
): Promise<JarsOfMaterial[]> {
  if (products.length === 0) return []
  const rows = await prisma.jarBatch.findMany({
    where: { coopId, stock: { gt: 0 }, batch: { recalledAt: null, OR: products.map((one) => ({ ...one })) } },
    include: { batch: true, place: true, household: true },
    orderBy: [{ batch: { madeOn: 'asc' } }, { id: 'asc' }],
    take: MOST_LINES,
  })
  return rows.map(jarsOf)
}

/** Lines by id; those of another co-op are not there. */
export async function findJars(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  ids: readonly string[],
): Promise<JarsOfMaterial[]> {
  const rows = await prisma.jarBatch.findMany({
    where: { coopId, id: { in: [...ids] } },
    include: { batch: true, place: true, household: true },
  })
  return rows.map(jarsOf)
}

/** What was noted of a batch since it was finished, oldest first. */
export async function listBatchChanges(
  prisma: TransactionClient,
  { coopId }: OfCoop,
  batchId: string,
): Promise<{ at: Date; who: string; what: string }[]> {
  return prisma.change.findMany({
    where: { coopId, noun: 'batch', nounId: batchId },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
    select: { at: true, who: true, what: true },
    take: 100,
  })
}

type JarsRow = {
  id: string
  batchId: string
  stock: number
  batch: { recipeId: string; pack: string; code: string; product: string; unit: string; unitsName: string }
  place: { name: string }
  household: { name: string } | null
}

function jarsOf({ id, batchId, stock, batch, place, household }: JarsRow): JarsOfMaterial {
  const { recipeId, pack, code, product, unit, unitsName } = batch
  return {
    jarBatchId: id,
    batchId,
    recipeId,
    pack,
    code,
    product,
    unit,
    unitsName,
    stock,
    place: place.name,
    household: household?.name ?? null,
  }
}

const lineColumns = {
  id: true,
  number: true,
  code: true,
  product: true,
  variety: true,
  unit: true,
  unitsName: true,
  keeping: true,
  madeOn: true,
  bestBy: true,
  units: true,
  recalledAt: true,
} as const

type LineRow = Omit<BatchLine, 'keeping' | 'madeOn' | 'bestBy' | 'recalled'> & {
  keeping: string
  madeOn: Date
  bestBy: Date | null
  recalledAt: Date | null
}

function lineOf(row: LineRow): BatchLine {
  const { id, number, code, product, variety, unit, unitsName, units } = row
  return {
    id,
    number,
    code,
    product,
    variety,
    unit,
    unitsName,
    units,
    keeping: storedAs(keepings, row.keeping),
    madeOn: storedDate(row.madeOn),
    bestBy: row.bestBy === null ? null : storedDate(row.bestBy),
    recalled: row.recalledAt !== null,
  }
}
