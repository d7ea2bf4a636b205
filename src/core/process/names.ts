import { crop } from '../produce/index.ts'
import { dishes } from './dishes.ts'
import { spelled } from './spelling.ts'
import { processTable } from './tables/index.ts'
import { printedNames } from './tables/printed-names.ts'
import type { PackStyle } from './types.ts'
import { countedOnly, type UnclearName, unclear } from './unclear-names.ts'

/** What a name stands for in the tables. */
export type Meaning = {
  /** Products of the table; several where a guide gives one food more than one table. */
  products: readonly string[]
  /** The form that the name itself says, as the row has it. */
  form?: string
  /** The only pack that the published directions give for this food, where the product's table has more. */
  pack?: PackStyle
}

/**
 * What each crop is in the tables when nothing else is said. A crop that is missing here has no table of its own.
 * Berries: the guide's directions (Guide 2 p. 2-10) describe the hot pack for blueberries, currants, gooseberries and
 * huckleberries and the raw pack for the rest; "any" berry may go in raw there, and we keep to the narrower reading.
 */
const ofCrop: Readonly<Record<string, Meaning>> = {
  apple: { products: ['apples'] },
  pear: { products: ['pears'] },
  plum: { products: ['plums'] },
  damson: { products: ['plums'] },
  peach: { products: ['peaches'] },
  nectarine: { products: ['nectarines'] },
  apricot: { products: ['apricots'] },
  'cherry-sour': { products: ['cherries'] },
  'cherry-sweet': { products: ['cherries'] },
  blackberry: { products: ['berries'], pack: 'raw' },
  raspberry: { products: ['berries'], pack: 'raw' },
  blueberry: { products: ['berries'], pack: 'hot' },
  blackcurrant: { products: ['berries'], pack: 'hot' },
  redcurrant: { products: ['berries'], pack: 'hot' },
  gooseberry: { products: ['berries'], pack: 'hot' },
  strawberry: { products: ['strawberries'] },
  cranberry: { products: ['cranberries'] },
  grape: { products: ['grapes'] },
  rhubarb: { products: ['rhubarb'] },
  fig: { products: ['figs'] },
  tomato: { products: ['tomatoes, whole or halved', 'tomatoes, crushed'] },
  'snap-bean': { products: ['beans, snap and Italian'] },
  pea: { products: ['peas, green or English'] },
  'sweet-corn': { products: ['corn'] },
  'sweet-pepper': { products: ['peppers'] },
  'hot-pepper': { products: ['peppers'] },
  'winter-squash': { products: ['pumpkin and winter squash'] },
  pumpkin: { products: ['pumpkin and winter squash'] },
  beet: { products: ['beets'] },
  carrot: { products: ['carrots'] },
  potato: { products: ['potatoes, white'] },
  asparagus: { products: ['asparagus'] },
  spinach: { products: ['spinach and other greens'] },
}

const meats = ['beef', 'pork', 'lamb', 'veal', 'venison', 'meat']
const wholeTomatoes: Meaning = { products: ['tomatoes, whole or halved'] }

