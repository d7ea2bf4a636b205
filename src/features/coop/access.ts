import { forRoles } from '../../web/roles.ts'

/** Changing where the co-op is and how its people read figures. */
export const mayKeepCoop = forRoles('steward')
