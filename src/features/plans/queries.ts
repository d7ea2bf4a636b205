import type { WishFor } from '../../core/division/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'

/** What a plan is made of; money in minor units. */
export type PlanValues = {
  name: string
  lotIds: string[]
  dayIds: string[]
  wishes: WishFor[]
  budgetMinor: number | null
  /** Outlets that this plan may not use. */
  closedOutletIds: string[]
}
export type Plan = PlanValues & { id: string; version: number }

/** So many plans on one page of the list. */
export const PLANS_PER_PAGE = 30

/** Plans, newest first, and whether there are more after this page (from 1). */
export async function listPlans(
  prisma: TransactionClient,
  { coopId }: Asking,
  page: number,
): Promise<{ plans: Plan[]; more: boolean }> {
  const rows = await prisma.plan.findMany({
    where: { coopId },
    include: parts,
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
    skip: (page - 1) * PLANS_PER_PAGE,
    take: PLANS_PER_PAGE + 1,
  })
  return { plans: rows.slice(0, PLANS_PER_PAGE).map(fromRow), more: rows.length > PLANS_PER_PAGE }
}

export async function findPlan(prisma: TransactionClient, asking: Pick<Asking, 'coopId'>, id: string): Promise<Plan> {
  const row = await prisma.plan.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } }, include: parts })
  if (row === null) throw notFound('such plan')
  return fromRow(row)
}

/** Plans that lots are in already, by lot. */
export async function plansOfLots(
  prisma: TransactionClient,
  { coopId }: Asking,
): Promise<Map<string, { id: string; name: string }[]>> {
  const rows = await prisma.planLot.findMany({ where: { coopId, lot: { closedOn: null } }, include: { plan: true } })
  const plans = new Map<string, { id: string; name: string }[]>()
  for (const { lotId, plan } of rows) {
    plans.set(lotId, [...(plans.get(lotId) ?? []), { id: plan.id, name: plan.name }])
  }
  return plans
}

/** Adds a plan; refused when it names a lot, day, recipe or outlet that is not there. */
export async function addPlan(writing: Writing, values: PlanValues): Promise<Plan> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  const id = newId()
  await transaction.plan.create({
    data: { coopId, id, name: values.name, budgetMinor: values.budgetMinor, createdAt: now },
  })
  await writeParts(transaction, coopId, id, values)
  await noteChange(writing, 'plan', id, `${values.name} begun`)
  return findPlan(transaction, asking, id)
}

/**
 * Changes what is given and leaves the rest as it is. Refuses with `conflict` when the version that was read is no
 * longer the newest, and what it names that is not there.
 *
 * @param what one plain line for the list of changes: "wishes changed"
 */
export async function changePlan(
  writing: Writing,
  id: string,
  version: number,
  change: Partial<PlanValues>,
  what: string,
): Promise<Plan> {
  const { transaction, asking } = writing
  const { coopId } = asking
  const { name, budgetMinor } = change
  const { count } = await transaction.plan.updateMany({
    where: { coopId, id, version },
    data: {
      version: { increment: 1 },
      ...(name === undefined ? {} : { name }),
      ...(budgetMinor === undefined ? {} : { budgetMinor }),
    },
  })
  const now = await findPlan(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this plan')
  await writeParts(transaction, coopId, id, change)
  await noteChange(writing, 'plan', id, `${now.name}: ${what}`)
  return findPlan(transaction, asking, id)
}

const parts = { lots: true, days: true, wishes: true, closed: true } as const

async function writeParts(
  transaction: TransactionClient,
  coopId: string,
  planId: string,
  { lotIds, dayIds, wishes, closedOutletIds }: Partial<PlanValues>,
): Promise<void> {
  const where = { coopId, planId }
  if (lotIds !== undefined) {
    await refuseUnknown('lots', lotIds, (ids) => transaction.lot.count({ where: { coopId, id: { in: ids } } }))
    await transaction.planLot.deleteMany({ where })
    await transaction.planLot.createMany({ data: lotIds.map((lotId) => ({ ...where, lotId })) })
  }
  if (dayIds !== undefined) {
    await refuseUnknown('days', dayIds, (ids) => transaction.workDay.count({ where: { coopId, id: { in: ids } } }))
    await transaction.planDay.deleteMany({ where })
    await transaction.planDay.createMany({ data: dayIds.map((workDayId) => ({ ...where, workDayId })) })
  }
  if (closedOutletIds !== undefined) {
    await refuseUnknown('outlets', closedOutletIds, (ids) =>
      transaction.outlet.count({ where: { coopId, id: { in: ids } } }),
    )
    await transaction.closedOutlet.deleteMany({ where })
    await transaction.closedOutlet.createMany({ data: closedOutletIds.map((outletId) => ({ ...where, outletId })) })
  }
  if (wishes !== undefined) {
    const recipeIds = [...new Set(wishes.map((wish) => wish.recipeId))]
    await refuseUnknown('wishes', recipeIds, (ids) => transaction.recipe.count({ where: { coopId, id: { in: ids } } }))
    await transaction.wish.deleteMany({ where })
    await transaction.wish.createMany({ data: wishes.map((wish) => ({ ...where, ...wish })) })
  }
}

async function refuseUnknown(
  field: string,
  ids: readonly string[],
  count: (ids: string[]) => Promise<number>,
): Promise<void> {
  if (new Set(ids).size < ids.length) throw refused(`Name each of the ${field} once.`, { [field]: 'Name each once' })
  if (ids.length > 0 && (await count([...ids])) < ids.length) {
    throw refused('Something that was chosen is no longer there. Choose again.', {
      [field]: 'Choose from what is there: something that was chosen is gone',
    })
  }
}

type Row = {
  id: string
  name: string
  budgetMinor: number | null
  version: number
  lots: { lotId: string }[]
  days: { workDayId: string }[]
  wishes: { recipeId: string; pack: string; atLeast: number; about: number; atMost: number; matters: number }[]
  closed: { outletId: string }[]
}

function fromRow({ id, name, budgetMinor, version, lots, days, wishes, closed }: Row): Plan {
  return {
    id,
    name,
    budgetMinor,
    version,
    lotIds: lots.map(({ lotId }) => lotId).sort(),
    dayIds: days.map(({ workDayId }) => workDayId).sort(),
    wishes: wishes
      .map(({ recipeId, pack, atLeast, about, atMost, matters }) => ({
        recipeId,
        pack,
        atLeast,
        about,
        atMost,
        matters: mattersOf(matters),
      }))
      .sort((a, b) => (`${a.recipeId}:${a.pack}` < `${b.recipeId}:${b.pack}` ? -1 : 1)),
    closedOutletIds: closed.map(({ outletId }) => outletId).sort(),
  }
}

function mattersOf(stored: number): WishFor['matters'] {
  if (stored !== 1 && stored !== 2 && stored !== 3) throw new Error(`${stored} is stored where 1, 2 or 3 belongs`)
  return stored
}
