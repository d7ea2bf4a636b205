import { forRoles } from '../../web/roles.ts'

/** Taking lots in, changing, moving, closing them. */
export const mayKeepLots = forRoles('steward', 'planner')
/** Dividing a lot into classes, and taking that back. */
export const maySort = forRoles('steward', 'planner', 'member', 'helper')
