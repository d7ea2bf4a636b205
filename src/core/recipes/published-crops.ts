import { crop, crops, findCrop } from '../produce/crops.ts'

/**
 * The crops that a published product is for. The guide names fruit and vegetables by their market names; which of our
 * crops they cover is said here. Pages are those of the USDA guide, 2015, where they are known.
 */
const named: Readonly<Record<string, readonly string[]>> = {
  'apple butter': ['apple'],
  'apple juice': ['apple'],
  applesauce: ['apple'],
  'apple pie filling': ['apple'],
  // Guide 2 p. 2-10 lists them; elderberries are withdrawn by later extension advice, strawberries have a table of their own.
  berries: ['blackberry', 'raspberry', 'blueberry', 'blackcurrant', 'redcurrant', 'gooseberry'],
  'blueberry pie filling': ['blueberry'],
  cherries: ['cherry-sour', 'cherry-sweet'],
  'cherry pie filling': ['cherry-sour'],
  'cranberry orange chutney': ['cranberry'],
  'spicy cranberry salsa': ['cranberry', 'onion', 'hot-pepper'],
  // Guide 2 p. 2-11 and 2-18: apricots and nectarines are packed and heated as peaches are (memory).
  peaches: ['peach', 'nectarine', 'apricot'],
  'peach pie filling': ['peach'],
  'peach-apple salsa': ['peach', 'apple', 'tomato', 'onion', 'sweet-pepper', 'hot-pepper'],
  'pear-apple jam': ['pear', 'apple'],
  'grape-plum jelly': ['grape', 'plum', 'damson'],
  plums: ['plum', 'damson'],
  // Guide 7 p. 7-5: fruits whose own acid and pectin set a jelly.
  'jelly, no added pectin': [
    'apple',
    'blackberry',
    'grape',
    'plum',
    'damson',
    'quince',
    'cranberry',
    'gooseberry',
    'redcurrant',
  ],
  // Guide 7 p. 7-6.
  'jam, no added pectin': [
    'blackberry',
    'raspberry',
    'strawberry',
    'gooseberry',
    'blueberry',
    'peach',
    'apricot',
    'plum',
    'damson',
  ],
  'tomato juice': ['tomato'],
  'tomato and vegetable juice': ['tomato', 'carrot', 'onion', 'sweet-pepper'],
  'tomato sauce': ['tomato'],
  'tomato ketchup': ['tomato', 'onion', 'hot-pepper'],
  'spaghetti sauce without meat': ['tomato', 'onion', 'sweet-pepper'],
  'spaghetti sauce with meat': ['tomato', 'onion', 'sweet-pepper'],
  'mexican tomato sauce': ['tomato', 'onion', 'hot-pepper'],
  'easy hot sauce': ['tomato', 'hot-pepper', 'onion'],
  'cayenne pepper sauce': ['hot-pepper', 'tomato', 'onion'],
  'chile salsa': ['tomato', 'onion', 'hot-pepper'],
  'tomato salsa': ['tomato', 'onion', 'hot-pepper', 'sweet-pepper'],
  'tomato/tomato paste salsa': ['tomato', 'onion', 'hot-pepper', 'sweet-pepper'],
  'tomatillo green salsa': ['onion', 'hot-pepper'],
  'dill pickles': ['cucumber'],
  'bread-and-butter pickles': ['cucumber', 'onion'],
  'quick fresh-pack dill pickles': ['cucumber'],
  'quick sweet pickles': ['cucumber', 'onion'],
  'sweet gherkin pickles': ['cucumber'],
  '14-day sweet pickles': ['cucumber'],
  'no sugar added sweet cucumber slices': ['cucumber'],
  'reduced-sodium sliced dill pickles': ['cucumber'],
  'reduced-sodium sliced sweet pickles': ['cucumber'],
  'pickle relish': ['cucumber', 'sweet-pepper', 'onion'],
  sauerkraut: ['cabbage'],
  'dill beans': ['snap-bean'],
  'pickled dilled beans': ['snap-bean'],
  'pickled three-bean salad': ['snap-bean', 'onion', 'sweet-pepper'],
  'pickled beets': ['beet', 'onion'],
  'pickled carrots': ['carrot'],
  'pickled corn relish': ['sweet-corn', 'sweet-pepper', 'onion'],
  'pickled asparagus': ['asparagus'],
  'pickled cauliflower or brussels sprouts': ['onion', 'sweet-pepper'],
  'pickled pearl onions': ['onion'],
  'marinated peppers': ['sweet-pepper', 'hot-pepper'],
  'pickled bell peppers': ['sweet-pepper'],
  'pickled hot peppers': ['hot-pepper', 'sweet-pepper'],
  'pickled jalapeno rings': ['hot-pepper'],
  'pickled yellow pepper rings': ['hot-pepper', 'sweet-pepper'],
  'pickled mixed vegetables': ['cucumber', 'carrot', 'onion', 'sweet-pepper'],
  'pickled bread-and-butter zucchini': ['summer-squash', 'onion'],
  'pickled green tomatoes': ['tomato'],
  'pickled sweet green tomatoes': ['tomato', 'onion'],
  'pickled green tomato relish': ['tomato', 'sweet-pepper', 'onion', 'cabbage'],
  'green tomato pie filling': ['tomato', 'apple'],
  piccalilli: ['tomato', 'sweet-pepper', 'onion', 'cabbage'],
  'pickled pepper-onion relish': ['sweet-pepper', 'onion'],
  'spicy jicama relish': ['onion', 'sweet-pepper', 'hot-pepper'],
  'marinated whole mushrooms': ['onion'],
  'pumpkin and winter squash': ['pumpkin', 'winter-squash'],
  peppers: ['sweet-pepper', 'hot-pepper'],
  'tomatoes with okra or zucchini': ['tomato', 'summer-squash', 'onion'],
  'tomatoes with zucchini': ['tomato', 'summer-squash', 'onion'],
  'mixed vegetables': ['carrot', 'sweet-corn', 'snap-bean', 'tomato', 'summer-squash'],
  succotash: ['sweet-corn', 'tomato'],
}

/** Guide 2 p. 2-14: no puree of figs and tomatoes; elderberries by later advice. */
const pureed = crops.filter(
  ({ kind, acidity, key }) => kind === 'fruit' && acidity !== 'low-acid' && key !== 'elderberry',
)

/**
 * Keys of the crops that a published product may hold; undefined: which they are is not known, and nothing can be held
 * against it. Takes the product as the process table names it.
 */
export function cropsPublishedFor(product: string): readonly string[] | undefined {
  const exact = own(product)
  if (exact !== undefined) return exact
  if (/\bpurees?\b|baby food|added pectin/.test(product) && !/tomato|pumpkin|squash/.test(product)) {
    return pureed.map(({ key }) => key)
  }
  const plain =
    product
      .replace(/\(.*\)/, '')
      .split(',')[0]
      ?.trim() ?? ''
  const found = own(plain) ?? findCrop(plain)?.key ?? findCrop(plain.split(' ').at(-1) ?? '')?.key
  return typeof found === 'string' ? [found] : found
}

function own(product: string): readonly string[] | undefined {
  return Object.hasOwn(named, product) ? named[product] : undefined
}

/** What a material is of: "apple-juice" is of apples. Undefined where its name does not say. */
export function cropOfMaterial(material: string): string | undefined {
  const stem = material.replace(/-(juice|puree|pulp|sauce|nectar)$/, '')
  return stem === material ? undefined : (crop(stem)?.key ?? findCrop(stem)?.key)
}
