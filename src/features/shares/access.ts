import { forRoles } from '../../web/roles.ts'

/** Changing what counts how much, and how many people live where. */
export const mayKeepShareRule = forRoles('steward')
/** Proposing a sharing out, handing it out, taking it back, dropping it. */
export const mayShareOut = forRoles('steward', 'planner')
