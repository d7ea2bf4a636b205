import { forRoles } from '../../web/roles.ts'

/** Bringing tables in. Whoever may look at the shelf may take tables out. */
export const mayBringIn = forRoles('steward', 'planner')
