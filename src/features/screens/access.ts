import { forRoles } from '../../web/roles.ts'

/** Putting kitchen screens on the wall, and taking them down. */
export const mayKeepScreens = forRoles('steward', 'planner')
