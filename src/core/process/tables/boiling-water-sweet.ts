import type { ProcessRow } from '../types.ts'

/** Fruit butters, jams, jellies, pie fillings, chutneys and salsas of fruit in a boiling-water canner. */
export const boilingWaterSweetSpreads: readonly ProcessRow[] = []
