import type { Asking } from '../../web/asking.ts'

/** Changing where the co-op is and how its people read figures. */
export const mayKeepCoop = (asking: Asking): boolean => asking.role === 'steward'
