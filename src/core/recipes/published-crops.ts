import { crop, crops, findCrop } from '../produce/crops.ts'
import { publishedPickleCrops, publishedVegetableCrops } from './published-vegetable-crops.ts'

/** Guide 2 p. 2-14: no puree of figs and tomatoes; elderberries are left out by later extension advice. */
const anyAcidFruit = crops
  .filter(({ kind, acidity, key }) => kind === 'fruit' && acidity !== 'low-acid' && key !== 'elderberry')
  .map(({ key }) => key)
const berries = ['blackberry', 'raspberry', 'blueberry', 'blackcurrant', 'redcurrant', 'gooseberry']

/** USDA guide of 2015; pages where they were read, otherwise which fruit a recipe names is from memory. */
const fruit: Readonly<Record<string, readonly string[]>> = {
  'apple butter': ['apple'],
  'apple conserve': ['apple'],
  'apple juice': ['apple'],
  'apple pie filling': ['apple'],
  applesauce: ['apple'],
  'spiced apple rings': ['apple'],
  'spiced crab apples': ['apple'],
  // A firm pear that is acidified and heated as an Asian one has no less than its own table asks.
  'asian pears': ['pear'],
  'apricot-orange conserve': ['apricot'],
  // Guide 2 p. 2-10. Elderberries stand there too and were withdrawn; strawberries have a table of their own.
  berries,
  'berry syrup': [...berries, 'strawberry'],
  'blueberry pie filling': ['blueberry'],
  'blueberry-spice jam': ['blueberry'],
  'cantaloupe pickles': [],
  'cantaloupe pickles, no sugar added': [],
  cherries: ['cherry-sour', 'cherry-sweet'],
  'cherry pie filling': ['cherry-sour'],
  'citrus marmalade': ['lemon'],
  'cranberry marmalade': ['cranberry', 'lemon'],
  'cranberry orange chutney': ['cranberry', 'onion'],
  'spicy cranberry salsa': ['cranberry', 'onion', 'hot-pepper'],
  'damson plum-orange conserve': ['damson'],
  'plum conserve': ['plum', 'damson'],
  'festive mincemeat pie filling': ['apple'],
  'fig pickles': ['fig'],
  'fig preserves': ['fig', 'lemon'],
  'fruit purees': anyAcidFruit,
  'fruit-based baby food': anyAcidFruit,
  'grape juice': ['grape'],
  'grape-plum jelly': ['grape', 'plum', 'damson'],
  'grapefruit and orange sections': [],
  // Guide 7 p. 7-6, with fruit of which the guide says that it is handled alike (memory).
  'jam, no added pectin': [...berries, 'strawberry', 'peach', 'apricot', 'plum', 'damson'],
  // Guide 7 p. 7-5: fruit whose own acid and pectin set.
  'jelly, no added pectin': [
    'apple',
    'blackberry',
    'cranberry',
    'damson',
    'gooseberry',
    'grape',
    'plum',
    'quince',
    'redcurrant',
  ],
  'jam or jelly, added pectin': anyAcidFruit,
  'lemon curd': ['lemon'],
  'mango chutney': [],
  'mango salsa': [],
  'mango sauce': [],
  'mixed fruit cocktail': ['peach', 'pear', 'grape', 'cherry-sour', 'cherry-sweet'],
  'peach apple salsa': ['peach', 'apple', 'tomato', 'onion', 'sweet-pepper'],
  'peach pickles': ['peach'],
  'peach pie filling': ['peach'],
  'peach preserves': ['peach'],
  'peach salsa': ['peach', 'onion', 'sweet-pepper', 'hot-pepper'],
  'peach-orange marmalade': ['peach'],
  'peach-pineapple spread': ['peach'],
  // Guide 2 sends apricots and nectarines to the directions for peaches (memory).
  peaches: ['peach', 'nectarine', 'apricot'],
  'pear pickles': ['pear'],
  'pear preserves': ['pear', 'lemon'],
  'pear-apple jam': ['pear', 'apple'],
  pineapple: [],
  // Damsons are plums: the table speaks of plums of any kind.
  plums: ['plum', 'damson'],
  'remade soft jellies': [],
  'strawberry preserves': ['strawberry'],
  'strawberry-rhubarb jelly': ['strawberry', 'rhubarb'],
  'watermelon rind pickles': [],
}

/**
 * Keys of the crops that a published product may hold, as far as they are crops here; undefined: nobody has written
 * down which. Takes the product as the process table names it.
 */
export function cropsPublishedFor(product: string): readonly string[] | undefined {
  const name = product.toLowerCase()
  for (const table of [fruit, publishedVegetableCrops, publishedPickleCrops]) {
    if (Object.hasOwn(table, name)) return table[name]
  }
  const alone = findCrop(name)?.key
  return alone === undefined ? undefined : [alone]
}

/** What a material is of: "apple-juice" is of apples. Undefined where its name does not say. */
export function cropOfMaterial(material: string): string | undefined {
  const stem = material.replace(/-(juice|puree|pulp|sauce|nectar)$/, '')
  return stem === material ? undefined : (crop(stem)?.key ?? findCrop(stem)?.key)
}
