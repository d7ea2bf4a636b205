import type { Asking } from '../../web/asking.ts'

/** Adding, changing, retiring recipes. */
export const mayKeepRecipes = (asking: Asking): boolean => asking.role === 'steward'
