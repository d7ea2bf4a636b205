import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, type Failure, notFound, refused } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'

/**
 * Why stock changed. put: a batch was finished; take: a household took some for itself; move: to another place or
 * owner (two entries); give: to somebody outside the co-op; share: handed out by a sharing; break: broken, spoiled or
 * thrown out; use: into another batch; buy: supplies that were bought; return: empty jars that came back; count: what a
 * stock-take found more or less; undo: takes another entry back.
 */
export const entryKinds = [
  'put',
  'take',
  'move',
  'give',
  'share',
  'break',
  'use',
  'buy',
  'return',
  'count',
  'undo',
] as const
export type EntryKind = (typeof entryKinds)[number]

/** What an entry is of: jars of a batch in a place, or a supply. */
export type Stocked = { jarBatchId: string } | { supplyId: string }

export type NewEntry = Stocked & {
  kind: EntryKind
  /** Signed; whole units, of a supply its own unit. */
  units: number
  /** Who took, got or returned it. */
  householdId?: string | null
  note?: string | null
  movement?: string | null
  undoesId?: string | null
  shareOutId?: string | null
}

/** Kinds that a recalled batch refuses; it can still be moved, thrown out and counted. */
export const takingKinds: readonly EntryKind[] = ['take', 'give', 'share', 'use']

const mostUnits = 100_000_000

/** No more of one thing is held: forms and counts take no more either. */
export const MOST_HELD = 10_000_000

/**
 * Writes one entry; the database moves the stock by it. Waits for whoever is writing an entry of the same stock.
 *
 * @returns its id and the stock that it left
 * @throws not-found for stock of another co-op as for none; conflict in words where fewer units are there than are
 * taken out, or the batch is recalled; refused for units that are not whole, or would make more than MOST_HELD
 */
export async function writeEntry(writing: Writing, entry: NewEntry): Promise<{ id: string; stockAfter: number }> {
  const { transaction, asking, now, newId } = writing
  const { kind, units } = entry
  if (!Number.isSafeInteger(units) || Math.abs(units) > mostUnits || (units === 0 && kind !== 'count'))
    throw refused('Enter a whole number, and not 0.', { units: 'Enter a whole number, and not 0' })
  const { name, stock, recalled } = await lockedStock(transaction, asking, entry)
  if (recalled && takingKinds.includes(kind))
    throw conflict(`${name} is recalled: leave it where it is, and read the notice.`)
  if (stock + units < 0) throw conflict(tooFew(name, stock))
  if (units > 0 && stock + units > MOST_HELD) {
    const words = `With ${stock} of ${name} there already, add ${Math.max(0, MOST_HELD - stock)} at most`
    throw refused(words, { units: words })
  }
  const id = newId()
  const { stockAfter } = await transaction.shelfEntry.create({
    data: {
      coopId: asking.coopId,
      id,
      at: now,
      by: asking.name,
      kind,
      units,
      jarBatchId: 'jarBatchId' in entry ? entry.jarBatchId : null,
      supplyId: 'supplyId' in entry ? entry.supplyId : null,
      householdId: entry.householdId ?? null,
      note: entry.note ?? null,
      movement: entry.movement ?? null,
      undoesId: entry.undoesId ?? null,
      shareOutId: entry.shareOutId ?? null,
    },
    select: { stockAfter: true },
  })
  return { id, stockAfter }
}

function tooFew(name: string, stock: number): string {
  if (stock === 0) return `None of ${name} is left here: somebody was quicker.`
  return `Only ${stock} of ${name} ${stock === 1 ? 'is' : 'are'} left here.`
}

type Locked = { name: string; stock: number; recalled: boolean }

/** The stock as it is now; nobody else writes an entry of it until this transaction ends. */
async function lockedStock(transaction: TransactionClient, { coopId }: Asking, of: Stocked): Promise<Locked> {
  // Prisma has no word for a row's lock.
  const [row] =
    'jarBatchId' in of
      ? await transaction.$queryRaw<Locked[]>`
          SELECT b."product" AS "name", j."stock", b."recalledAt" IS NOT NULL AS "recalled"
          FROM "JarBatch" j JOIN "Batch" b ON b."coopId" = j."coopId" AND b."id" = j."batchId"
          WHERE j."coopId" = ${coopId} AND j."id" = ${of.jarBatchId} FOR UPDATE OF j`
      : await transaction.$queryRaw<Locked[]>`
          SELECT "name", "onHand" AS "stock", false AS "recalled" FROM "Supply"
          WHERE "coopId" = ${coopId} AND "id" = ${of.supplyId} AND NOT "gone" FOR UPDATE`
  if (row === undefined) throw notFound('jarBatchId' in of ? 'such jars' : 'such supply')
  return row
}

/**
 * The line of a batch's jars in a place, made where there is none yet. `householdId` null: shared. Refused for a place
 * that is closed, or of another co-op.
 */
