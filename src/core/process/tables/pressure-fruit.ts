import type { ProcessRow } from '../types.ts'

/** Fruit under pressure. */
export const pressureFruit: readonly ProcessRow[] = []
