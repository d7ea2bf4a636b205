import { forRoles } from '../../web/roles.ts'

/** Taking all data out, and deleting it. */
export const mayKeepData = forRoles('steward')
