import type { Asking } from '../../web/asking.ts'

/** Taking lots in, changing, moving, closing them. */
export const mayKeepLots = (asking: Asking): boolean => asking.role === 'steward'
/** Dividing a lot into classes, and taking that back. */
export const maySort = (asking: Asking): boolean => asking.role === 'steward'
