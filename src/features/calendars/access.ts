import type { Asking } from '../../web/asking.ts'

/** Making addresses for calendar programs and taking them back. */
export const mayKeepCalendars = (asking: Asking): boolean => asking.role === 'steward'
