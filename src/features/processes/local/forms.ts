import { z } from 'zod'
import { jarSizes, type ProcessMethod, packStyles, processMethods } from '../../../core/process/index.ts'
import type { UnitSystem } from '../../../core/units/index.ts'
import { choice, many, neededText, read, type Typed, wholeNumber } from '../../../web/forms.ts'
import { ALONE_IN, altitudeOf, typedAltitude } from '../../../web/lengths.ts'
import { headspaceOf, pressureOf, typedHeadspace, typedPressure } from './measures.ts'
import type { KeptLocalProcess, LocalProcessValues } from './queries.ts'

export const MOST_MINUTES = 600
/** A steam canner cannot be opened to add water (National Center for Home Food Preservation, steam canner page; seen). */
export const MOST_STEAM_MINUTES = 45
const FEWEST_WORDS = 3

/** @param alone in whose units bare numbers are */
export const localProcessForm = (alone: UnitSystem) =>
  z.object({
    product: neededText('Enter what it is for, like “damsons, whole, in syrup”', 80),
    method: choice(processMethods, 'Choose how the jars are heated'),
    pack: choice(packStyles, 'Choose how the jars are packed'),
    jars: many(jarSizes, 'Choose the jars it was tested for'),
    fromM: altitude('Enter the lowest altitude it was tested for, like “0 m” or “0 ft”', alone, 'up'),
    toM: altitude('Enter the highest altitude it was tested for, like “640 m” or “2,100 ft”', alone, 'down'),
    minutes: wholeNumber(`Enter the minutes, from 1 to ${MOST_MINUTES}`, 1, MOST_MINUTES),
    kPa: read<number | null>((typed) => {
      if (typed === '') return { value: null }
      const value = pressureOf(typed, alone)
      return value === null
        ? { problem: 'Enter the pressure at the gauge, like “75 kPa” or “11 psi”, from 20 to 150 kPa' }
        : { value }
    }, 40),
    headspaceMm: read((typed) => {
      const value = headspaceOf(typed, alone)
      return value === null ? { problem: 'Enter the headspace, like “12 mm” or “1/2 in”' } : { value }
    }, 40),
    acid: read((typed) => ({ value: typed }), 200),
    source: neededText('Enter the authority, the document, its page and date', 400),
  })

function altitude(problem: string, alone: UnitSystem, round: 'up' | 'down') {
  return read((typed) => {
    const value = altitudeOf(typed, alone, round)
    return value === null ? { problem } : { value }
  }, 40)
}

/** What is wrong between the fields and with their fullness, in words by field. */
export function localProcessProblems(values: LocalProcessValues): Record<string, string> {
  const { method, jars, fromM, toM, minutes, kPa, source } = values
  const problems: Record<string, string> = {}
  if (jars.length === 0) problems['jars'] = 'Choose at least one jar it was tested for'
  if (fromM > toM) problems['toM'] = 'Enter an altitude above the lowest one'
  if (method === 'steam' && minutes > MOST_STEAM_MINUTES)
    problems['minutes'] =
      `Choose another way to heat them: the water of a steam canner lasts for ${MOST_STEAM_MINUTES} minutes and no longer`
  if (isPressure(method) && kPa === null) problems['kPa'] = 'Enter the pressure at the gauge, like “75 kPa” or “11 psi”'
  if (!isPressure(method) && kPa !== null) problems['kPa'] = 'Leave the pressure empty: only a pressure canner has one'
  if (source.split(/\s+/).filter((word) => /\p{L}/u.test(word)).length < FEWEST_WORDS)
    problems['source'] = 'Say more of the source: the authority, the document, its page and date'
  return problems
}

export function isPressure(method: ProcessMethod): boolean {
  return method === 'dial-gauge' || method === 'weighted-gauge'
}

/** What an empty form begins with. */
export function newLocalProcessTyped(reads: UnitSystem): Typed {
  return { [ALONE_IN]: reads }
}

/** The form's fields as they would be typed for this process by somebody who reads these units. */
export function localProcessTyped(process: KeptLocalProcess, reads: UnitSystem): Typed {
  const { product, method, pack, jars, fromM, toM, minutes, kPa, headspaceMm, acid, source, version } = process
  return {
    product,
    method,
    pack,
    jars,
    fromM: typedAltitude(fromM, reads, 'up'),
    toM: typedAltitude(toM, reads, 'down'),
    minutes: String(minutes),
    kPa: kPa === null ? '' : typedPressure(kPa),
    headspaceMm: typedHeadspace(headspaceMm),
    acid,
    source,
    [ALONE_IN]: reads,
    version: String(version),
  }
}