/** Names beside those of the crops. */
const others: readonly (readonly [Meaning, readonly string[]])[] = [
  [{ products: ['berries'], pack: 'raw' }, ['loganberries', 'dewberries']],
  [{ products: ['berries'], pack: 'hot' }, ['huckleberries', 'currants']],
  [{ products: ['Asian pears'] }, ['asian pear', 'nashi', 'nashi pear']],
  [{ products: ['applesauce'] }, ['apple sauce']],
  [{ products: ['grapefruit and orange sections'] }, ['grapefruit', 'grapefruit sections']],
  [{ products: ['mixed fruit cocktail'] }, ['fruit cocktail']],
  [{ products: ['fruit purees'] }, ['fruit puree', 'pureed fruit']],
  [{ products: ['fruit-based baby food'] }, ['fruit baby food', 'fruit based baby food']],
  // Guide 3 p. 3-5 gives green tomatoes the directions of ripe ones: they are the more acid.
  [{ products: ['tomatoes, whole or halved', 'tomatoes, crushed'] }, ['green tomatoes']],
  [
    wholeTomatoes,
    ['whole tomatoes', 'halved tomatoes', 'tomato halves', 'peeled tomatoes', 'tomatoes, whole', 'tomatoes, halved'],
  ],
  [{ products: ['tomatoes, crushed'] }, ['crushed tomatoes']],
  [{ products: ['tomato sauce, standard'] }, ['tomato sauce', 'standard tomato sauce']],
  [{ products: ['tomato ketchup'] }, ['ketchup', 'catsup', 'tomato catsup']],
  [{ products: ['tomato salsa (paste tomatoes)', 'tomato salsa (slicing tomatoes)'] }, ['tomato salsa']],
  [{ products: ['spaghetti sauce without meat', 'spaghetti sauce with meat'] }, ['spaghetti sauce']],
  [{ products: ['festive mincemeat pie filling'] }, ['festive mincemeat']],
  [{ products: ['soups (vegetable, bean, meat)'] }, ['vegetable soup', 'bean soup', 'meat soup']],
  [{ products: ['soups (vegetable, bean, meat)', 'soups with seafood'] }, ['soup', 'soups']],
  [{ products: ['soups with seafood'] }, ['seafood soup', 'fish soup']],
  [{ products: ['beans, fresh lima'] }, ['lima beans', 'fresh lima beans']],
  [
    { products: ['beans or peas, shelled dried'] },
    ['dried beans', 'dry beans', 'dried peas', 'dry peas', 'dried beans and peas', 'dried beans or peas'],
  ],
  [{ products: ['beans, baked'] }, ['baked beans']],
  [{ products: ['potatoes, sweet'] }, ['sweet potatoes', 'sweet potato']],
  [{ products: ['potatoes, white'] }, ['white potatoes', 'irish potatoes']],
  [{ products: ['pumpkin and winter squash'] }, ['pumpkin', 'winter squash', 'pumpkins and winter squash']],
  [{ products: ['spinach and other greens'] }, ['greens', 'spinach', 'chard', 'kale', 'collards', 'beet greens']],
  [{ products: ['mushrooms'] }, ['cultivated mushrooms', 'button mushrooms']],
  [{ products: ['mixed vegetables'] }, ['mixed vegetables', 'vegetables, mixed']],
  [{ products: ['chicken or rabbit'] }, ['chicken', 'rabbit']],
  [{ products: ['meat, strips, cubes or chunks', 'meat, ground or chopped'] }, meats],
  [
    { products: ['meat, ground or chopped'] },
    ['ground', 'chopped', 'minced'].flatMap((how) => meats.map((meat) => `${how} ${meat}`)),
  ],
  [
    { products: ['meat, strips, cubes or chunks'] },
    ['cubed', 'diced'].flatMap((how) => meats.map((meat) => `${how} ${meat}`)),
  ],
  [
    { products: ['meat stock'] },
    [
      'meat broth',
      'bone broth',
      ...['beef', 'chicken', 'turkey'].flatMap((meat) => [`${meat} stock`, `${meat} broth`]),
    ],
  ],
  [
    { products: ['dill pickles (fermented)'] },
    ['dill pickles, fermented', 'fermented dill pickles', 'fermented dills'],
  ],
  [
    { products: ['dill pickles (fermented)', 'quick fresh-pack dill pickles'] },
    ['dill pickles', 'dill pickled cucumbers', 'pickled cucumbers, dill'],
  ],
  [{ products: ['sauerkraut'] }, ['kraut', 'fermented cabbage', 'cabbage sauerkraut', 'sauerkraut cabbage']],
  [{ products: ['pickled beets'] }, ['beet pickles', 'pickled beetroot', 'pickled beetroots']],
  [
    { products: ['pickled cauliflower or Brussels sprouts'] },
    ['pickled cauliflower', 'pickled brussels sprouts', 'cauliflower pickles'],
  ],
  [
    { products: ['pickled dilled beans'] },
    ['dilled beans', 'dilly beans', 'pickled green beans', 'pickled snap beans'],
  ],
  [{ products: ['pickled corn relish'] }, ['corn relish']],
  [{ products: ['pickled pepper-onion relish'] }, ['pepper-onion relish', 'pepper onion relish']],
  [{ products: ['pickled green tomato relish'] }, ['green tomato relish']],
  [{ products: ['lemon curd'] }, ['canned lemon curd']],
  [{ products: ['tomato and vegetable juice blend'] }, ['tomato-vegetable juice blend', 'tomato vegetable juice']],
  [{ products: ['tomatoes with okra or zucchini'] }, ['tomatoes with okra', 'tomatoes with zucchini']],
  [{ products: ['pickled dilled okra'] }, ['pickled okra', 'dilled okra']],
  [{ products: ['pickled jalapeno rings'] }, ['jalapeno rings', 'pickled jalapenos rings']],
  [
    { products: ['pickled bread-and-butter zucchini'] },
    ['pickled zucchini', 'pickled courgettes', 'pickled summer squash'],
  ],
  [{ products: ['marinated whole mushrooms'] }, ['marinated mushrooms', 'pickled mushrooms']],
  [{ products: ['pickled pearl onions'] }, ['pearl onion pickles', 'cocktail onions']],
  [{ products: ['jam or jelly, added pectin'] }, ['orange marmalade', 'jam with pectin', 'jelly with pectin']],
  [{ products: ['jam, no added pectin', 'jam or jelly, added pectin'] }, ['jam']],
  [{ products: ['jelly, no added pectin', 'jam or jelly, added pectin'] }, ['jelly']],
]

