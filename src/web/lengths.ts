import { type LengthReading, metresPerFoot, parseLength, type UnitSystem } from '../core/units/index.ts'
import type { Typed } from './forms.ts'

/**
 * The field of a form that says in whose units its page told to type bare numbers. Who reads metres by the time the
 * form arrives may have been shown feet.
 */
export const ALONE_IN = 'aloneIn'

/** The units that the page of this form named for bare numbers; `otherwise` where the form does not say. */
export function aloneIn(typed: Typed, otherwise: UnitSystem): UnitSystem {
  const said = typed[ALONE_IN]
  return said === 'us' || said === 'metric' ? said : otherwise
}

/** Reads a length as `parseLength` does; a bare number has the unit `alone`. */
export function lengthOf(typed: string, alone: string): LengthReading {
  const read = parseLength(typed)
  return !read.ok && read.reason === 'no-unit' ? parseLength(`${typed} ${alone}`) : read
}

export const altitudeUnit = { metric: 'm', us: 'ft' } as const satisfies Record<UnitSystem, string>

/** The Dead Sea's shore and the highest town lie within. */
export const LOWEST_ALTITUDE_M = -430
export const HIGHEST_ALTITUDE_M = 5_500

/**
 * An altitude as whole metres, and null where it is none or lies outside of the bounds above. `up` for the place where
 * something is processed and for the lower end of a tested range, `down` for its upper end: so that rounding never
 * moves anybody into a band of altitude with less time or pressure.
 */
export function altitudeOf(typed: string, units: UnitSystem, round: 'up' | 'down'): number | null {
  const read = lengthOf(typed, altitudeUnit[units])
  if (!read.ok) return null
  // what feet leave in the last digits is no metre
  const metres = Number(read.metres.toFixed(6))
  const whole = (round === 'up' ? Math.ceil(metres) : Math.floor(metres)) + 0
  return whole >= LOWEST_ALTITUDE_M && whole <= HIGHEST_ALTITUDE_M ? whole : null
}

/** An altitude as it would be typed: `altitudeOf` reads it again as the same whole metres. */
export function typedAltitude(metres: number, units: UnitSystem, rounded: 'up' | 'down'): string {
  if (units === 'metric') return `${metres} m`
  const feet = metres / metresPerFoot
  return `${(rounded === 'up' ? Math.floor(feet) : Math.ceil(feet)) + 0} ft`
}
