import { metresPerFoot } from '../units/index.ts'
import type { Band } from './types.ts'

/** A millionth of a foot: more than metres lose in floating point, far less than any altitude is known to. */
const slackFt = 1e-6
/** Below the lowest and above the highest place where people live: whatever lies beyond is a slip of the hand. */
const knownM = { from: -500, to: 9000 } as const

/** Feet of an altitude in metres. */
export function feetOf(altitudeM: number): number {
  return altitudeM / metresPerFoot
}

/** Whether an altitude in metres can be one at all; NaN and the infinite cannot. */
export function isAltitude(altitudeM: number): boolean {
  return altitudeM >= knownM.from && altitudeM <= knownM.to
}

/**
 * The band of a row that holds at an altitude in metres, or undefined above the last one's upper edge. A band ends at
 * its printed upper edge: what lies above it, even by a fraction of a foot, belongs to the next, so that the "1,001" that
 * tables print as the next band's beginning leaves no gap. Below sea level the first band holds.
 */
export function bandAt(bands: readonly Band[], altitudeM: number): Band | undefined {
  const feet = feetOf(altitudeM)
  return bands.find(({ toFt }) => toFt === null || feet <= toFt + slackFt)
}

/** What must be said of a band without an upper edge so high up that hardly anything was tested there; '' : nothing. */
export function altitudeNote({ toFt }: Band, altitudeM: number): string {
  if (toFt !== null || feetOf(altitudeM) <= 10_000 + slackFt) return ''
  return 'The table names no upper limit for its last column, but few kitchens above 10,000 ft (3,048 m) were thought of: ask your local food authority too.'
}
