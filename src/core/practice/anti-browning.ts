import { type Citation, seen } from '../process/sources.ts'
import { mlPer, mustBePositive } from './measures.ts'

/** Milligrams of ascorbic acid in a tablet of the printed size. */
export const tabletMg = 500
/** Grams in a level teaspoon of crystals, as printed: one teaspoon is about 3 g. */
export const ascorbicGramsPerTsp = 3

export const bathNames = ['holding', 'pie peaches', 'salsa soak', 'freezing syrup', 'before drying'] as const
export type BathName = (typeof bathNames)[number]

export type Bath = {
  /** What it is for. */
  says: string
  ascorbicGramsPerLitre: number
  /** How long pieces lie in it; null: as long as the work takes. */
  minutes: number | null
  source: Citation
}

export const baths: Readonly<Record<BathName, Bath>> = {
  holding: {
    says: 'keeps peeled fruit pale while the rest is peeled',
    ascorbicGramsPerLitre: perGallon(3),
    minutes: null,
    source: seen('usda-2015', 'Guide 1 p. 1-11', '1 tsp or six 500 mg tablets to the gallon'),
  },
  'pie peaches': {
    says: 'for the slices of peach pie filling',
    ascorbicGramsPerLitre: perGallon(3),
    minutes: null,
    source: seen(
      'usda-2015',
      'Guide 2 p. 2-30',
      'prints 1/2 tsp (1.5 g) or six tablets (3 g) as if equal; the larger is taken, as in Guide 1',
    ),
  },
  'salsa soak': {
    says: 'for peaches and apples of the peach apple salsa',
    ascorbicGramsPerLitre: 1.5 / (mlPer.gallon / 2000),
    minutes: null,
    source: seen('usda-2015', 'Guide 2 p. 2-25', '1,500 mg to the half gallon'),
  },
  'freezing syrup': {
    says: 'goes into the cold syrup that peaches and their like are frozen in',
    ascorbicGramsPerLitre: ascorbicGramsPerTsp / 2 / (mlPer.quart / 1000),
    minutes: null,
    source: seen('fair-sheets', undefined, 'a Canadian freezing guide: 1/2 tsp to the quart, for 6 to 8 pints'),
  },
  'before drying': {
    says: 'for pieces that are going to be dried',
    ascorbicGramsPerLitre: (20 * tabletMg) / 1000 / ((2 * mlPer.cup) / 1000),
    minutes: 10,
    source: seen('fair-sheets', undefined, 'acid soak: 3 3/4 tsp or 20 tablets of 500 mg in 2 cups of water'),
  },
}

/** Other soaks for pieces before drying, ten minutes each. */
export const otherDryingSoaks = [
  { of: 'citric acid', teaspoonsPerTwoCups: 0.5, minutes: 10, source: seen('fair-sheets', undefined, 'acid soak') },
  {
    of: 'bottled lemon juice and as much water',
    teaspoonsPerTwoCups: null,
    minutes: 10,
    source: seen('fair-sheets', undefined, 'acid soak'),
  },
] as const

/**
 * Ascorbic acid for millilitres of water (or syrup): grams, teaspoons of crystals at 3 g, and whole tablets of 500 mg,
 * rounded up.
 * @throws RangeError unless there is water
 */
export function ascorbicAcidFor(
  name: BathName,
  ml: number,
): { grams: number; teaspoons: number; tablets: number; source: Citation } {
  mustBePositive(ml, 'water')
  const { ascorbicGramsPerLitre, source } = baths[name]
  const grams = (ascorbicGramsPerLitre * ml) / 1000
  return {
    grams,
    teaspoons: grams / ascorbicGramsPerTsp,
    tablets: Math.ceil((grams * 1000) / tabletMg - 1e-9),
    source,
  }
}

function perGallon(grams: number): number {
  return grams / (mlPer.gallon / 1000)
}
