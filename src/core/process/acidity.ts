import type { AcidityClass } from '../produce/crop.ts'
import { fold } from '../units/index.ts'
import { type Citation, memory, seen } from './sources.ts'
import { asianPearAcid, figAcid, tomatoAcid } from './tables/rows.ts'
import type { AcidChoice } from './types.ts'

/** At or below this pH a food is acid; above it, botulism can grow in a closed jar unless it is pressure canned. */
export const phLine = 4.6
export const phLineSources: readonly Citation[] = [
  seen('usda-2015', 'Guide 1 p. 1-8'),
  memory('cfr-114', '114.3', 'finished equilibrium pH 4.6 or below, water activity above 0.85'),
]

/**
 * A published pH range. It tells how acid a food tends to be; ripeness, variety and season move it, and it never
 * permits a process by itself: only a tested process does.
 */
export type FoodAcidity = {
  /** As listed: "apple, Jonathan". */
  food: string
  kind: 'fruit' | 'vegetable' | 'product'
  ph: { low: number; high: number }
  /** By the range, or stricter where a food authority has warned. */
  class: AcidityClass
  source: Citation
}

/** The class that a pH range alone gives: acid up to 4.6, low-acid above, borderline across. @throws RangeError for no range */
export function classOfPh(low: number, high: number): AcidityClass {
  if (!(low >= 0 && low <= high && high <= 14)) throw new RangeError(`no pH range: ${low} to ${high}`)
  return high <= phLine ? 'acid' : low > phLine ? 'low-acid' : 'borderline'
}

export type AcidityOfName = { class: AcidityClass; ph: { low: number; high: number }; foods: readonly FoodAcidity[] }

/**
 * What is published about a food, by its listed name ("apple, Jonathan"), the name before the comma ("apples": all
 * varieties listed) or a common other name ("damson"), singular or plural. The range spans all that matches, and the
 * class is the strictest among them. null: nothing is listed, and nothing may be assumed.
 */
export function acidityOf(name: string): AcidityOfName | null {
  const asked = plain(name)
  const wanted = otherNames.get(asked) ?? asked
  const exact = foodAcidity.filter(({ food }) => plain(food) === wanted)
  const foods = exact.length > 0 ? exact : foodAcidity.filter(({ food }) => plain(headOf(food)) === wanted)
  if (foods.length === 0) return null
  return {
    class: strictest(foods.map((one) => one.class)),
    ph: { low: Math.min(...foods.map(({ ph }) => ph.low)), high: Math.max(...foods.map(({ ph }) => ph.high)) },
    foods,
  }
}

/** Acid that the guide asks for in every jar of a crop, any one of the choices, boiling water or pressure. */
export type AcidNeeded = { food: string; choices: readonly AcidChoice[]; source: Citation }

/** Crops that are canned with added acid only. Amounts are tablespoons (juice, vinegar) or teaspoons (crystals) a jar. */
export const acidNeeded: readonly AcidNeeded[] = [
  {
    food: 'tomato',
    choices: tomatoAcid,
    source: seen('usda-2015', 'Guide 3 p. 3-5', 'under pressure too; vinegar may spoil the flavour'),
  },
  { food: 'fig', choices: figAcid, source: seen('usda-2015', 'Guide 2 p. 2-14') },
  {
    food: 'Asian pear',
    choices: asianPearAcid,
    source: seen('usda-2015', 'Guide 2 p. 2-20', 'no choice of citric acid is printed'),
  },
]

/** The acid a crop needs, by any of its names; null: the guide asks for none (which is no permission to can it). */
export function acidNeededFor(name: string): AcidNeeded | null {
  const wanted = plain(name)
  return acidNeeded.find(({ food }) => plain(food) === wanted) ?? null
}

/** Bottled lemon juice in the published pie fillings, in tablespoons. Seven quarts are not always seven times one. */
export const pieFillingLemon: readonly { fruit: string; perQuart: number; perSevenQuarts: number; source: Citation }[] =
  [
    { fruit: 'apple', perQuart: 2, perSevenQuarts: 12, source: seen('usda-2015', 'Guide 2 p. 2-26') },
    { fruit: 'blueberry', perQuart: 3, perSevenQuarts: 8, source: seen('usda-2015', 'Guide 2 p. 2-27') },
    { fruit: 'peach', perQuart: 4, perSevenQuarts: 28, source: seen('usda-2015', 'Guide 2 p. 2-30') },
  ]

