import { forRoles } from '../../web/roles.ts'

/** Counting, adding, changing and removing supplies. */
export const mayKeepSupplies = forRoles('steward', 'planner')
