import { lotSources, storages } from '../../core/produce/index.ts'
import type { Prisma } from '../../db/generated/client.ts'
import { dateColumn, storedAs, storedDate } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'
import { type Lot, type LotValues, type SortedGrams, type Sorting, type SortingWay, sortingWays } from './lot.ts'

/** So many closed lots are shown: the newest. */
export const CLOSED_LOTS_SHOWN = 100

/** All lots of which something is left, in the order of their arrival. */
export async function listLots(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>): Promise<Lot[]> {
  const rows = await prisma.lot.findMany({
    where: { coopId, closedOn: null },
    include: withNewest,
    orderBy: [{ arrivedOn: 'asc' }, { createdAt: 'asc' }, { id: 'asc' }],
  })
  return rows.map(lotOf)
}

/** The newest closed lots, the last closed first, and how many there are in all. */
export async function listClosedLots(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<{ lots: Lot[]; count: number }> {
  const where = { coopId, closedOn: { not: null } }
  const rows = await prisma.lot.findMany({
    where,
    include: withNewest,
    orderBy: [{ closedOn: 'desc' }, { createdAt: 'desc' }, { id: 'asc' }],
    take: CLOSED_LOTS_SHOWN,
  })
  return { lots: rows.map(lotOf), count: await countClosedLots(prisma, { coopId }) }
}

/** How many lots were closed. */
export async function countClosedLots(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>): Promise<number> {
  return prisma.lot.count({ where: { coopId, closedOn: { not: null } } })
}

/** One lot with its newest sorting; `notFound` for one of another co-op as for none. */
export async function findLot(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>, id: string): Promise<Lot> {
  const row = await prisma.lot.findUnique({ where: { coopId_id: { coopId, id } }, include: withNewest })
  if (row === null) throw notFound('such lot')
  return lotOf(row)
}

/** All sortings of a lot, oldest first. */
export async function listSortings(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  lotId: string,
): Promise<Sorting[]> {
  const rows = await prisma.sorting.findMany({
    where: { coopId, lotId },
    orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
  })
  return rows.map(sortingOf)
}

/** Who may have brought something: members with their household, and households, by name. */
export type Neighbour = { householdId: string; household: string; members: string[] }

/** All households with their members, by name. */
export async function listNeighbours(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<Neighbour[]> {
  const rows = await prisma.household.findMany({
    where: { coopId },
    include: { members: { orderBy: { name: 'asc' } } },
    orderBy: { name: 'asc' },
  })
  return rows.map(({ id, name, members }) => ({
    householdId: id,
    household: name,
    members: members.map((member) => member.name),
  }))
}

/** Adds a lot without any sorting: who calls it adds the first one in the same transaction. Its id. */
export async function insertLot({ transaction, asking, now, newId }: Writing, values: LotValues): Promise<string> {
  const id = newId()
  const { arrivedOn, ...rest } = values
  await transaction.lot.create({
    data: { coopId: asking.coopId, id, ...rest, arrivedOn: dateColumn(arrivedOn), createdAt: now },
  })
  return id
}

/** Changes a lot and raises its version. Refuses with `conflict` when the version that was read is no longer the newest. */
export async function updateLot(
  { transaction, asking }: Writing,
  id: string,
  version: number,
  change: Partial<LotValues> & { closedOn?: string | null },
): Promise<void> {
  const { coopId } = asking
  const { arrivedOn, closedOn, ...rest } = change
  const { count } = await transaction.lot.updateMany({
    where: { coopId, id, version },
    data: {
      ...rest,
      ...(arrivedOn === undefined ? {} : { arrivedOn: dateColumn(arrivedOn) }),
      ...(closedOn === undefined ? {} : { closedOn: closedOn === null ? null : dateColumn(closedOn) }),
      version: { increment: 1 },
    },
  })
  if (count > 0) return
  await findLot(transaction, asking, id)
  throw changedMeanwhile('this lot')
}

/**
 * Raises the versions of lots and takes their locks, in one order for all: who wants one of them too waits until this
 * transaction ends. Ids that are no lots of the co-op are passed over.
 */
export async function lockLots({ transaction, asking }: Writing, ids: readonly string[]): Promise<void> {
  for (const id of [...new Set(ids)].sort())
    await transaction.lot.updateMany({ where: { coopId: asking.coopId, id }, data: { version: { increment: 1 } } })
}

/** The batches that were made of a lot, newest first, with the grams that each took of it. */
export async function batchesOfLot(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  lotId: string,
): Promise<{ id: string; code: string; product: string; madeOn: string; grams: number }[]> {
  const rows = await prisma.batchInput.groupBy({ by: ['batchId'], where: { coopId, lotId }, _sum: { grams: true } })
  const grams = new Map(rows.map(({ batchId, _sum }) => [batchId, _sum.grams ?? 0]))
  const batches = await prisma.batch.findMany({
    where: { coopId, id: { in: [...grams.keys()] } },
    orderBy: { number: 'desc' },
    select: { id: true, code: true, product: true, madeOn: true },
  })
  return batches.map(({ madeOn, ...batch }) => ({
    ...batch,
    madeOn: storedDate(madeOn),
    grams: grams.get(batch.id) ?? 0,
  }))
}

/** Adds a sorting as the newest of its lot. */
export async function insertSorting(
  { transaction, asking, now, newId }: Writing,
  lotId: string,
  sorting: SortedGrams & { how: SortingWay; note: string | null },
): Promise<void> {
  const { coopId } = asking
  const newest = await transaction.sorting.findFirst({
    where: { coopId, lotId },
    orderBy: { createdAt: 'desc' },
    select: { createdAt: true },
  })
  // a later moment than the newest one, whatever the clock says: the order of the history hangs on it
  const createdAt = newest === null ? now : new Date(Math.max(now.getTime(), newest.createdAt.getTime() + 1))
  const { grams, setAsideGrams, lostGrams, usedGrams, how, note } = sorting
  await transaction.sorting.create({
    data: {
      coopId,
      id: newId(),
      lotId,
      sortedOn: dateColumn(sorting.sortedOn),
      firmGrams: grams.firm,
      ripeGrams: grams.ripe,
      softGrams: grams.soft,
      damagedGrams: grams.damaged,
      setAsideGrams,
      lostGrams,
      usedGrams,
      how,
      sortedBy: asking.name,
      note,
      createdAt,
    },
  })
}

/** Adds lots, each with its first sorting, in two statements; their ids in the same order. */
export async function insertLots(
  { transaction, asking, now, newId }: Writing,
  lots: readonly (LotValues & { sorting: SortedGrams & { how: SortingWay; note: string | null } })[],
): Promise<string[]> {
  const { coopId } = asking
  const rows = lots.map((lot) => ({ ...lot, id: newId() }))
  // One value for all of them: Prisma would take several times as long to build the rows as the database to write them.
  await transaction.$executeRaw`
    INSERT INTO "Lot" ("coopId", "createdAt", "id", "crop", "variety", "source", "broughtBy", "householdId", "arrivedOn",
      "storage", "weightGrams", "weightTyped", "priceMinor", "note")
    SELECT ${coopId}, ${now}::timestamptz, l."id", l."crop", l."variety", l."source", l."broughtBy", l."householdId",
      l."arrivedOn", l."storage", l."weightGrams", l."weightTyped", l."priceMinor", l."note"
    FROM jsonb_populate_recordset(NULL::"Lot", ${JSON.stringify(rows.map(({ sorting: _, ...lot }) => lot))}::jsonb) l`
  const sortings = rows.map(({ id: lotId, sorting: { grams, ...sorting } }) => ({
    ...{ ...sorting, id: newId(), lotId },
    ...{ firmGrams: grams.firm, ripeGrams: grams.ripe, softGrams: grams.soft, damagedGrams: grams.damaged },
  }))
  await transaction.$executeRaw`
    INSERT INTO "Sorting" ("coopId", "createdAt", "sortedBy", "id", "lotId", "sortedOn", "firmGrams", "ripeGrams",
      "softGrams", "damagedGrams", "setAsideGrams", "lostGrams", "usedGrams", "how", "note")
    SELECT ${coopId}, ${now}::timestamptz, ${asking.name}, s."id", s."lotId", s."sortedOn", s."firmGrams", s."ripeGrams",
      s."softGrams", s."damagedGrams", s."setAsideGrams", s."lostGrams", s."usedGrams", s."how", s."note"
    FROM jsonb_populate_recordset(NULL::"Sorting", ${JSON.stringify(sortings)}::jsonb) s`
  return rows.map(({ id }) => id)
}

const withNewest = {
  household: true,
  sortings: { orderBy: [{ createdAt: 'desc' }, { id: 'desc' }], take: 1 },
} satisfies Prisma.LotInclude

type SortingRow = {
  id: string
  sortedOn: Date
  firmGrams: number
  ripeGrams: number
  softGrams: number
  damagedGrams: number
  setAsideGrams: number
  lostGrams: number
  usedGrams: number
  how: string
  sortedBy: string
  note: string | null
  createdAt: Date
}
type LotRow = {
  id: string
  crop: string
  variety: string | null
  source: string
  broughtBy: string
  householdId: string | null
  household: { name: string } | null
  arrivedOn: Date
  storage: string
  weightGrams: number
  weightTyped: string
  priceMinor: number | null
  note: string | null
  version: number
  closedOn: Date | null
  sortings: SortingRow[]
}

function lotOf(row: LotRow): Lot {
  const { id, crop, variety, broughtBy, householdId, weightGrams, weightTyped, priceMinor, note, version } = row
  const [newest] = row.sortings
  if (newest === undefined) throw new Error(`the lot ${id} is stored without any sorting`)
  return {
    id,
    crop,
    variety,
    source: storedAs(lotSources, row.source),
    broughtBy,
    householdId,
    household: row.household?.name ?? null,
    arrivedOn: storedDate(row.arrivedOn),
    storage: storedAs(storages, row.storage),
    weightGrams,
    weightTyped,
    priceMinor,
    note,
    version,
    closedOn: row.closedOn === null ? null : storedDate(row.closedOn),
    sorting: sortingOf(newest),
  }
}

function sortingOf(row: SortingRow): Sorting {
  const { id, firmGrams, ripeGrams, softGrams, damagedGrams, setAsideGrams, lostGrams, usedGrams, sortedBy, note } = row
  return {
    id,
    sortedOn: storedDate(row.sortedOn),
    grams: { firm: firmGrams, ripe: ripeGrams, soft: softGrams, damaged: damagedGrams },
    setAsideGrams,
    lostGrams,
    usedGrams,
    how: storedAs(sortingWays, row.how),
    sortedBy,
    note,
    createdAt: row.createdAt.toISOString(),
  }
}
