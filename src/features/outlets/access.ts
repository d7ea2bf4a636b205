import type { Asking } from '../../web/asking.ts'

/** Adding, changing, ordering and removing outlets. */
export const mayKeepOutlets = (asking: Asking): boolean => asking.role === 'steward'
