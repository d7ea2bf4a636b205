import type { ProcessRow } from '../types.ts'

/** Pickles, ferments and relishes in a boiling-water canner. */
export const boilingWaterPickles: readonly ProcessRow[] = []
