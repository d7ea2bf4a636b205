import { type Brought as BroughtPoints, contribution, shareOut } from '../../../core/shares/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { findRule, listSharing, type Rule, type RuleValues } from '../rule/queries.ts'
import {
  type BroughtBy,
  type BroughtLot,
  broughtIn,
  findPeriod,
  nothingBrought,
  owedNow,
  type Period,
} from './queries.ts'

export type HouseholdStanding = {
  id: string
  name: string
  people: number
  lots: BroughtLot[]
  grams: number
  minutes: number
  moneyMinor: number
  points: number
  /** Its part of the next jars, of 1; null where neither points nor people say. */
  part: number | null
  owedMinor: number
}
export type StandingNow = { rule: Rule; period: Period; households: HouseholdStanding[] }

/** What every household brought, what that counts, and what it is owed; from `since` (ISO) or the last hand-out on. */
export async function standingNow(
  prisma: TransactionClient,
  asking: Asking,
  today: string,
  since?: string,
): Promise<StandingNow> {
  const rule = await findRule(prisma, asking)
  const members = await listSharing(prisma, asking)
  const period = await findPeriod(prisma, asking, today, since)
  const { by } = await broughtIn(prisma, asking, period)
  const owed = await owedNow(prisma, asking)
  const households = members.map((member) => {
    const brought = by.get(member.id) ?? nothingBrought
    return { ...member, ...brought, points: pointsFor(brought, rule), owedMinor: owed.get(member.id) ?? 0 }
  })
  const parts = partsOf(households, rule)
  return { rule, period, households: households.map((one) => ({ ...one, part: parts.get(one.id) ?? null })) }
}

/** Points for produce, work and money together. */
export function pointsFor(brought: Pick<BroughtBy, 'grams' | 'minutes' | 'moneyMinor'>, rule: RuleValues): number {
  const { grams, minutes, moneyMinor } = brought
  const counted: BroughtPoints = { lots: [{ lotId: 'all', grams }], minutes, money: moneyMinor / 100 }
  const rates = { perKg: rule.pointsPerKg, perHour: rule.pointsPerHour, perMoney: rule.pointsPerMoney }
  return contribution(counted, rates).points
}

/** The part of each household; none where neither points nor people say. */
function partsOf(
  households: readonly { id: string; points: number; people: number; owedMinor: number }[],
  { method, byNeedPercent }: RuleValues,
): Map<string, number> {
  if (!households.some(({ points, people }) => points > 0 || people > 0)) return new Map()
  const shares = shareOut({
    products: [],
    households: households.map(({ owedMinor, ...one }) => ({ ...one, owed: owedMinor })),
    method,
    byNeedPercent,
  })
  return new Map(shares.households.map(({ id, partByPoints, partByNeed }) => [id, partByPoints + partByNeed]))
}
