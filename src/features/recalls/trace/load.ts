import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import {
  batchesBehind,
  batchesMadeOf,
  batchesOfLot,
  type Gone,
  goneJars,
  type Standing,
  standingJars,
  type TracedBatch,
  type TracedLot,
  tracedBatches,
  tracedLot,
} from './queries.ts'

/** Where jars of some batches stand, and how the others left. */
export type Whereabouts = { standing: Standing[]; gone: Gone[] }

export type LotTrace = Whereabouts & { lot: TracedLot; batches: TracedBatch[] }

/** `behind`: the batches whose jars went into it, to any depth; `ahead`: those made of it. */
export type BatchTrace = Whereabouts & { batch: TracedBatch; behind: TracedBatch[]; ahead: TracedBatch[] }

type OfCoop = Pick<Asking, 'coopId'>

/** From a lot to every batch and jar of it. The number of queries does not depend on how many there are. */
export async function traceLot(prisma: TransactionClient, asking: OfCoop, lotId: string): Promise<LotTrace> {
  const lot = await tracedLot(prisma, asking, lotId)
  const ids = await batchesOfLot(prisma, asking, lotId)
  return { lot, batches: await tracedBatches(prisma, asking, ids), ...(await whereabouts(prisma, asking, ids)) }
}

/** From a batch back to its lots, and forward to every jar of it and of what was made of it. As many queries whatever there is. */
export async function traceBatch(prisma: TransactionClient, asking: OfCoop, batchId: string): Promise<BatchTrace> {
  const forward = await batchesMadeOf(prisma, asking, [batchId])
  if (forward.length === 0) throw notFound('such batch')
  const back = await batchesBehind(prisma, asking, batchId)
  const all = await tracedBatches(prisma, asking, [...new Set([...forward, ...back])])
  const batch = all.find(({ id }) => id === batchId)
  if (batch === undefined) throw notFound('such batch')
  const others = (ids: readonly string[]) => all.filter(({ id }) => id !== batchId && ids.includes(id))
  return { batch, behind: others(back), ahead: others(forward), ...(await whereabouts(prisma, asking, forward)) }
}

export async function whereabouts(
  prisma: TransactionClient,
  asking: OfCoop,
  batchIds: readonly string[],
): Promise<Whereabouts> {
  return {
    standing: await standingJars(prisma, asking, batchIds),
    gone: await goneJars(prisma, asking, batchIds),
  }
}
