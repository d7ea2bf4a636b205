import { forRoles } from '../../web/roles.ts'

/** Adding, changing and removing helpers and their hours. */
export const mayKeepHelpers = forRoles('steward', 'planner')
