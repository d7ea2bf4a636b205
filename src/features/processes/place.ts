import type { KitchenPlace } from '../../core/recipes/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import type { CoopWays } from '../../web/asking.ts'
import { gaugesAtHand } from '../equipment/queries.ts'
import { listLocalProcesses } from './local/queries.ts'

/** Where the co-op's recipes would be made: what their verdicts depend on beside themselves. */
export async function readPlace(
  prisma: TransactionClient,
  asking: { coopId: string; coop: Pick<CoopWays, 'altitudeM' | 'locale'> },
): Promise<KitchenPlace> {
  return {
    altitudeM: asking.coop.altitudeM,
    gauges: await gaugesAtHand(prisma, asking),
    local: await listLocalProcesses(prisma, asking),
  }
}
