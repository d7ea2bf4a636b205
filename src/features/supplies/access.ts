import type { Asking } from '../../web/asking.ts'

/** Counting, adding, changing and removing supplies. */
export const mayKeepSupplies = (asking: Asking): boolean => asking.role === 'steward'
