import type { JarSize, ProcessRow } from '../types.ts'
import { type BoilingWaterTable, boilingWater } from './rows.ts'

type Line = BoilingWaterTable['rows'][number]

/** A line for food packed boiling; minutes in the printed bands, lowest altitude first. */
export function hot(jars: readonly JarSize[], ...minutes: number[]): Line {
  return { pack: 'hot', jars, minutes }
}

/** A line for food packed uncooked; minutes in the printed bands, lowest altitude first. */
export function raw(jars: readonly JarSize[], ...minutes: number[]): Line {
  return { pack: 'raw', jars, minutes }
}

/**
 * Rows that hold for one published recipe only, with half an inch of headspace unless another is given. Jars are boiled
 * empty first where the lowest band is under ten minutes (Guide 1 p. 1-14).
 */
export function publishedRecipe({
  headspaceIn = 0.5,
  rows,
  ...table
}: Omit<BoilingWaterTable, 'asPublished' | 'sterileJars' | 'headspaceIn'> & { headspaceIn?: number }): ProcessRow[] {
  return boilingWater({
    ...table,
    headspaceIn,
    asPublished: true,
    rows: rows.map((line) => ({ ...line, sterileJars: Math.min(...line.minutes) < 10 })),
  })
}
