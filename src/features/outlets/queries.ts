import type { OpenOutlet } from '../../core/division/question.ts'
import { outletKinds, ripenessClasses } from '../../core/produce/vocabulary.ts'
import { storedAs, storedList } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'

/** `rank` 1 is used first; a closed outlet (`open` false) takes nothing in any plan. */
export type KeptOutlet = OpenOutlet & { rank: number; open: boolean; version: number }
export type OutletValues = Omit<KeptOutlet, 'id' | 'rank' | 'version'>

/** All outlets in the order of their use. */
export async function listOutlets(prisma: TransactionClient, asking: Asking): Promise<KeptOutlet[]> {
  const rows = await prisma.outlet.findMany({
    where: { coopId: asking.coopId },
    orderBy: [{ rank: 'asc' }, { id: 'asc' }],
  })
  return rows.map(fromRow)
}

export async function findOutlet(prisma: TransactionClient, asking: Asking, id: string): Promise<KeptOutlet> {
  const row = await prisma.outlet.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } } })
  if (row === null) throw notFound('such outlet')
  return fromRow(row)
}

/** Adds an outlet as the last to be used. */
export async function addOutlet(writing: Writing, values: OutletValues): Promise<KeptOutlet> {
  const { transaction, asking, newId } = writing
  const id = newId()
  const last = (await listOutlets(transaction, asking)).at(-1)?.rank ?? 0
  await transaction.outlet.create({ data: { coopId: asking.coopId, id, rank: last + 1, ...values } })
  await noteChange(writing, 'outlets', id, `${values.name} added`)
  return findOutlet(transaction, asking, id)
}

export async function changeOutlet(
  writing: Writing,
  id: string,
  version: number,
  values: OutletValues,
): Promise<KeptOutlet> {
  const { transaction, asking } = writing
  const { count } = await transaction.outlet.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { ...values, version: { increment: 1 } },
  })
  const now = await findOutlet(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this outlet')
  await noteChange(writing, 'outlets', id, `${values.name} changed`)
  return now
}

/** Puts an outlet at a rank, 1 the first; beyond the last means last. The others keep their order and close up. */
export async function rankOutlet(writing: Writing, id: string, rank: number): Promise<KeptOutlet> {
  const { transaction, asking } = writing
  // All rows are locked in one order, so that two who move at the same moment come one after the other.
  await transaction.$queryRaw`SELECT id FROM "Outlet" WHERE "coopId" = ${asking.coopId} ORDER BY id FOR UPDATE`
  const moved = await findOutlet(transaction, asking, id)
  const order = (await listOutlets(transaction, asking)).filter((outlet) => outlet.id !== id)
  order.splice(Math.max(0, rank - 1), 0, moved)
  for (const [place, outlet] of order.entries()) {
    if (outlet.rank === place + 1) continue
    await transaction.outlet.update({
      where: { coopId_id: { coopId: asking.coopId, id: outlet.id } },
      data: { rank: place + 1, version: { increment: 1 } },
    })
  }
  const now = await findOutlet(transaction, asking, id)
  if (now.rank !== moved.rank) await noteChange(writing, 'outlets', id, `${now.name} is now used as number ${now.rank}`)
  return now
}

export async function removeOutlet(writing: Writing, id: string): Promise<void> {
  const { transaction, asking } = writing
  const { name } = await findOutlet(transaction, asking, id)
  await transaction.outlet.delete({ where: { coopId_id: { coopId: asking.coopId, id } } })
  await noteChange(writing, 'outlets', id, `${name} removed`)
}

type Row = Omit<KeptOutlet, 'kind' | 'classes'> & { coopId: string; kind: string; classes: string[] }

function fromRow({ coopId: _, ...row }: Row): KeptOutlet {
  return { ...row, kind: storedAs(outletKinds, row.kind), classes: storedList(ripenessClasses, row.classes) }
}
