import { type Citation, memory, practice, seen } from '../process/sources.ts'
import { gramsPerCup, gramsPerPound, mlPer, mustBePositive } from './measures.ts'

/** One line of the table of juice and jelly without added pectin. */
export type JuiceToJelly = {
  /** A crop's key. */
  crop: string
  cupsWaterPerLb: readonly [number, number]
  simmerMinutes: readonly [number, number]
  sugarCupsPerCupJuice: readonly [number, number]
  lemonTspPerCupJuice: number
  halfPintsFromFourCups: readonly [number, number]
  source: Citation
}

const jellyTable = seen('usda-2015', 'Guide 7 p. 7-5')
const jamTable = seen('usda-2015', 'Guide 7 p. 7-6')

export const juiceToJelly: readonly JuiceToJelly[] = [
  jelly('apple', [1, 1], [20, 25], [0.75, 0.75], 1.5, [4, 5], 'lemon juice where apples are sweet'),
  jelly('blackberry', [0, 0.25], [5, 10], [0.75, 1], 0, [7, 8]),
  jelly('grape', [0, 0.25], [5, 10], [0.75, 1], 0, [8, 9]),
  jelly('plum', [0.5, 0.5], [15, 20], [0.75, 0.75], 0, [8, 9]),
]
/** Clear juice from a pound of fruit for jelly: at least a cup. */
export const juiceCupsPerLb: { atLeast: number; source: Citation } = { atLeast: 1, source: jellyTable }

/** Jam without added pectin: crushed fruit, sugar and lemon juice of one batch. */
export type JamBatch = {
  fruit: string
  cupsCrushed: readonly [number, number]
  cupsSugar: readonly [number, number]
  lemonTbsp: number
  halfPints: readonly [number, number]
  source: Citation
}

export const jamWithoutPectin: readonly JamBatch[] = [
  { fruit: 'berries', cupsCrushed: [4, 4], cupsSugar: [4, 4], lemonTbsp: 0, halfPints: [3, 4], source: jamTable },
  { fruit: 'peaches', cupsCrushed: [5.5, 6], cupsSugar: [4, 5], lemonTbsp: 2, halfPints: [6, 7], source: jamTable },
]

/**
 * Sugar and lemon juice for so many millilitres of clear juice, no pectin added; null: this crop is not in the table.
 * @throws RangeError unless there is juice
 */
export function jellyFor(
  crop: string,
  mlJuice: number,
): {
  gramsSugar: readonly [number, number]
  mlLemon: number
  halfPints: readonly [number, number]
  source: Citation
} | null {
  mustBePositive(mlJuice, 'juice')
  const line = juiceToJelly.find((one) => one.crop === crop)
  if (line === undefined) return null
  const cups = mlJuice / mlPer.cup
  const [low, high] = line.sugarCupsPerCupJuice
  return {
    gramsSugar: [cups * low * gramsPerCup.sugar, cups * high * gramsPerCup.sugar],
    mlLemon: cups * line.lemonTspPerCupJuice * mlPer.tsp,
    halfPints: [(cups / 4) * line.halfPintsFromFourCups[0], (cups / 4) * line.halfPintsFromFourCups[1]],
    source: line.source,
  }
}

/** Pectin by itself: what a fruit brings along. */
export const pectinNotes: Readonly<
  Record<'high' | 'medium' | 'low', { crops: readonly string[]; says: string; source: Citation }>
> = {
  high: {
    crops: [
      'apple',
      'blackberry',
      'cranberry',
      'redcurrant',
      'blackcurrant',
      'gooseberry',
      'plum',
      'damson',
      'quince',
      'lemon',
    ],
    says: 'Sets by itself; a quarter of the fruit a little underripe helps.',
    source: memory('so-easy', 'jams and jellies', 'tart apples, some plums'),
  },
  medium: {
    crops: ['cherry-sour', 'grape'],
    says: 'May need acid or pectin added.',
    source: memory('so-easy', 'jams and jellies'),
  },
  low: {
    crops: ['apricot', 'fig', 'peach', 'nectarine', 'pear', 'raspberry', 'strawberry', 'blueberry', 'cherry-sweet'],
    says: 'Needs acid or pectin added, or a fruit that is rich in it.',
    source: memory('so-easy', 'jams and jellies'),
  },
}

