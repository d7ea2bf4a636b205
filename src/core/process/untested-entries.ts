import { crops } from '../produce/index.ts'
import { type Citation, memory, seen } from './sources.ts'
import { untestedMixtures } from './untested-mixtures.ts'

/** Food, or a way of making it, for which no process was ever tested or for which one was withdrawn. */
export type UntestedStyle = {
  /** Kebab case, unique: "white-peaches". */
  key: string
  /** What it is, as a list names it: "white-fleshed peaches and nectarines". */
  what: string
  reason: 'untested-style' | 'withdrawn'
  /** Names by which it is recognised, in any case, spacing and number. */
  names: readonly string[]
  /** It holds for whatever is made of it: for jam and juice as for the plain food. */
  anyForm: boolean
  /** Ways that are refused for every product: "thickened with flour". */
  ways: readonly string[]
  /** One or two plain sentences. */
  says: string
  /** What can be done instead, each a plain phrase. */
  instead: readonly string[]
  source: Citation
}

/** As written here: most entries hold for the names they list, in the plain form, and were never tested. */
export type Entry = Omit<UntestedStyle, 'reason' | 'anyForm' | 'ways'> & Partial<UntestedStyle>

const freeze = 'freeze it'
const dry = 'dry it'
const cold = 'keep it in the refrigerator and use it soon'
const mashes = ['puree', 'pureed', 'mash', 'mashed']
const guide = (section: string, note?: string) => seen('usda-2015', section, note)
const untested = (note: string) => memory('national-center', note)

/** Every way to write foods made in some way: "pumpkin butter". */
const made = (foods: readonly string[], ways: readonly string[]) =>
  foods.flatMap((food) => ways.map((way) => `${food} ${way}`))

const vegetables = crops
  .filter(({ kind, key }) => kind === 'vegetable' && key !== 'tomato' && key !== 'pumpkin' && key !== 'winter-squash')
  .flatMap(({ singular, plural, synonyms }) => [singular, plural, ...synonyms])

/** Fruit that looks as if the tables held for it, and does not. */
const fruit: readonly Entry[] = [
  {
    key: 'white-peaches',
    what: 'white-fleshed peaches and nectarines',
    names: made(['white', 'white-fleshed', 'white flesh', 'white fleshed'], ['peaches', 'nectarines']),
    anyForm: true,
    says: 'White-fleshed peaches and nectarines can be too low in acid (pH above 4.6), and no amount of acid was tested.',
    instead: [freeze, 'can yellow-fleshed peaches'],
    source: seen('fair-sheets', 'Minnesota 2021 and Maine 2020, white-fleshed peaches'),
  },
  {
    key: 'elderberries',
    what: 'elderberries and their juice',
    reason: 'withdrawn',
    names: ['elderberries', 'elderberry', 'elder berries', 'elder'],
    anyForm: true,
    says: 'Elderberries can be too low in acid. The guide of 2015 still lists them with the berries; later advice takes them out.',
    instead: [freeze, dry],
    source: seen('fair-sheets', 'Maine 2020; Wisconsin B2909 of 2020: mean pH 4.92'),
  },
  {
    key: 'mulberries',
    what: 'mulberries',
    reason: 'withdrawn',
    names: ['mulberries', 'mulberry'],
    anyForm: true,
    says: 'The guide lists mulberries with the berries, but their published pH reaches 5.6: here the stricter reading holds.',
    instead: [freeze, dry],
    source: seen(
      'fair-sheets',
      'low-acid fruits, 2019',
      'pH by variety; against Guide 2 p. 2-10 of the USDA guide of 2015',
    ),
  },
  {
    key: 'low-acid-fruit',
    what: 'bananas, papaya, ripe mango and coconut',
    names: ['bananas', 'papayas', 'papaya', 'mangoes', 'mangos', 'mango', 'ripe mango', 'coconuts', 'plantains'],
    anyForm: true,
    says: 'Bananas, papaya, ripe mango and coconut are low in acid, and no process was tested for them.',
    instead: [freeze, 'mango only as a published sauce, salsa or chutney'],
    source: guide('Guide 2 p. 2-14'),
  },
  {
    key: 'melons',
    what: 'melons, plain or as puree',
    names: [
      ...['melons', 'cantaloupe', 'cantaloupes', 'watermelon', 'watermelons', 'honeydew', 'honeydew melon'],
      ...['muskmelon', 'galia melon', 'charentais melon'],
    ],
    anyForm: true,
    says: 'Melons are low in acid, and no process was tested for them.',
    instead: [freeze, 'pickle them by a published recipe'],
    source: guide('Guide 2 p. 2-14'),
  },
  {
    key: 'fruit-purees-not-covered',
    what: 'puree of Asian pears, figs or tomatoes',
    names: made(['asian pear', 'fig', 'tomato'], ['puree', 'pureed']),
    says: 'The table for fruit purees leaves out Asian pears, figs and tomatoes.',
    instead: [freeze, 'tomatoes: can them as tomato sauce', 'figs and Asian pears: can them in pieces with acid'],
    source: guide('Guide 2 p. 2-14'),
  },
  {
    key: 'dates',
    what: 'dates',
    names: ['dates', 'date', 'date puree', 'date paste'],
    anyForm: true,
    says: 'The published pH of dates reaches above 4.6, and no process was tested for them.',
    instead: [dry, freeze],
    source: seen('compiled-ph', 'date', 'that no table exists: the guide has none'),
  },
  {
    key: 'persimmons',
    what: 'persimmons',
    names: ['persimmons', 'persimmon'],
    anyForm: true,
    says: 'The published pH of persimmons reaches above 4.6, and no process was tested for them.',
    instead: [freeze, dry],
    source: memory('fda-ph', 'persimmon', 'that no table exists: the guide has none'),
  },
  {
    key: 'avocados',
    what: 'avocados',
    names: ['avocados', 'avocado', 'guacamole'],
    anyForm: true,
    says: 'Avocados are low in acid, and no process was tested for them.',
    instead: [freeze],
    source: seen('clemson-ph', 'avocado', 'that no table exists: the guide has none'),
  },
]