/** What may stand in for what in the published salsas, one for one. */
export const acidSwaps = {
  allowed: { instead: 'bottled lemon or lime juice', of: 'vinegar of 5 %' },
  refused: { instead: 'vinegar of 5 %', of: 'bottled lemon or lime juice' },
  source: seen('usda-2015', 'Guide 3 p. 3-19', 'never fresh juice, never vinegar made at home'),
} as const

/** Grams in a teaspoon of citric acid crystals: half a teaspoon is about 2.3 g (conversion of the guide's measure; memory). */
export const citricAcidGramsPerTsp = 4.6

function ph(
  food: string,
  kind: FoodAcidity['kind'],
  low: number,
  high: number,
  acidity: AcidityClass,
  source: Citation,
): FoodAcidity {
  return { food, kind, ph: { low, high }, class: acidity, source }
}

/** Published pH ranges, at room temperature; the edible part. */
export const foodAcidity: readonly FoodAcidity[] = [
  ph('apple, eating', 'fruit', 3.3, 4, 'acid', seen('fda-ph')),
  ph('apple, Delicious', 'fruit', 3.9, 3.9, 'acid', seen('fda-ph')),
  ph('apple, Golden Delicious', 'fruit', 3.6, 3.6, 'acid', seen('fda-ph')),
  ph('apple, Jonathan', 'fruit', 3.33, 3.33, 'acid', seen('fda-ph')),
  ph('apple, McIntosh', 'fruit', 3.34, 3.34, 'acid', seen('fda-ph')),
  ph('apple, Winesap', 'fruit', 3.47, 3.47, 'acid', seen('fda-ph')),
  ph('apple juice', 'product', 3.35, 4, 'acid', seen('fda-ph')),
  ph('applesauce', 'product', 3.1, 3.6, 'acid', seen('fda-ph')),
  ph(
    'apricot',
    'fruit',
    3.3,
    4.8,
    'borderline',
    seen('fda-ph', undefined, 'the range reaches above 4.6; the guide cans apricots without added acid'),
  ),
  ph('apricot, canned', 'product', 3.4, 3.78, 'acid', seen('fda-ph')),
  ph('apricot nectar', 'product', 3.78, 3.78, 'acid', seen('fda-ph')),
  ph('artichoke', 'vegetable', 5.5, 6, 'low-acid', seen('clemson-ph')),
  ph('asparagus', 'vegetable', 6, 6.7, 'low-acid', seen('clemson-ph')),
  ph('avocado', 'fruit', 6.27, 6.58, 'low-acid', seen('clemson-ph')),
  ph('banana', 'fruit', 4.5, 5.2, 'borderline', seen('clemson-ph')),
  ph('beans (mixed)', 'vegetable', 5.6, 6.5, 'low-acid', seen('clemson-ph')),
  ph('beans, lima', 'vegetable', 6.5, 6.5, 'low-acid', seen('clemson-ph')),
  ph('beans, string (green)', 'vegetable', 5.6, 5.6, 'low-acid', seen('clemson-ph')),
  ph('beans, wax', 'vegetable', 5.3, 5.7, 'low-acid', seen('clemson-ph')),
  ph('beets', 'vegetable', 5.3, 6.6, 'low-acid', seen('clemson-ph')),
  ph('blackberry, Washington', 'fruit', 3.85, 4.5, 'acid', seen('clemson-ph')),
  ph('blueberry, Maine', 'fruit', 3.12, 3.33, 'acid', seen('clemson-ph')),
  ph('cabbage', 'vegetable', 5.2, 6.8, 'low-acid', seen('clemson-ph')),
  ph('cantaloupe', 'fruit', 6.13, 6.58, 'low-acid', seen('clemson-ph')),
  ph('carrot', 'vegetable', 5.88, 6.4, 'low-acid', seen('clemson-ph')),
  ph('celery', 'vegetable', 5.7, 6, 'low-acid', seen('clemson-ph')),
  ph('cherry, California', 'fruit', 4.01, 4.54, 'acid', seen('clemson-ph')),
  ph('cherry, red, water pack', 'product', 3.25, 3.82, 'acid', seen('clemson-ph')),
  ph('cherry, Royal Ann', 'fruit', 3.8, 3.83, 'acid', seen('clemson-ph')),
  ph('corn', 'vegetable', 5.9, 7.5, 'low-acid', seen('clemson-ph')),
  ph('cucumber', 'vegetable', 5.12, 5.78, 'low-acid', seen('clemson-ph')),
  ph('cucumber dill pickles', 'product', 3.2, 3.7, 'acid', seen('clemson-ph')),
  ph('fig, Calimyrna', 'fruit', 5.05, 5.98, 'low-acid', seen('clemson-ph')),
  ph('grape, Concord', 'fruit', 2.8, 3, 'acid', seen('clemson-ph')),
  ph('grape, seedless', 'fruit', 2.9, 3.82, 'acid', seen('clemson-ph')),
  ph('grapefruit', 'fruit', 3, 3.75, 'acid', seen('clemson-ph')),
  ph('horseradish', 'vegetable', 5.35, 5.35, 'low-acid', seen('clemson-ph')),
  ph('jam, fruit', 'product', 3.5, 4.5, 'acid', seen('clemson-ph')),
  ph('jelly, fruit', 'product', 3, 3.5, 'acid', seen('clemson-ph')),
  ph('ketchup', 'product', 3.89, 3.92, 'acid', seen('clemson-ph')),
  ph('leek', 'vegetable', 5.5, 6.17, 'low-acid', seen('clemson-ph')),
  ph('lemon juice', 'product', 2, 2.6, 'acid', seen('clemson-ph')),
  ph('lime juice', 'product', 2, 2.35, 'acid', seen('clemson-ph')),
  ph('mango, ripe', 'fruit', 5.8, 6, 'low-acid', seen('clemson-ph')),
  ph('mango, green', 'fruit', 3.4, 4.8, 'borderline', seen('clemson-ph')),
  ph('melon, honeydew', 'fruit', 6, 6.67, 'low-acid', seen('clemson-ph')),
  ph('mushroom', 'vegetable', 6, 6.7, 'low-acid', seen('clemson-ph')),
  ph('pomegranate', 'fruit', 2.93, 3.2, 'acid', seen('clemson-ph')),
  ph('potato', 'vegetable', 5.4, 5.9, 'low-acid', seen('clemson-ph')),
  ph('prunes (dried plums)', 'product', 3.63, 3.92, 'acid', seen('clemson-ph')),
  ph('pumpkin', 'vegetable', 4.99, 5.5, 'low-acid', seen('clemson-ph', undefined, 'the copy prints 4.990 to 5.50')),
  ph('cactus', 'vegetable', 4.7, 4.7, 'low-acid', seen('clemson-ph')),
  ph(
    'cranberry',
    'fruit',
    2.3,
    2.7,
    'acid',
    seen('compiled-ph', undefined, 'the FDA list has cranberry juice at 2.30 to 2.52'),
  ),
  ph('gooseberry', 'fruit', 2.8, 3.1, 'acid', seen('compiled-ph')),
  ph(
    'plum',
    'fruit',
    2.8,
    4.5,
    'acid',
    seen(
      'compiled-ph',
      undefined,
      'FDA list (memory): damson 2.90 to 3.10, blue 2.80 to 3.40, red and green gage 3.60 to 4.30, yellow 3.90 to 4.45',
    ),
  ),
  ph('red currant', 'fruit', 2.9, 2.9, 'acid', seen('compiled-ph')),
  ph('strawberry', 'fruit', 3, 3.9, 'acid', seen('compiled-ph')),
  ph('pineapple', 'fruit', 3.2, 4, 'acid', seen('compiled-ph')),
  ph('cherry (general)', 'fruit', 3.2, 4.1, 'acid', seen('compiled-ph')),
  ph('raspberry', 'fruit', 3.22, 3.95, 'acid', seen('compiled-ph')),
  ph(
    'peach',
    'fruit',
    3.3,
    4.05,
    'acid',
    seen('compiled-ph', undefined, 'yellow flesh; white flesh can lie above 4.6 and is frozen, not canned'),
  ),
  ph('tangerine', 'fruit', 3.32, 4.48, 'acid', seen('compiled-ph')),
  ph(
    'pear, Bartlett',
    'fruit',
    3.5,
    4.6,
    'acid',
    seen('compiled-ph', undefined, 'the upper end lies on the line; the guide cans pears without added acid'),
  ),
  ph(
    'elderberry',
    'fruit',
    3.6,
    3.8,
    'borderline',
    seen(
      'compiled-ph',
      undefined,
      'an older figure; extension services have since withdrawn elderberries, which can be low-acid',
    ),
  ),
  ph('orange', 'fruit', 3.69, 4.34, 'acid', seen('compiled-ph')),
  ph('tomatillo', 'vegetable', 3.83, 3.83, 'acid', seen('compiled-ph')),
  ph('date', 'fruit', 4.14, 4.88, 'borderline', seen('compiled-ph')),
  ph(
    'tomato',
    'vegetable',
    4.3,
    4.9,
    'borderline',
    seen('compiled-ph', undefined, 'always acidified, under pressure too'),
  ),
  ph('pepper', 'vegetable', 4.65, 5.45, 'low-acid', seen('compiled-ph')),
  ph('Asian pear', 'fruit', 4.7, 4.7, 'low-acid', seen('compiled-ph', undefined, 'acidified')),
  ph('watermelon', 'fruit', 5.18, 5.6, 'low-acid', seen('compiled-ph')),
  ph('onion', 'vegetable', 5.3, 5.85, 'low-acid', seen('compiled-ph')),
  ph('vinegar', 'product', 2.4, 3.4, 'acid', seen('compiled-ph')),
  ph('sauerkraut', 'product', 3.6, 3.6, 'acid', seen('ahea-ph')),
  ph('papaya', 'fruit', 5.1, 5.1, 'low-acid', seen('ahea-ph', undefined, 'FDA list (memory): 5.20 to 6.00')),
  ph('sweet potato', 'vegetable', 5.4, 5.4, 'low-acid', seen('ahea-ph')),
  ph('squash', 'vegetable', 5.2, 5.2, 'low-acid', seen('ahea-ph')),
  ph('spinach', 'vegetable', 5.5, 5.5, 'low-acid', seen('ahea-ph')),
  ph('peas', 'vegetable', 6.2, 6.2, 'low-acid', seen('ahea-ph')),
  ph('turnip', 'vegetable', 5.2, 5.2, 'low-acid', seen('ahea-ph')),
  ph('persimmon', 'fruit', 4.42, 4.7, 'borderline', memory('fda-ph')),
  ph('kiwi', 'fruit', 3.1, 3.96, 'acid', memory('fda-ph')),
  ph('passion fruit', 'fruit', 2.6, 3.3, 'acid', memory('fda-ph')),
  ph('okra, cooked', 'vegetable', 5.5, 6.6, 'low-acid', memory('fda-ph')),
  ph('guava', 'fruit', 3.37, 4.1, 'acid', memory('fda-ph')),
  ph('honey', 'product', 3.7, 4.2, 'acid', memory('fda-ph')),
  ph(
    'mulberry',
    'fruit',
    3.37,
    5.6,
    'borderline',
    seen('fair-sheets', 'low-acid fruits', 'by variety; the web article quotes the national center, autumn 2019'),
  ),
]