const meanings: ReadonlyMap<string, Meaning> = new Map([
  // The later entry wins: what the tables themselves print goes last.
  ...dishes.flatMap(({ words, products, of }) =>
    of.flatMap(foodNames).flatMap((food) => words.map((word) => [spelled(`${food} ${word}`), { products }] as const)),
  ),
  ...Object.entries(ofCrop).flatMap(([key, meaning]) =>
    foodNames(key).map((name) => [spelled(name), meaning] as const),
  ),
  ...others.flatMap(([meaning, names]) => names.map((name) => [spelled(name), meaning] as const)),
  ...Object.entries(printedNames).map(
    ([name, { product, form }]) => [spelled(name), { products: [product], ...(form === '' ? {} : { form }) }] as const,
  ),
  ...processTable().map(({ product }) => [spelled(product), { products: [product] }] as const),
])

const unclearNames: ReadonlyMap<string, UnclearName> = new Map(
  [
    ...unclear,
    ...Object.entries(countedOnly).map(([key, names]) => ({
      names,
      says: `They are weighed and stored like ${crop(key)?.plural ?? key} here, but the table for those does not name them.`,
      instead: ['look for a published recipe in the list of tested products', 'freeze them'],
    })),
  ].flatMap((name) => name.names.map((one) => [spelled(one), name] as const)),
)

/**
 * What a name stands for in the tables, or undefined. Only what is listed counts: a product as printed, a crop by key,
 * name or synonym, a listed other name; in any case, spacing and number, and turned about at a comma ("sauce, apple").
 * Without a comma the order counts: tomato paste is not paste tomatoes. Nothing is matched by likeness.
 */
export function meaningOf(name: string): Meaning | undefined {
  const comma = name.indexOf(',')
  const turned = comma < 0 ? undefined : spelled(`${name.slice(comma + 1)} ${name.slice(0, comma)}`)
  return meanings.get(spelled(name)) ?? (turned === undefined ? undefined : meanings.get(turned))
}

/** What a food made in some way stands for: "apples" and "sauce". Undefined where that is no listed name. */
export function meaningOfDish(name: string, way: string): Meaning | undefined {
  const [food, made] = [spelled(name), spelled(way)]
  if (food === '' || made === '') return undefined
  return meanings.get(`${food} ${made}`) ?? meanings.get(`${made} ${food}`)
}

/** A name that says too little or is only counted with another crop, or undefined. */
export function unclearName(name: string): UnclearName | undefined {
  return unclearNames.get(spelled(name))
}

/** Every listed name, spelled alike, with what it stands for: to be read through by eye. */
export function listedNames(): ReadonlyMap<string, Meaning> {
  return meanings
}

/** The names of a crop that may be used for its process; of anything else, the name itself. */
function foodNames(food: string): readonly string[] {
  const known = crop(food)
  if (known === undefined) return [food]
  const left = new Set([...(countedOnly[food] ?? []), ...unclear.flatMap(({ names }) => names)].map(spelled))
  return [known.key, known.singular, known.plural, ...known.synonyms].filter((name) => !left.has(spelled(name)))
}
