import { type Citation, memory, practice, seen } from '../process/sources.ts'
import type { JarSize } from '../process/types.ts'
import { gramsPerCup, mlPer, mustBePositive, mustBeShare } from './measures.ts'

export type CupsOfSyrup = { cupsWater: number; cupsSugar: number }
export type SyrupAmounts = CupsOfSyrup & {
  mlWater: number
  gramsSugar: number
  /** What is really in it, by weight, from 0 to 1: printed strengths are round figures. */
  strength: number
}

export const canningSyrupNames = ['very light', 'light', 'medium', 'heavy'] as const
export type CanningSyrupName = (typeof canningSyrupNames)[number]

/** Printed amounts for the two usual loads. `percent` is the printed strength. */
export const canningSyrups: Readonly<
  Record<CanningSyrupName, { percent: number; ninePints: CupsOfSyrup; sevenQuarts: CupsOfSyrup }>
> = {
  'very light': { percent: 10, ninePints: cups(6.5, 0.75), sevenQuarts: cups(10.5, 1.25) },
  light: { percent: 20, ninePints: cups(5.75, 1.5), sevenQuarts: cups(9, 2.25) },
  medium: { percent: 30, ninePints: cups(5.25, 2.25), sevenQuarts: cups(8.25, 3.75) },
  heavy: { percent: 40, ninePints: cups(5, 3.25), sevenQuarts: cups(7.75, 5.25) },
}
export const canningSyrupSource: Citation = seen(
  'usda-2015',
  'Guide 2 p. 2-5',
  'syrup is for flavour, colour and shape: water or juice takes the same time',
)

/**
 * Water and sugar for a canner load of so many jars: the printed amounts for nine pints and seven quarts, in proportion
 * for other loads. Four quarts take the nine-pint amount, as printed. Jars smaller than a pint count as their part of
 * one, larger ones as their part of a quart.
 * @throws RangeError unless jars is more than 0
 */
export function canningSyrup(name: CanningSyrupName, jar: JarSize, jars: number): SyrupAmounts {
  mustBePositive(jars, 'jars')
  const { ninePints, sevenQuarts } = canningSyrups[name]
  if (jar === 'quart' && jars === 4) return amounts(ninePints, 1)
  const { of, part } = partOfLoad[jar]
  return of === 'pints' ? amounts(ninePints, (jars * part) / 9) : amounts(sevenQuarts, (jars * part) / 7)
}

const partOfLoad: Readonly<Record<JarSize, { of: 'pints' | 'quarts'; part: number }>> = {
  'half-pint': { of: 'pints', part: 0.5 },
  '12-ounce': { of: 'pints', part: 0.75 },
  pint: { of: 'pints', part: 1 },
  '1.5-pint': { of: 'quarts', part: 0.75 },
  quart: { of: 'quarts', part: 1 },
  'half-gallon': { of: 'quarts', part: 2 },
}

export const freezingSyrupNames = ['very light', 'light', 'medium', 'very heavy'] as const
export type FreezingSyrupName = (typeof freezingSyrupNames)[number]

/** Printed batches: sugar to four cups of water, and the cups that it makes. */
export const freezingSyrups: Readonly<Record<FreezingSyrupName, CupsOfSyrup & { percent: number; makesCups: number }>> =
  {
    'very light': { percent: 10, ...cups(4, 0.5), makesCups: 4.5 },
    light: { percent: 20, ...cups(4, 1), makesCups: 4.75 },
    medium: { percent: 30, ...cups(4, 1.75), makesCups: 5 },
    'very heavy': { percent: 50, ...cups(4, 4), makesCups: 6 },
  }
export const freezingSyrupSource: Citation = seen(
  'national-center',
  'Syrups for use in freezing fruits',
  'from So Easy to Preserve, 5th edition; an older Michigan sheet has 4 cups of sugar to 4 1/4 of water for 50 %',
)
/** Cold syrup for one pint package of fruit, in cups. */
export const syrupCupsPerFrozenPint: readonly [number, number] = [0.5, 2 / 3]

/**
 * Water and sugar for so many pint packages of frozen fruit in syrup, at the larger of the two printed amounts a
 * package, so that none runs dry.
 * @throws RangeError unless pints is more than 0
 */
export function freezingSyrup(name: FreezingSyrupName, pints: number): SyrupAmounts {
  mustBePositive(pints, 'pints')
  const batch = freezingSyrups[name]
  return amounts(batch, (pints * syrupCupsPerFrozenPint[1]) / batch.makesCups)
}

/** The most of the sugar that light corn syrup or mild honey may replace. */
export const mostReplaced = { canning: 1 / 2, freezing: 1 / 4 } as const
export const replacedSource: Readonly<Record<keyof typeof mostReplaced, Citation>> = {
  canning: canningSyrupSource,
  freezing: freezingSyrupSource,
}
/** Honey and corn syrup go in cup for cup. */
export const cupForCup: Citation = practice('honey or light corn syrup cup for cup; honey tastes sweeter')

/**
 * Sugar that stays and honey or light corn syrup that takes the place of a share of it, in cups, from cups of sugar.
 * @throws RangeError for a share above a half in canning or a quarter in freezing, or for no amount
 */
export function withHoney(
  cupsSugar: number,
  share: number,
  use: keyof typeof mostReplaced,
): { cupsSugar: number; cupsHoney: number; gramsSugar: number; mlHoney: number } {
  mustBePositive(cupsSugar, 'cups of sugar')
  mustBeShare(share, 'the share of the sugar')
  if (share > mostReplaced[use] + 1e-9) {
    throw new RangeError(`honey or corn syrup may replace up to ${mostReplaced[use] * 100} % of the sugar in ${use}`)
  }
  const honey = cupsSugar * share
  const sugar = cupsSugar - honey
  return { cupsSugar: sugar, cupsHoney: honey, gramsSugar: sugar * gramsPerCup.sugar, mlHoney: honey * mlPer.cup }
}

/** Sugars in honey by weight: the rest is water. */
export const sugarInHoney = 0.82
export const sugarInHoneySource: Citation = memory('fdc-portions', undefined, 'honey, 82 g of sugars in 100 g')

/**
 * Strength of a syrup by weight, 0 to 1, from millilitres of water (a gram each) and grams of sugar and honey.
 * @throws RangeError for less than nothing, or no water at all
 */
export function syrupStrength(of: { mlWater: number; gramsSugar?: number; gramsHoney?: number }): number {
  const { mlWater, gramsSugar = 0, gramsHoney = 0 } = of
  mustBePositive(mlWater, 'water')
  if (!(gramsSugar >= 0 && gramsHoney >= 0)) throw new RangeError('sugar and honey cannot be less than nothing')
  return (gramsSugar + gramsHoney * sugarInHoney) / (mlWater + gramsSugar + gramsHoney)
}

function cups(cupsWater: number, cupsSugar: number): CupsOfSyrup {
  return { cupsWater, cupsSugar }
}

function amounts({ cupsWater, cupsSugar }: CupsOfSyrup, times: number): SyrupAmounts {
  const mlWater = cupsWater * times * mlPer.cup
  const gramsSugar = cupsSugar * times * gramsPerCup.sugar
  return {
    cupsWater: cupsWater * times,
    cupsSugar: cupsSugar * times,
    mlWater,
    gramsSugar,
    strength: syrupStrength({ mlWater, gramsSugar }),
  }
}
