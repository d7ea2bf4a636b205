import { z } from 'zod'
import { jarSizes } from '../../core/process/index.ts'
import { parseMass, type UnitSystem } from '../../core/units/index.ts'
import { choice, type FieldReading, optionalText, read, type Typed, wholeNumber } from '../../web/forms.ts'
import { altitudeUnit, HIGHEST_ALTITUDE_M, LOWEST_ALTITUDE_M, lengthOf } from '../../web/lengths.ts'

/** An address's question: texts by these names, each of which may be missing; what is named otherwise is dropped. */
export function askedFor<const N extends string>(...names: readonly N[]) {
  return z.object(Object.fromEntries(names.map((name) => [name, z.string().max(200).optional()])))
}

/** What was asked, without what is missing. */
export function typedOf(query: Readonly<Record<string, string | undefined>>): Typed {
  return Object.fromEntries(
    Object.entries(query).flatMap(([name, value]): [string, string][] => (value === undefined ? [] : [[name, value]])),
  )
}

/** Another altitude, in metres; a bare number is in the unit that the co-op reads. */
export const altitudeForm = (units: UnitSystem) =>
  z.object({
    altitude: read<number>((typed) => {
      const length = lengthOf(typed, altitudeUnit[units])
      return length.ok && length.metres >= LOWEST_ALTITUDE_M && length.metres <= HIGHEST_ALTITUDE_M
        ? { value: length.metres }
        : { problem: 'Enter the altitude with its unit, like “1,400 m” or “4,600 ft”' }
    }, 40),
  })

export const acidityForm = z.object({ q: optionalText(80) })

export const syrupJars = jarSizes
export const MOST_JARS = 500
export const syrupsForm = z.object({
  jars: wholeNumber(`Enter how many jars, from 1 to ${MOST_JARS}`, 1, MOST_JARS),
  jar: choice(syrupJars, 'Choose a jar'),
})

/** Less holds no jar, more stands in a factory. */
const inside = (what: string, units: UnitSystem) =>
  read<number>((typed) => {
    const length = lengthOf(typed, insideUnit[units])
    const mm = length.ok ? length.metres * 1000 : Number.NaN
    return mm >= 80 && mm <= 1000
      ? { value: mm }
      : { problem: `Enter the inside ${what} in centimetres or inches, like “30 cm” or “12 in”` }
  }, 40)
const insideUnit = { metric: 'cm', us: 'in' } as const satisfies Record<UnitSystem, string>

/** The inside measures of a canner, in millimetres. */
export const jarsForm = (units: UnitSystem) =>
  z.object({ width: inside('width', units), height: inside('height', units) })

const decimal = (problem: string, least: number, most: number) =>
  read<number | null>((typed): FieldReading<number | null> => {
    if (typed === '') return { value: null }
    const value = /^\d{1,6}([.,]\d{1,4})?$/.test(typed) ? Number(typed.replace(',', '.')) : Number.NaN
    return value >= least && value <= most ? { value } : { problem }
  }, 20)

/** What becomes of sugar, and what a titration found; any of them may be left empty. */
export const fermentsForm = z.object({
  brix: decimal('Enter the degrees Brix of the juice, from 0 to 40, like 12.5', 0, 40),
  sugar: decimal('Enter the grams of table sugar in a litre, from 0 to 400', 0, 400),
  measured: decimal('Enter the acidity as it was measured, in %, from 0 to 30, like 5.2', 0, 30),
  cabbage: read<number | null>((typed) => {
    if (typed === '') return { value: null }
    const mass = parseMass(/^[\d.,]+$/.test(typed) ? `${typed} kg` : typed)
    return mass.ok ? { value: mass.grams } : { problem: 'Enter the weight of the cabbage, like “10 kg” or “25 lb”' }
  }, 40),
})
export type FermentsAsked = z.output<typeof fermentsForm>
