import type { SupplyOnHand } from '../../core/division/question.ts'
import { isUniqueViolation } from '../../db/errors.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { writeEntry } from '../shelf/index.ts'

export type Supply = SupplyOnHand & { id: string; version: number }
/** All but the key, which stays as long as the supply does: recipes name it. */
export type SupplyValues = Omit<SupplyOnHand, 'key'>
/** What was counted of a supply, and what the page had shown before. */
export type Count = { id: string; shown: number; counted: number }

/** All supplies by name. */
export async function listSupplies(prisma: TransactionClient, asking: Asking): Promise<Supply[]> {
  const rows = await prisma.supply.findMany({ where: { coopId: asking.coopId, gone: false }, select: shown })
  return rows.sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findSupply(prisma: TransactionClient, asking: Asking, id: string): Promise<Supply> {
  const row = await prisma.supply.findFirst({ where: { coopId: asking.coopId, id, gone: false }, select: shown })
  if (row === null) throw notFound('such supply')
  return row
}

/** Refuses a key that is taken. One that was removed comes back with its ledger. */
export async function addSupply(writing: Writing, values: SupplyOnHand): Promise<Supply> {
  const { transaction, asking } = writing
  const { onHand, ...rest } = values
  const id = (await broughtBack(writing, rest)) ?? (await madeNew(writing, rest))
  const { onHand: left } = await findSupply(transaction, asking, id)
  if (onHand !== left) await writeEntry(writing, { supplyId: id, kind: 'count', units: onHand - left })
  await noteChange(writing, 'supplies', id, `${values.name} added`)
  return findSupply(transaction, asking, id)
}

async function broughtBack(
  { transaction, asking }: Writing,
  { key, ...values }: Omit<SupplyOnHand, 'onHand'>,
): Promise<string | null> {
  const [back] = await transaction.supply.updateManyAndReturn({
    where: { coopId: asking.coopId, key, gone: true },
    data: { ...values, gone: false, version: { increment: 1 } },
    select: { id: true },
  })
  return back?.id ?? null
}

async function madeNew({ transaction, asking, newId }: Writing, values: Omit<SupplyOnHand, 'onHand'>): Promise<string> {
  const id = newId()
  try {
    await transaction.supply.create({ data: { coopId: asking.coopId, id, onHand: 0, ...values } })
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = `Recipes know another supply as “${values.key}” already: choose another short name`
    throw refused(words, { key: words })
  }
  return id
}

export async function changeSupply(
  writing: Writing,
  id: string,
  version: number,
  values: SupplyValues,
): Promise<Supply> {
  const { transaction, asking } = writing
  const { onHand, ...rest } = values
  const { count } = await transaction.supply.updateMany({
    where: { coopId: asking.coopId, id, version, gone: false },
    data: { ...rest, version: { increment: 1 } },
  })
  const now = await findSupply(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this supply')
  if (onHand !== now.onHand) await writeEntry(writing, { supplyId: id, kind: 'count', units: onHand - now.onHand })
  await noteChange(writing, 'supplies', id, `${values.name} changed`)
  return { ...now, onHand }
}

/**
 * Writes what was counted, each only where it differs from what was shown. All or nothing: when another count came in
 * between, that is a `conflict`.
 */
export async function countSupplies(writing: Writing, counts: readonly Count[]): Promise<void> {
  const { transaction, asking } = writing
  for (const { id, shown: before, counted } of counts) {
    if (before === counted) continue
    // The lock with the new version: whoever writes an entry of it waits.
    await transaction.supply.updateMany({
      where: { coopId: asking.coopId, id, gone: false },
      data: { version: { increment: 1 } },
    })
    const { name, unit, onHand } = await findSupply(transaction, asking, id)
    if (onHand !== before)
      throw conflict(
        `Somebody counted ${name} meanwhile and found ${onHand}. Look again, and save if yours should stand.`,
      )
    await writeEntry(writing, { supplyId: id, kind: 'count', units: counted - onHand, note: 'stock-take' })
    await noteChange(writing, 'supplies', id, `${name}: ${counted} ${unit} on hand`)
  }
}

/** Writes one count whatever was there before. */
export async function setOnHand(writing: Writing, id: string, onHand: number): Promise<Supply> {
  const before = await findSupply(writing.transaction, writing.asking, id)
  await countSupplies(writing, [{ id, shown: before.onHand, counted: onHand }])
  return findSupply(writing.transaction, writing.asking, id)
}

/** Out of the lists; its entries stay. */
export async function removeSupply(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findSupply(transaction, asking, id)
  await transaction.supply.update({ where: { coopId_id: { coopId: asking.coopId, id } }, data: { gone: true } })
  await noteChange(writing, 'supplies', id, `${name} removed`)
}

const shown = {
  id: true,
  key: true,
  name: true,
  unit: true,
  onHand: true,
  packSize: true,
  packPriceMinor: true,
  packsAtMost: true,
  version: true,
} as const
