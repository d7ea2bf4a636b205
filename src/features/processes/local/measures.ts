import { kPaPerPsi } from '../../../core/process/atmosphere.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import { mmPerInch } from '../../../core/units/index.ts'
import { decimal } from '../../../core/units/tokens.ts'
import { lengthOf } from '../../../web/lengths.ts'

/** A gauge of less is no pressure canner's, one of more none that is sold to households. */
export const LEAST_KPA = 20
export const MOST_KPA = 150
export const LEAST_HEADSPACE_MM = 1
export const MOST_HEADSPACE_MM = 100

export const pressureUnit = { metric: 'kPa', us: 'psi' } as const satisfies Record<UnitSystem, string>
export const headspaceUnit = { metric: 'mm', us: 'in' } as const satisfies Record<UnitSystem, string>

/** Reads "75 kPa", "11 psi" or "11 lb", a bare number in the unit of `alone`; null for anything else or out of bounds. */
export function pressureOf(typed: string, alone: UnitSystem): number | null {
  const parts = /^([\d.,]+)\s*(kpa|psi|lbs?|pounds?)?$/i.exec(typed)
  if (parts === null) return null
  const [, digits = '', unit = pressureUnit[alone]] = parts
  const value = decimal(digits) * (unit.toLowerCase() === 'kpa' ? 1 : kPaPerPsi)
  return value >= LEAST_KPA && value <= MOST_KPA ? value : null
}

/** As it would be typed: in pounds where that is the rounder figure. Reading it again gives the same. */
export function typedPressure(kPa: number): string {
  const psi = Number((kPa / kPaPerPsi).toFixed(2))
  return psi * kPaPerPsi === kPa ? `${psi} psi` : `${kPa} kPa`
}

/** Reads a headspace, "12 mm" or "1/2 in", a bare number in the unit of `alone`; millimetres to the thousandth. */
export function headspaceOf(typed: string, alone: UnitSystem): number | null {
  const read = lengthOf(typed, headspaceUnit[alone])
  if (!read.ok) return null
  const mm = thousandths(read.metres * 1000)
  return mm >= LEAST_HEADSPACE_MM && mm <= MOST_HEADSPACE_MM ? mm : null
}

/** As it would be typed: in inches where they are sixteenths. Reading it again gives the same. */
export function typedHeadspace(mm: number): string {
  const inches = mm / mmPerInch
  return Number.isInteger(thousandths(inches * 16)) ? `${thousandths(inches * 16) / 16} in` : `${mm} mm`
}

function thousandths(value: number): number {
  return Math.round(value * 1000) / 1000
}
