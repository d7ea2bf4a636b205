import { type ApportionmentMethod, apportionmentMethods } from '../../../core/shares/index.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import { changedMeanwhile } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'

/** What a co-op counts how much, in points; the percentage goes by people in all households alike. */
export type RuleValues = {
  method: ApportionmentMethod
  pointsPerKg: number
  pointsPerHour: number
  pointsPerMoney: number
  byNeedPercent: number
}
/** `version` 0: nobody has agreed on one yet, and it is the one that we begin with. */
export type Rule = RuleValues & { version: number }

/** A point for a kilogram, an hour, a unit of money: our choice to begin with, and no more right than others. */
const firstRule: Rule = {
  method: 'largest-remainder',
  pointsPerKg: 1,
  pointsPerHour: 1,
  pointsPerMoney: 1,
  byNeedPercent: 0,
  version: 0,
}

export async function findRule(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>): Promise<Rule> {
  const row = await prisma.shareRule.findUnique({ where: { coopId }, omit: { coopId: true } })
  return row === null ? firstRule : { ...row, method: storedAs(apportionmentMethods, row.method) }
}

/** Refused as changed meanwhile for another version than the one that stands, 0 where there is none. */
export async function saveRule(writing: Writing, version: number, values: RuleValues): Promise<Rule> {
  const { transaction, asking } = writing
  const { coopId } = asking
  const { count } =
    version === 0
      ? await transaction.shareRule.createMany({ data: [{ coopId, ...values }], skipDuplicates: true })
      : await transaction.shareRule.updateMany({
          where: { coopId, version },
          data: { ...values, version: { increment: 1 } },
        })
  if (count === 0) throw changedMeanwhile('what counts how much')
  await noteChange(writing, 'shares', 'rule', 'what counts how much was set')
  return findRule(transaction, asking)
}

export type SharingHousehold = { id: string; name: string; people: number }

/** The households by name, with how many people live there. */
export async function listSharing(prisma: TransactionClient, asking: Asking): Promise<SharingHousehold[]> {
  const rows = await prisma.household.findMany({
    where: { coopId: asking.coopId },
    select: { id: true, name: true, people: true },
  })
  return rows.sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

/** Writes how many people live in these households; the others stay as they are. */
export async function savePeople(writing: Writing, counts: readonly { id: string; people: number }[]): Promise<void> {
  const { transaction, asking } = writing
  for (const { id, people } of counts) {
    const { count } = await transaction.household.updateMany({
      where: { coopId: asking.coopId, id },
      data: { people },
    })
    if (count === 0) throw notFound('such household')
  }
  await noteChange(writing, 'shares', 'people', 'people in the households were counted')
}
