import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking } from '../../web/asking.ts'

export type HouseholdCount = { name: string; members: number; helpers: number; lots: number }

/** The households by name, with how many belong to each and how many lots it brought. */
export async function countHouseholds(prisma: TransactionClient, asking: Asking): Promise<HouseholdCount[]> {
  const rows = await prisma.household.findMany({
    where: { coopId: asking.coopId },
    select: { name: true, _count: { select: { members: true, helpers: true, lots: true } } },
  })
  return rows
    .map(({ name, _count }) => ({ name, ..._count }))
    .sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}