/** Why a card with a traditional jam or jelly says what it says about sugar. */
export const sugarIsNotCut: { says: string; source: Citation } = {
  says:
    'Keep all the sugar: in a jam or jelly without special pectin it makes the set and holds back mould. For less sugar ' +
    'use a recipe written for it, with its own pectin.',
  source: seen('usda-2015', 'Guide 1 p. 1-30', 'sugar is not cut in traditional recipes'),
}

/**
 * Millilitres of spread that a batch comes to when it has been boiled to a share of sugar by weight (usually about
 * 0.6, which is where it sets), from grams of fruit, the sugar in that fruit by weight, and grams of sugar added.
 * What is not sugar counts as water or fruit; the spread weighs about 1.3 g a millilitre.
 * @throws RangeError for no fruit, or where it is sweeter than that to begin with
 */
export function spreadVolume(of: {
  fruitGrams: number
  sugarInFruit: number
  sugarGrams: number
  endShare?: number
}): number {
  const { fruitGrams, sugarInFruit, sugarGrams, endShare = 0.6 } = of
  mustBePositive(fruitGrams, 'fruit')
  const sugar = fruitGrams * sugarInFruit + sugarGrams
  const endGrams = sugar / endShare
  if (!(sugar > 0 && endGrams <= fruitGrams + sugarGrams))
    throw new RangeError('boiling down does not make it less sweet')
  return endGrams / spreadGramsPerMl
}
const spreadGramsPerMl = 1.3
export const spreadVolumeSource: Citation = practice(
  'a sugar balance of ours; set at 60 to 65 % sugar, 1.3 g a millilitre',
)

/** Amounts that cooks pass on, to be compared with. No process and no recipe of this tool comes from them. */
export const passedOn = {
  fruitButter: {
    lbFruit: 16,
    cupsSugar: 8,
    cupsLemonJuice: 1,
    pints: 7,
    source: practice('fruit, sugar and lemon juice for seven pints'),
  },
  pearPieFilling: { mediumPears: 36, quarts: 7, source: practice('medium pears for seven quarts of pie filling') },
  sauce: {
    lbFruit: 42,
    quarts: 7,
    source: practice('fruit for seven quarts of sauce: twice what the handbook prints'),
  },
  scraps: { gallonsJuicePerDay: 1, source: practice("a day's peels and cores, boiled and strained") },
} as const

/** Apples for seven quarts of sauce, as published: this is what plans count with. */
export const sauceLbPerSevenQuarts: { lb: number; source: Citation } = {
  lb: 21,
  source: seen('usda-2015', 'Guide 2 p. 2-7'),
}

/** Grams of fruit in so many pieces at so many to the pound. @throws RangeError unless there are pieces */
export function piecesToGrams(pieces: number, perPound: number): number {
  mustBePositive(pieces, 'pieces')
  mustBePositive(perPound, 'pieces to the pound')
  return (pieces / perPound) * gramsPerPound
}

function jelly(
  crop: string,
  cupsWaterPerLb: readonly [number, number],
  simmerMinutes: readonly [number, number],
  sugarCupsPerCupJuice: readonly [number, number],
  lemonTspPerCupJuice: number,
  halfPintsFromFourCups: readonly [number, number],
  note?: string,
): JuiceToJelly {
  const source = note === undefined ? jellyTable : { ...jellyTable, note }
  return {
    crop,
    cupsWaterPerLb,
    simmerMinutes,
    sugarCupsPerCupJuice,
    lemonTspPerCupJuice,
    halfPintsFromFourCups,
    source,
  }
}
