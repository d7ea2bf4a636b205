import { forRoles } from '../../web/roles.ts'

/** Making addresses for calendar programs and taking them back. */
export const mayKeepCalendars = forRoles('steward', 'planner')
