import { forRoles } from '../../web/roles.ts'

/** Adding, changing, ordering and removing outlets. */
export const mayKeepOutlets = forRoles('steward', 'planner')
