import type { EquipmentOnHand } from '../../core/division/question.ts'
import { type Gauge, gauges } from '../../core/process/index.ts'
import { equipmentKinds } from '../../core/produce/vocabulary.ts'
import { storedAs, storedList } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { type Holds, readHolds } from './holds.ts'

/** What a canner is beside a machine whose minutes are counted; null: not its kind's, or not known. */
type CannerFacts = {
  /** Of a pressure canner alone; null there: taken in before this was asked. */
  gauge: Gauge | null
  insideWidthMm: number | null
  insideHeightMm: number | null
  /** Jars of each size that one load takes; empty: as many as recipes say. */
  holds: Holds
  /** Minutes until a full one boils, steams or is at pressure; null: the published middle. */
  comeUpMinutes: number | null
  /** Minutes from the end of the process until jars may be lifted out; null: the published least. */
  coolDownMinutes: number | null
  /** Burners that all of them together cover; null: one each. */
  burners: number | null
}
/** Minutes of each day between which it can be used; both null: as the kitchen is open. */
type UsableHours = { fromMinute: number | null; toMinute: number | null }
export type Equipment = Pick<
  EquipmentOnHand,
  'id' | 'kind' | 'name' | 'count' | 'roomMl' | 'aroundTheClock' | 'outOn'
> &
  CannerFacts &
  UsableHours & { version: number }
export type EquipmentValues = Pick<EquipmentOnHand, 'kind' | 'name' | 'count' | 'roomMl' | 'aroundTheClock'> &
  CannerFacts &
  UsableHours

/** All equipment in the order of the kinds, then by name; `outOn` has the ids of the days on which it cannot be used. */
export async function listEquipment(prisma: TransactionClient, asking: Asking): Promise<Equipment[]> {
  const rows = await prisma.equipment.findMany({ where: { coopId: asking.coopId }, include: { out: true } })
  return rows
    .map(fromRow)
    .sort((a, b) => equipmentKinds.indexOf(a.kind) - equipmentKinds.indexOf(b.kind) || a.name.localeCompare(b.name))
}

export async function findEquipment(prisma: TransactionClient, asking: Asking, id: string): Promise<Equipment> {
  const row = await prisma.equipment.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id } },
    include: { out: true },
  })
  if (row === null) throw notFound('such equipment')
  return fromRow(row)
}

/** The gauges of the co-op's pressure canners, each once; those whose gauge nobody has noted are left out. */
export async function gaugesAtHand(prisma: TransactionClient, asking: Pick<Asking, 'coopId'>): Promise<Gauge[]> {
  const rows = await prisma.equipment.findMany({
    where: { coopId: asking.coopId, kind: 'pressure-canner', gauge: { not: null } },
    select: { gauge: true },
    distinct: ['gauge'],
  })
  return storedList(
    gauges,
    rows.flatMap(({ gauge }) => gauge ?? []),
  )
}

export async function addEquipment(writing: Writing, values: EquipmentValues): Promise<Equipment> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await transaction.equipment.create({ data: { coopId: asking.coopId, id, ...values } })
  await noteChange(writing, 'equipment', id, `${values.name} added`)
  return findEquipment(transaction, asking, id)
}

/** Refuses with `conflict` when the version that was read is no longer the newest. */
export async function changeEquipment(
  writing: Writing,
  id: string,
  version: number,
  values: EquipmentValues,
): Promise<Equipment> {
  const { transaction, asking } = writing
  const { count } = await transaction.equipment.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { ...values, version: { increment: 1 } },
  })
  const now = await findEquipment(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this equipment')
  await noteChange(writing, 'equipment', id, `${values.name} changed`)
  return now
}

export async function removeEquipment(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findEquipment(transaction, asking, id)
  await transaction.equipment.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
  await noteChange(writing, 'equipment', id, `${name} removed`)
}

type Row = Omit<Equipment, 'kind' | 'gauge' | 'outOn' | 'holds'> & {
  holds: unknown
  kind: string
  gauge: string | null
  out: { workDayId: string }[]
}

function fromRow(row: Row): Equipment {
  const { id, name, count, roomMl, aroundTheClock, insideWidthMm, insideHeightMm, version, out } = row
  const { comeUpMinutes, coolDownMinutes, burners, fromMinute, toMinute } = row
  return {
    id,
    kind: storedAs(equipmentKinds, row.kind),
    name,
    count,
    roomMl,
    aroundTheClock,
    gauge: row.gauge === null ? null : storedAs(gauges, row.gauge),
    insideWidthMm,
    insideHeightMm,
    holds: readHolds(row.holds),
    comeUpMinutes,
    coolDownMinutes,
    burners,
    fromMinute,
    toMinute,
    outOn: out.map((one) => one.workDayId),
    version,
  }
}
