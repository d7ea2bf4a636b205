import type { Asking } from '../../web/asking.ts'

/** Adding, changing and removing equipment. */
export const mayKeepEquipment = (asking: Asking): boolean => asking.role === 'steward'
