import { type Citation, seen } from '../process/sources.ts'
import { cupsPerTablespoon, gramsPerCup, gramsPerPound, mlPer, mustBePositive } from './measures.ts'

const poundsPerGallon = 5

/** Salt for sauerkraut, as this tool gives it and as the same page also prints it. */
export const krautSalt = {
  tablespoonsPerFivePounds: 3,
  source: seen('usda-2015', 'Guide 6 p. 6-8', 'the method: 3 tablespoons with each 5 lb, 15 for 25 lb'),
  alsoPrinted: {
    cupsPerTwentyFivePounds: 0.75,
    source: seen('usda-2015', 'Guide 6 p. 6-8', 'the list of ingredients: 3/4 cup, 12 tablespoons, for 25 lb'),
  },
  advice:
    'The page prints two amounts that differ by a fifth; the larger is taken, since salt holds back what spoils kraut.',
} as const

/** Quarts of kraut from 25 lb of cabbage, about. */
export const krautQuartsPerTwentyFivePounds = 9

export type KrautSalt = {
  tablespoons: number
  cups: number
  grams: number
  /** Salt by weight of the cabbage, 0 to 1. */
  share: number
  quarts: number
  source: Citation
}

/**
 * Canning salt for sauerkraut from grams of trimmed, shredded cabbage: three tablespoons for each five pounds. It is
 * neither rounded nor lowered: salt is not cut in a ferment. Weigh it: a cup of it weighs 273 to 307 g.
 * @throws RangeError unless there is cabbage
 */
export function krautSaltFor(cabbageGrams: number): KrautSalt {
  mustBePositive(cabbageGrams, 'cabbage')
  const pounds = cabbageGrams / gramsPerPound
  const tablespoons = (pounds / 5) * krautSalt.tablespoonsPerFivePounds
  const cups = tablespoons * cupsPerTablespoon
  const grams = cups * gramsPerCup.canningSalt
  return {
    tablespoons,
    cups,
    grams,
    share: grams / cabbageGrams,
    quarts: (pounds / 25) * krautQuartsPerTwentyFivePounds,
    source: krautSalt.source,
  }
}

export type Brine = {
  tablespoonsSalt: number
  gramsSalt: number
  mlWater: number
  mlVinegar: number
  share: number
  source: Citation
}

/**
 * Brine to top up a crock in which juice does not cover the cabbage, for so many millilitres of water: boiled and
 * cooled, one and a half tablespoons of salt to the quart.
 * @throws RangeError unless there is water
 */
export function topUpBrine(mlWater: number): Brine {
  mustBePositive(mlWater, 'water')
  const source = seen('usda-2015', 'Guide 6 p. 6-8')
  return brine((mlWater / mlPer.quart) * 1.5, mlWater, 0, source)
}

/**
 * Brine for fermented dill pickles from grams of pickling cucumbers: for each four pounds half a cup of salt, a quarter
 * of a cup of vinegar of 5 % and eight cups of water, which fill a gallon.
 * @throws RangeError unless there are cucumbers
 */
export function dillPickleBrine(cucumberGrams: number): Brine & { gallons: number } {
  mustBePositive(cucumberGrams, 'cucumbers')
  const gallons = cucumberGrams / gramsPerPound / 4
  const source = seen('usda-2015', 'Guide 6 p. 6-7', 'salt is never cut in a ferment')
  return { ...brine(gallons * 8, gallons * 8 * mlPer.cup, gallons * 0.25 * mlPer.cup, source), gallons }
}

/**
 * Salt by weight of everything, 0 to 1, from grams of salt, of vegetables and of water.
 * @throws RangeError for less than nothing, or nothing at all
 */
export function saltShare(of: { gramsSalt: number; gramsVegetables?: number; gramsWater?: number }): number {
  const { gramsSalt, gramsVegetables = 0, gramsWater = 0 } = of
  const all = gramsSalt + gramsVegetables + gramsWater
  if (!(gramsSalt >= 0 && gramsVegetables >= 0 && gramsWater >= 0 && all > 0))
    throw new RangeError('nothing to be salted')
  return gramsSalt / all
}

export const vesselSource: Citation = seen('usda-2015', 'Guide 6 p. 6-6', 'a gallon for each 5 lb; 5 gallons for 25 lb')
/** Room in a crock above the vegetables and over the weights. */
export const crockRoom = {
  brineOverInches: [1, 2],
  rimOverCabbageInches: [4, 5],
  source: seen('usda-2015', 'Guide 6 p. 6-6 and 6-8'),
} as const

/** Millilitres that a crock must hold for so many grams of fresh vegetables, brine and weights included. @throws RangeError unless there are vegetables */
export function crockFor(vegetableGrams: number): { ml: number; gallons: number; source: Citation } {
  mustBePositive(vegetableGrams, 'vegetables')
  const gallons = vegetableGrams / gramsPerPound / poundsPerGallon
  return { ml: gallons * mlPer.gallon, gallons, source: vesselSource }
}

function brine(tablespoonsSalt: number, mlWater: number, mlVinegar: number, source: Citation): Brine {
  const gramsSalt = tablespoonsSalt * cupsPerTablespoon * gramsPerCup.canningSalt
  const share = saltShare({ gramsSalt, gramsWater: mlWater + mlVinegar })
  return { tablespoonsSalt, gramsSalt, mlWater, mlVinegar, share, source }
}
