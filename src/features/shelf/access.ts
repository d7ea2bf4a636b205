import { forRoles } from '../../web/roles.ts'

/** Taking, moving, giving away, counting, and taking such entries back. */
export const mayUseShelf = forRoles('steward', 'planner', 'member')
/** Adding, changing and closing places. */
export const mayKeepPlaces = forRoles('steward', 'planner')
