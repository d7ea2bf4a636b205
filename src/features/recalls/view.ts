import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking } from '../../web/asking.ts'
import { findRecall, type Recall } from './queries.ts'
import { type Whereabouts, whereabouts } from './trace/load.ts'
import { batchesMadeOf, type TracedBatch, tracedBatches } from './trace/queries.ts'

/** A recall with all that its page shows. */
export type RecallView = {
  recall: Recall
  batches: TracedBatch[]
  where: Whereabouts
  /** Batches made of the recalled ones' jars that nobody has recalled. */
  madeOf: TracedBatch[]
}

/** As many queries however many batches and jars there are. */
export async function viewRecall(
  prisma: TransactionClient,
  asking: Pick<Asking, 'coopId'>,
  id: string,
): Promise<RecallView> {
  const recall = await findRecall(prisma, asking, id)
  const own = new Set(recall.batches.map((batch) => batch.id))
  const all = await tracedBatches(prisma, asking, await batchesMadeOf(prisma, asking, [...own]))
  return {
    recall,
    batches: all.filter((batch) => own.has(batch.id)),
    where: await whereabouts(prisma, asking, [...own]),
    madeOf: all.filter((batch) => !own.has(batch.id) && !batch.recalled),
  }
}

/** What a household took or has of recalled batches. Units of one batch, taken between two instants. */
export type HouseholdHas = {
  householdId: string
  household: string
  took: { batchId: string; units: number; first: Date; last: Date }[]
  owns: { batchId: string; units: number; place: string }[]
}

/** Whom to tell, by name: households that took some, had some shared out to them, or own some that stands here. */
export function households({ standing, gone }: Whereabouts): HouseholdHas[] {
  const found = new Map<string, HouseholdHas>()
  const of = (householdId: string | null, household: string | null): HouseholdHas | null => {
    if (householdId === null || household === null) return null
    const one = found.get(householdId) ?? { householdId, household, took: [], owns: [] }
    found.set(householdId, one)
    return one
  }
  for (const { kind, householdId, household, batchId, units, first, last } of gone)
    if (kind === 'take' || kind === 'share' || kind === 'give')
      of(householdId, household)?.took.push({ batchId, units, first, last })
  for (const { householdId, household, batchId, units, place } of standing)
    of(householdId, household)?.owns.push({ batchId, units, place })
  return [...found.values()].sort((a, b) => a.household.localeCompare(b.household))
}
