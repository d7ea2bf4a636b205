import { forRoles } from '../../web/roles.ts'

/** Adding, changing and removing equipment. */
export const mayKeepEquipment = forRoles('steward', 'planner')