export async function jarBatchFor(
  { transaction, asking, now, newId }: Writing,
  key: { batchId: string; placeId: string; householdId: string | null },
): Promise<string> {
  const { coopId } = asking
  const where = { coopId, ...key }
  // Shared, so that many may put there at once and whoever closes the place waits for them. Prisma has no word for it.
  const [place] = await transaction.$queryRaw<{ name: string; closed: boolean }[]>`
    SELECT "name", "closed" FROM "Place" WHERE "coopId" = ${coopId} AND "id" = ${key.placeId} FOR SHARE`
  if (place === undefined) throw notFound('such place')
  if (place.closed) throw conflict(`${place.name} is closed: choose another place.`)
  // Two who make the same line at once: the second finds the first's (the index lets no other stand).
  await transaction.jarBatch.createMany({ data: [{ ...where, id: newId(), createdAt: now }], skipDuplicates: true })
  const { id } = await transaction.jarBatch.findFirstOrThrow({ where, select: { id: true } })
  return id
}

/**
 * Moves units to another place or owner: two entries of one movement, in the order of their stocks so that two movers
 * do not wait for each other.
 */
export async function moveUnits(
  writing: Writing,
  fromId: string,
  to: { placeId: string; householdId: string | null },
  units: number,
  more: Pick<NewEntry, 'note' | 'shareOutId'> & { kind?: 'move' | 'share' } = {},
): Promise<{ movement: string; toId: string }> {
  const { transaction, asking, newId } = writing
  if (!(Number.isSafeInteger(units) && units > 0))
    throw refused('Enter a whole number above 0.', { units: 'Enter a whole number above 0' })
  const from = await transaction.jarBatch.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id: fromId } },
    select: { batchId: true },
  })
  if (from === null) throw notFound('such jars')
  const toId = await jarBatchFor(writing, { batchId: from.batchId, ...to })
  if (toId === fromId) throw refused('They stand there already.', { placeId: 'They stand there already' })
  const movement = newId()
  const { kind = 'move', ...rest } = more
  const sides = [
    { jarBatchId: fromId, units: -units },
    { jarBatchId: toId, units },
  ].sort((a, b) => (a.jarBatchId < b.jarBatchId ? -1 : 1))
  for (const side of sides) await writeEntry(writing, { ...side, kind, ...rest, householdId: to.householdId, movement })
  return { movement, toId }
}

/**
 * Takes an entry back by a counter-entry, both sides of a movement together. Refused where it was taken back already,
 * is itself an undo, or where what it brought is no longer there.
 */
export async function undoEntry(writing: Writing, entryId: string): Promise<void> {
  const { transaction, asking } = writing
  const { coopId } = asking
  const entry = await transaction.shelfEntry.findUnique({ where: { coopId_id: { coopId, id: entryId } } })
  if (entry === null) throw notFound('such entry')
  if (entry.kind === 'undo') throw refused('This takes another entry back: enter it anew instead.')
  const sides =
    entry.movement === null
      ? [entry]
      : await transaction.shelfEntry.findMany({
          where: { coopId, movement: entry.movement, kind: { not: 'undo' } },
          orderBy: { jarBatchId: 'asc' },
        })
  for (const { id, jarBatchId, supplyId, units, householdId, movement } of sides) {
    const stocked = jarBatchId === null ? { supplyId: supplyId ?? '' } : { jarBatchId }
    // The lock first, so that of two who take the same entry back one waits and then sees the other's.
    await lockedStock(transaction, asking, stocked)
    const before = await transaction.shelfEntry.count({ where: { coopId, undoesId: id } })
    if (before > 0) throw conflict('Somebody took this back already.')
    await writeEntry(writing, { ...stocked, kind: 'undo', units: -units, householdId, movement, undoesId: id })
  }
}

/**
 * Writes what a stock-take found, as the difference to what is there now: nothing where it agrees.
 *
 * @param shown what the counter was shown; another count or a take since then is a conflict, as the count is older
 */
export async function countStock(writing: Writing, of: Stocked, shown: number, counted: number): Promise<void> {
  if (!isCount(counted))
    throw refused('Enter a whole number, 0 or more.', { counted: 'Enter a whole number, 0 or more' })
  const { name, stock } = await lockedStock(writing.transaction, writing.asking, of)
  if (stock !== shown) throw changedSinceShown(name, stock, shown)
  if (stock !== counted) await writeEntry(writing, { ...of, kind: 'count', units: counted - stock, note: 'stock-take' })
}

/** Whether a stock-take may find so many. */
export function isCount(counted: number): boolean {
  return Number.isSafeInteger(counted) && counted >= 0 && counted <= mostUnits
}

/** The conflict of a count that is older than the last entry. */
export function changedSinceShown(name: string, stock: number, shown: number): Failure {
  return conflict(
    `${name}: ${stock} ${stock === 1 ? 'is' : 'are'} on the shelf now, not ${shown} as when you began. Count again.`,
  )
}
