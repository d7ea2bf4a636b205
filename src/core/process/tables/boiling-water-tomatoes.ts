import type { ProcessRow } from '../types.ts'

/** Tomatoes, tomato sauces, ketchups and salsas in a boiling-water canner. */
export const boilingWaterTomatoes: readonly ProcessRow[] = []
