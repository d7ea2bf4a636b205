import { z } from 'zod'
import { type UnitSystem, unitSystems } from '../../core/units/index.ts'
import { choice, neededText, read, type Typed } from '../../web/forms.ts'
import { ALONE_IN, altitudeOf, typedAltitude } from '../../web/lengths.ts'
import type { CoopValues } from './queries.ts'

/** @param alone in whose units a bare number is an altitude */
export const coopForm = (alone: UnitSystem) =>
  z.object({
    name: neededText('Enter the co-op’s name', 80),
    town: neededText('Enter the town or village', 80),
    altitudeM: read((typed) => {
      const value = altitudeOf(typed, alone, 'up')
      return value === null
        ? { problem: 'Enter the altitude in metres or feet, like “640 m” or “2,100 ft”, from -430 m to 5,500 m' }
        : { value }
    }, 40),
    units: choice(unitSystems, 'Choose the units'),
  })

const asCoop = 'coop'
export const ownUnitsForm = z.object({
  units: read<UnitSystem | null>((typed) => {
    if (typed === asCoop) return { value: null }
    const units = unitSystems.find((one) => one === typed)
    return units === undefined ? { problem: 'Choose the units' } : { value: units }
  }),
})

/** The form's fields as they would be typed for this co-op by somebody who reads these units. */
export function coopTyped({ name, town, altitudeM, units }: CoopValues, reads: UnitSystem): Typed {
  return { name, town, altitudeM: typedAltitude(altitudeM, reads, 'up'), units, [ALONE_IN]: reads }
}

export function ownUnitsTyped(units: UnitSystem | null): Typed {
  return { units: units ?? asCoop }
}
