import type { ProcessRow } from '../types.ts'

/** Vegetables, soups and other low-acid food under pressure. */
export const pressureVegetables: readonly ProcessRow[] = []
