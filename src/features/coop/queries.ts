import type { UnitSystem } from '../../core/units/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { type Asking, memberOf } from '../../web/asking.ts'
import { unitsOf } from '../../web/queries.ts'
import { noteChange, type Writing } from '../changes/index.ts'

export type HouseholdCount = { name: string; members: number; helpers: number; lots: number }

/** What may be changed of a co-op; `units` are the co-op's own, whatever the one who asks reads. */
export type CoopValues = { name: string; town: string; altitudeM: number; units: UnitSystem }
export type CoopSettings = CoopValues & { id: string; timeZone: string; locale: string; currency: string }

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

export async function findCoop(prisma: TransactionClient, asking: Asking): Promise<CoopSettings> {
  const row = await prisma.coop.findUnique({
    where: { id: asking.coopId },
    omit: { createdAt: true, batchesNumbered: true },
  })
  if (row === null) throw notFound('such co-op')
  return { ...row, units: unitsOf(row.units) ?? 'metric' }
}

/** Changes the co-op; of two who do so at the same time the later one stands. */
export async function changeCoop(writing: Writing, values: CoopValues): Promise<CoopSettings> {
  const { transaction, asking } = writing
  const before = await findCoop(transaction, asking)
  const changes = coopChanges(before, values)
  if (changes.length === 0) return before
  await transaction.coop.update({ where: { id: asking.coopId }, data: values })
  await noteChange(writing, 'coop', asking.coopId, changes.join(', '))
  return findCoop(transaction, asking)
}

/** What whoever is asking chose to read; null: as the co-op does. */
export async function findOwnUnits(prisma: TransactionClient, asking: Asking): Promise<UnitSystem | null> {
  const row = await prisma.member.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id: memberOf(asking) } },
    select: { units: true },
  })
  if (row === null) throw notFound('such member')
  return unitsOf(row.units)
}

export async function changeOwnUnits({ transaction, asking }: Writing, units: UnitSystem | null): Promise<void> {
  await transaction.member.update({
    where: { coopId_id: { coopId: asking.coopId, id: memberOf(asking) } },
    data: { units },
  })
}

/** "altitude 640 m (was 610 m)": always in metres, as they are kept and compared. */
function coopChanges(before: CoopValues, after: CoopValues): string[] {
  const changed: string[] = []
  const note = (what: string, was: string, is: string) => was !== is && changed.push(`${what} ${is} (was ${was})`)
  note('name', before.name, after.name)
  note('town', before.town, after.town)
  note('altitude', `${before.altitudeM} m`, `${after.altitudeM} m`)
  note('units', before.units, after.units)
  return changed
}
