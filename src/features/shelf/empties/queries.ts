import type { TransactionClient } from '../../../db/transaction.ts'
import { refused } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import type { Writing } from '../../changes/index.ts'
import { hasHousehold } from '../jars/queries.ts'
import { writeEntry } from '../ledger.ts'

/** Jars of one size at one household: got with something in them, and brought back empty. */
export type Empties = { householdId: string; jar: string; got: number; returned: number }

/**
 * What each household got and brought back, by jar size. Got: jars that became its own by a batch, a move or a sharing,
 * less those that went from it to others, and what it took out of what was not its own. Entries that were taken back
 * count for nothing. The database keeps these totals at the end of each transaction: within one, its own entries are not
 * in them yet.
 */
export async function listEmpties(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>): Promise<Empties[]> {
  return prisma.householdJars.findMany({
    where: { coopId, OR: [{ got: { not: 0 } }, { returned: { not: 0 } }] },
    select: { householdId: true, jar: true, got: true, returned: true },
    orderBy: [{ householdId: 'asc' }, { jar: 'asc' }],
  })
}

/** The supplies that are jars, by the size in their short name, "jar-pint". */
export async function jarSupplies(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<{ id: string; jar: string; name: string; onHand: number }[]> {
  const rows = await prisma.supply.findMany({
    where: { coopId, gone: false, key: { startsWith: 'jar-' } },
    select: { id: true, key: true, name: true, onHand: true },
    orderBy: { key: 'asc' },
  })
  return rows.map(({ key, ...rest }) => ({ ...rest, jar: key.slice('jar-'.length) }))
}

/** What is said of a return that names no household of the co-op, or jars that are not among its supplies. */
export const returnWords = { householdId: 'Choose who brings them back', jar: 'Choose which jars' } as const

/**
 * Jars came back empty: they are supplies again. Refused by field for a household that is not there and for jars that
 * are not among the supplies.
 *
 * @returns the entry's id
 */
export async function returnEmpties(
  writing: Writing,
  { householdId, jar, units }: { householdId: string; jar: string; units: number },
): Promise<string> {
  const { transaction, asking } = writing
  const supply = (await jarSupplies(transaction, asking)).find((one) => one.jar === jar)
  const known = await hasHousehold(transaction, asking, householdId)
  if (supply === undefined || !known) {
    const fields = {
      ...(known ? {} : { householdId: returnWords.householdId }),
      ...(supply === undefined ? { jar: returnWords.jar } : {}),
    }
    throw refused(`${Object.values(fields).join('. ')}.`, fields)
  }
  return (await writeEntry(writing, { supplyId: supply.id, kind: 'return', units, householdId })).id
}
