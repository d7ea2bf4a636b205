import { forRoles } from '../../web/roles.ts'

/** Adding, changing and removing the co-op's own sheets. */
export const mayKeepLabelSheets = forRoles('steward', 'planner')
