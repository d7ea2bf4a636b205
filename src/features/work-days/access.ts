import { forRoles } from '../../web/roles.ts'

/** Adding, changing and removing work days, hours and what is out. */
export const mayKeepWorkDays = forRoles('steward', 'planner')
