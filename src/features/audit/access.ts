import { forRoles } from '../../web/roles.ts'

/** Reading what happened at the door and with people's rights. The history of changes is everybody's. */
export const mayReadEvents = forRoles('steward')
