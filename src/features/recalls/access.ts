import { forRoles } from '../../web/roles.ts'

/** Recalling batches, and lifting a recall. */
export const mayRecall = forRoles('steward', 'planner')
