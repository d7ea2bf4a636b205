import type { Asking } from '../../../web/asking.ts'

/** Noting, changing and withdrawing a process of the local food authority. */
export const mayKeepLocalProcesses = (asking: Asking): boolean => asking.role === 'steward'
