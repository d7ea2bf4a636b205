import type { SupplyOnHand } from '../../core/division/question.ts'
import { isUniqueViolation } from '../../db/errors.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'

export type Supply = SupplyOnHand & { id: string; version: number }
/** All but the key, which stays as long as the supply does: recipes name it. */
export type SupplyValues = Omit<SupplyOnHand, 'key'>
/** What was counted of a supply, and what the page had shown before. */
export type Count = { id: string; shown: number; counted: number }

/** All supplies by name. */
export async function listSupplies(prisma: TransactionClient, asking: Asking): Promise<Supply[]> {
  const rows = await prisma.supply.findMany({ where: { coopId: asking.coopId }, select: shown })
  return rows.sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findSupply(prisma: TransactionClient, asking: Asking, id: string): Promise<Supply> {
  const row = await prisma.supply.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } }, select: shown })
  if (row === null) throw notFound('such supply')
  return row
}

/** Refuses a key that is taken. */
export async function addSupply(writing: Writing, values: SupplyOnHand): Promise<Supply> {
  const { transaction, asking, newId } = writing
  const id = newId()
  try {
    await transaction.supply.create({ data: { coopId: asking.coopId, id, ...values } })
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = `Recipes know another supply as “${values.key}” already: choose another short name`
    throw refused(words, { key: words })
  }
  await noteChange(writing, 'supplies', id, `${values.name} added`)
  return findSupply(transaction, asking, id)
}

export async function changeSupply(
  writing: Writing,
  id: string,
  version: number,
  values: SupplyValues,
): Promise<Supply> {
  const { transaction, asking } = writing
  const { count } = await transaction.supply.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { ...values, version: { increment: 1 } },
  })
  const now = await findSupply(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this supply')
  await noteChange(writing, 'supplies', id, `${values.name} changed`)
  return now
}

/**
 * Writes what was counted, each only where it differs from what was shown. All or nothing: when another count came in
 * between, that is a `conflict`.
 */
export async function countSupplies(writing: Writing, counts: readonly Count[]): Promise<void> {
  const { transaction, asking } = writing
  for (const { id, shown: before, counted } of counts) {
    if (before === counted) continue
    const { count } = await transaction.supply.updateMany({
      where: { coopId: asking.coopId, id, onHand: before },
      data: { onHand: counted, version: { increment: 1 } },
    })
    const { name, unit, onHand } = await findSupply(transaction, asking, id)
    if (count === 0)
      throw conflict(
        `Somebody counted ${name} meanwhile and found ${onHand}. Look again, and save if yours should stand.`,
      )
    await noteChange(writing, 'supplies', id, `${name}: ${counted} ${unit} on hand`)
  }
}

/** Writes one count whatever was there before. */
export async function setOnHand(writing: Writing, id: string, onHand: number): Promise<Supply> {
  const before = await findSupply(writing.transaction, writing.asking, id)
  await countSupplies(writing, [{ id, shown: before.onHand, counted: onHand }])
  return findSupply(writing.transaction, writing.asking, id)
}

export async function removeSupply(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findSupply(transaction, asking, id)
  await transaction.supply.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
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
