import { forRoles } from '../../web/roles.ts'

/** Making and changing plans, working them out and stopping that. */
export const mayPlan = forRoles('steward', 'planner')
