import { forRoles } from '../../web/roles.ts'

/** Finishing a batch, and correcting what is written of one. */
export const mayKeepBatches = forRoles('steward', 'planner', 'member', 'helper')
