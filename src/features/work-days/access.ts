import type { Asking } from '../../web/asking.ts'

/** Adding, changing and removing work days, hours and what is out. */
export const mayKeepWorkDays = (asking: Asking): boolean => asking.role === 'steward'