/** Vegetables, and ways to prepare them. */
const vegetableStyles: readonly Entry[] = [
  {
    key: 'mashed-pumpkin',
    what: 'pumpkin or winter squash, mashed, as puree or as butter',
    names: made(
      ['pumpkin', 'winter squash', 'squash', 'butternut squash', 'butternut', 'hubbard'],
      [...mashes, 'butter', 'pie filling', 'jam', 'preserve', 'spread', 'soup'],
    ),
    says: 'Mashed pumpkin and squash are low in acid and of uneven thickness, so that no time is known for them. Only cubes in a pressure canner were tested.',
    instead: ['can it in cubes in a pressure canner and mash it later', freeze, cold],
    source: guide('Guide 4 p. 4-18', 'that butter is meant too: national center, from memory'),
  },
  {
    key: 'vegetable-purees',
    what: 'purees of vegetables, and baby food of vegetables or meat',
    names: [
      ...made([...vegetables, 'sweet potato', 'vegetable', 'parsnip', 'turnip', 'cauliflower', 'broccoli'], mashes),
      ...['vegetable baby food', 'meat baby food', 'poultry baby food', 'baby food of vegetables', 'meat puree'],
    ],
    says: 'No times were tested for mashed or pureed vegetables: heat goes through them slowly and unevenly.',
    instead: ['can it in pieces in a pressure canner and mash it later', freeze],
    source: guide('Guide 1 p. 1-31'),
  },
  {
    key: 'summer-squash',
    what: 'summer squash and zucchini, plain',
    names: [
      'summer squash',
      'summer squashes',
      'zucchini',
      'zucchinis',
      'courgettes',
      'marrows',
      'yellow squash',
      'patty pan squash',
    ],
    says: 'The table for summer squash was withdrawn: no time is known for it, plain.',
    reason: 'withdrawn',
    instead: [freeze, dry, 'pickle it by a published recipe', 'can it with tomatoes by the pressure table'],
    source: untested('summer squash'),
  },
  {
    key: 'cabbage',
    what: 'cabbage, plain',
    names: ['cabbage', 'cabbages', 'white cabbage', 'red cabbage', 'kraut cabbage'],
    says: 'No process is recommended for plain cabbage: it turns strong and dark in the jar.',
    instead: ['make sauerkraut', freeze, 'pickle it by a published recipe'],
    source: untested('vegetables not recommended for canning'),
  },
  {
    key: 'cabbage-family',
    what: 'broccoli, cauliflower and Brussels sprouts, plain',
    names: ['broccoli', 'cauliflower', 'cauliflowers', 'brussels sprouts', 'brussels sprout', 'kohlrabi'],
    says: 'No process is recommended for plain broccoli, cauliflower, Brussels sprouts or kohlrabi.',
    instead: [freeze, 'pickle it by a published recipe'],
    source: untested('vegetables not recommended for canning'),
  },
  {
    key: 'eggplant',
    what: 'eggplant',
    names: ['eggplants', 'eggplant', 'aubergines', 'aubergine'],
    anyForm: true,
    says: 'No process was tested for eggplant.',
    instead: [freeze, dry],
    source: untested('vegetables not recommended for canning'),
  },
  {
    key: 'lettuce',
    what: 'lettuce and cucumbers, plain',
    names: ['lettuce', 'lettuces', 'salad leaves', 'plain cucumbers'],
    anyForm: true,
    says: 'No process was tested for it, and nothing would be left of it.',
    instead: ['eat it fresh', 'cucumbers: pickle them by a published recipe'],
    source: untested('vegetables not recommended for canning'),
  },
  {
    key: 'olives',
    what: 'olives',
    names: ['olives', 'olive', 'green olives', 'black olives', 'ripe olives'],
    anyForm: true,
    says: 'Home-cured olives are kept cold in brine: no process is recommended for them.',
    instead: ['cure them by a published recipe and keep them cold', freeze],
    source: untested('olives'),
  },
  {
    key: 'artichokes',
    what: 'artichokes',
    names: ['artichokes', 'artichoke', 'globe artichokes', 'artichoke hearts', 'jerusalem artichokes'],
    anyForm: true,
    says: 'No process was tested for artichokes.',
    instead: [freeze],
    source: untested('artichokes'),
  },
  {
    key: 'celery',
    what: 'celery alone',
    names: ['celery', 'celery sticks', 'celeriac'],
    says: 'No process was tested for celery alone.',
    instead: [freeze, dry, 'use it in a published mixed recipe'],
    source: untested('celery'),
  },
  {
    key: 'wild-mushrooms',
    what: 'wild mushrooms',
    names: ['wild mushrooms', 'wild mushroom', 'foraged mushrooms', 'chanterelles', 'ceps', 'porcini', 'morels'],
    anyForm: true,
    says: 'The table holds for cultivated mushrooms only; wild ones were not tested.',
    instead: [dry, 'cook it and freeze it'],
    source: guide('Guide 4 p. 4-13'),
  },
]

/** Every entry, fruit first. */
export const untestedEntries: readonly UntestedStyle[] = [...fruit, ...vegetableStyles, ...untestedMixtures].map(
  (entry) => ({
    reason: 'untested-style',
    anyForm: false,
    ways: [],
    ...entry,
  }),
)
