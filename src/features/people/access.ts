import { forRoles } from '../../web/roles.ts'

/** Households, roles, invitations, new passwords, leaving: who is in the co-op and what they may. */
export const mayKeepPeople = forRoles('steward')
