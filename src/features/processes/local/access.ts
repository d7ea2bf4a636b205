import { forRoles } from '../../../web/roles.ts'

/** Noting, changing and withdrawing a process of the local food authority. */
export const mayKeepLocalProcesses = forRoles('steward')
