import { seen } from './sources.ts'
import type { JarSize, ProcessRow } from './types.ts'

/** The fact sheet that allows atmospheric steam canners for acid food. The USDA guide of 2015 is older than it. */
export const steamSource = seen(
  'steam-canners',
  undefined,
  'the guide of 2015 still advises against steam canners (p. 1-10); the sheet is later',
)

/** Without adding water, which is not allowed in the middle of a process, no longer can be held. */
export const longestSteamMinutes = 45

/** The jars the research was done with. */
export const steamJars: readonly JarSize[] = ['half-pint', 'pint', 'quart']

/** Whether a row of the boiling-water tables also serves an atmospheric steam canner: acid food only. */
export function allowsSteam(row: ProcessRow): boolean {
  return row.method === 'boiling-water' && row.acidity !== 'low-acid'
}