/** Names that people use, and crops' keys, for what is listed under another. */
const otherNames: ReadonlyMap<string, string> = new Map(
  [
    ['damson', 'plum'],
    ['greengage', 'plum'],
    ['prune', 'prunes (dried plums)'],
    ['sour cherry', 'cherry'],
    ['cherry sour', 'cherry'],
    ['sweet cherry', 'cherry'],
    ['cherry sweet', 'cherry'],
    ['redcurrant', 'red currant'],
    ['green bean', 'beans, string (green)'],
    ['snap bean', 'beans, string (green)'],
    ['string bean', 'beans, string (green)'],
    ['wax bean', 'beans, wax'],
    ['lima bean', 'beans, lima'],
    ['sweet corn', 'corn'],
    ['sweet pepper', 'pepper'],
    ['hot pepper', 'pepper'],
    ['bell pepper', 'pepper'],
    ['zucchini', 'squash'],
    ['summer squash', 'squash'],
    ['winter squash', 'squash'],
    ['honeydew', 'melon, honeydew'],
    ['tomato sauce', 'tomato'],
    ['okra', 'okra, cooked'],
    ['dill pickle', 'cucumber dill pickles'],
    ['jam', 'jam, fruit'],
    ['jelly', 'jelly, fruit'],
  ].map(([name = '', listed = '']) => [plain(name), plain(listed)]),
)

const strictness: readonly AcidityClass[] = ['acid', 'borderline', 'low-acid']

function strictest(classes: readonly AcidityClass[]): AcidityClass {
  return strictness[Math.max(...classes.map((one) => strictness.indexOf(one)))] ?? 'low-acid'
}

/** "apple, Jonathan" is an apple; "beans (mixed)" are beans. */
function headOf(food: string): string {
  return food.split(/,| \(/)[0] ?? food
}

/** Folded, without hyphens, and the last word in the singular: "Cherries" and "cherry" are one. */
function plain(name: string): string {
  return fold(name)
    .trim()
    .replace(/[\s-]+/g, ' ')
    .replace(/ies$/, 'y')
    .replace(/(o|ch|sh|x)es$/, '$1')
    .replace(/([^s])s$/, '$1')
}
