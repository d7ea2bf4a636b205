import type { Asking } from '../../web/asking.ts'

/** Making and changing plans, working them out and stopping that. */
export const mayPlan = (asking: Asking): boolean => asking.role === 'steward'
