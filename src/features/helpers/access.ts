import type { Asking } from '../../web/asking.ts'

/** Adding, changing and removing helpers and their hours. */
export const mayKeepHelpers = (asking: Asking): boolean => asking.role === 'steward'
