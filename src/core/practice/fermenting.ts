import { type Citation, memory, seen } from '../process/sources.ts'

export * from './vinegar.ts'

export const ferments = ['sauerkraut', 'dill pickles'] as const
export type Ferment = (typeof ferments)[number]

export type FermentBand = { fromC: number; toC: number; weeks: readonly [number, number]; source: Citation }

/** Printed bands of temperature, warmest first, with the weeks until it is done. */
export const fermentBands: Readonly<Record<Ferment, readonly FermentBand[]>> = {
  sauerkraut: [
    { fromC: celsius(70), toC: celsius(75), weeks: [3, 4], source: seen('usda-2015', 'Guide 6 p. 6-8') },
    { fromC: celsius(60), toC: celsius(65), weeks: [5, 6], source: memory('usda-2015', 'Guide 6 p. 6-8') },
  ],
  'dill pickles': [
    { fromC: celsius(70), toC: celsius(75), weeks: [3, 4], source: seen('usda-2015', 'Guide 6 p. 6-7') },
    { fromC: celsius(55), toC: celsius(65), weeks: [5, 6], source: seen('usda-2015', 'Guide 6 p. 6-7') },
  ],
}
/** Above this it grows soft and spoils. */
export const tooWarm: Readonly<Record<Ferment, { aboveC: number; source: Citation }>> = {
  sauerkraut: { aboveC: celsius(75), source: memory('usda-2015', 'Guide 6 p. 6-8', 'may become soft above 75 °F') },
  'dill pickles': { aboveC: celsius(80), source: seen('usda-2015', 'Guide 6 p. 6-7') },
}
const tooCold: Readonly<Record<Ferment, number>> = { sauerkraut: celsius(60), 'dill pickles': celsius(55) }

export type FermentTime =
  | { answer: 'weeks'; weeks: readonly [number, number]; printed: boolean; source: Citation }
  | { answer: 'too-warm' | 'too-cold'; says: string }

/**
 * Weeks that a ferment takes at a temperature in degrees Celsius. Between two printed bands (`printed` false) it may
 * take anything from the quicker one's least to the slower one's most.
 * @throws RangeError for no number
 */
export function fermentTime(ferment: Ferment, tempC: number): FermentTime {
  if (!Number.isFinite(tempC)) throw new RangeError('a ferment stands at some temperature')
  const bands = fermentBands[ferment]
  const { aboveC, source } = tooWarm[ferment]
  if (tempC > aboveC + slack)
    return { answer: 'too-warm', says: 'Too warm: it grows soft and may spoil. Find a cooler place.' }
  if (tempC < tooCold[ferment] - slack)
    return { answer: 'too-cold', says: 'Too cold: it may not ferment. Find a warmer place.' }
  const warmer = bands.findLast(({ toC }) => tempC <= toC + slack)
  const cooler = bands.find(({ fromC }) => tempC >= fromC - slack)
  const near = [warmer, cooler].flatMap((band) => band ?? [])
  return {
    answer: 'weeks',
    weeks: [Math.min(...near.map(({ weeks }) => weeks[0])), Math.max(...near.map(({ weeks }) => weeks[1]))],
    printed: warmer !== undefined && warmer === cooler,
    source: near[0]?.source ?? source,
  }
}

/** Bands are printed in whole degrees Fahrenheit, thermometers read in tenths of a degree Celsius. */
const slack = 0.06

function celsius(fahrenheit: number): number {
  return ((fahrenheit - 32) * 5) / 9
}
