import { type Citation, seen } from '../sources.ts'
import type { ProcessRow } from '../types.ts'
import { hot, publishedRecipe } from './published-recipe.ts'
import { pints } from './rows.ts'

const guide = (pages: string) => seen('usda-2015', `Guide 6 p. ${pages}`)
const centre = (sheet: string, note: string) =>
  seen('national-center', sheet, `read in the copy of the University of Missouri; ${note}`)
const inGuide = (pages: string) => `also Guide 6 p. ${pages} of the USDA guide of 2015`
const georgia = (name: string, note: string) => seen('so-easy', name, note)

/** One recipe with its only line: half-pints and pints, packed hot. */
type Relish = [product: string, source: Citation, minutes: number[], note?: string]

const relishes: readonly Relish[] = [
  ['chayote and pear relish', centre('Chayote and Pear Relish', inGuide('6-26')), [15, 20, 25]],
  ['piccalilli', guide('6-27'), [5, 10, 15]],
  ['pickle relish', guide('6-28'), [10, 15, 20]],
  [
    'pickled corn relish',
    centre('Pickled Corn Relish', `${inGuide('6-28')}; the same in Michigan sheet 01600282`),
    [15, 20, 25],
    'A paste of a quarter cup of flour to the whole recipe is part of it, if you like; no more.',
  ],
  [
    'pickled green tomato relish',
    guide('6-29'),
    [5, 10, 15],
    'The 2 tablespoons of cornstarch of the recipe were tested; no more.',
  ],
  [
    'pickled pepper-onion relish',
    centre('Pickled Pepper-Onion Relish', `${inGuide('6-30')}; the same in Michigan sheet 01600106`),
    [5, 10, 15],
  ],
  ['spicy jicama relish', guide('6-30, 6-31'), [20, 25, 30, 35]],
  ['tangy tomatillo relish', centre('Tangy Tomatillo Relish', inGuide('6-31')), [15, 20, 25]],
  [
    'fall garden relish',
    georgia(
      'fall garden relish',
      'read in the copy of the University of Missouri of the 6th edition; the 5th had 10, 15 and 20 minutes',
    ),
    [15, 20, 25],
  ],
  ['pear relish', centre('Pear Relish', 'not in the USDA guide'), [20, 25, 30, 35]],
  ['sweet pepper relish', centre('Sweet Pepper Relish', 'not in the USDA guide'), [10, 15, 20]],
]

const chutneys: readonly Relish[] = [
  [
    'apple chutney',
    georgia('apple chutney', 'read in the copy of the University of Missouri of the 6th edition'),
    [10, 15, 20],
  ],
  [
    'tomato-apple chutney',
    georgia('tomato-apple chutney', 'read in the copy of the University of Missouri of the 5th edition'),
    [10, 15, 20],
  ],
]

const rowsOf =
  (form: string) =>
  ([product, source, minutes, note]: Relish): ProcessRow[] =>
    publishedRecipe({
      product,
      form,
      source,
      rows: [hot(pints, ...minutes)],
      ...(note === undefined ? {} : { notes: [note] }),
    })

/** Relishes of Guide 6, and relishes and chutneys from Georgia. */
export const boilingWaterRelishes: readonly ProcessRow[] = [
  ...relishes.flatMap(rowsOf('relish')),
  ...chutneys.flatMap(rowsOf('chutney')),
]
