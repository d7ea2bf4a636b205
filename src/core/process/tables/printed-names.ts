/** A product of the process table, and the form that a printed name means. */
export type PrintedName = { product: string; form: string }

const limaBeans = { product: 'beans, fresh lima', form: 'shelled' }
const citrus = { product: 'grapefruit and orange sections', form: 'sections' }
const inJuice = { product: 'tomatoes, whole or halved', form: 'packed in tomato juice' }
const inWater = { product: 'tomatoes, whole or halved', form: 'packed in water' }
const withoutLiquid = { product: 'tomatoes, whole or halved', form: 'raw, no added liquid' }
const cubes = { product: 'meat, strips, cubes or chunks', form: '' }
const ground = { product: 'meat, ground or chopped', form: '' }

/**
 * The full names that the pressure tables of the USDA guide print, lower case, with the product and the form of the
 * process table that each means.
 */
export const printedNames: Readonly<Record<string, PrintedName>> = {
  'apples, sliced': { product: 'apples', form: 'sliced' },
  applesauce: { product: 'applesauce', form: 'sauce' },
  apricots: { product: 'apricots', form: 'halved or sliced' },
  'apricots, halved or sliced': { product: 'apricots', form: 'halved or sliced' },
  'berries, whole': { product: 'berries', form: 'whole' },
  'cherries, sour or sweet': { product: 'cherries', form: 'whole, sweet or sour' },
  'cherries, whole': { product: 'cherries', form: 'whole, sweet or sour' },
  'fruit purees': { product: 'fruit purees', form: 'puree' },
  'grapefruit and orange sections': citrus,
  'grapefruit or orange sections': citrus,
  nectarines: { product: 'nectarines', form: 'halved or sliced' },
  'nectarines, halved or sliced': { product: 'nectarines', form: 'halved or sliced' },
  peaches: { product: 'peaches', form: 'halved or sliced' },
  'peaches, halved or sliced': { product: 'peaches', form: 'halved or sliced' },
  pears: { product: 'pears', form: 'halved' },
  'pears, halved': { product: 'pears', form: 'halved' },
  plums: { product: 'plums', form: 'halved or whole' },
  'plums, halved or whole': { product: 'plums', form: 'halved or whole' },
  rhubarb: { product: 'rhubarb', form: 'stewed' },
  'rhubarb, stewed': { product: 'rhubarb', form: 'stewed' },

  'tomato juice': { product: 'tomato juice', form: 'juice' },
  'tomato and vegetable juice blend': { product: 'tomato and vegetable juice blend', form: 'juice' },
  'tomatoes, crushed': { product: 'tomatoes, crushed', form: 'no added liquid' },
  'tomato sauce, standard': { product: 'tomato sauce, standard', form: 'thin or thick' },
  'standard tomato sauce': { product: 'tomato sauce, standard', form: 'thin or thick' },
  'tomatoes, whole or halved, in water': inWater,
  'tomatoes, whole or halved, packed in water': inWater,
  'tomatoes, whole or halved, in tomato juice': inJuice,
  'tomatoes, whole or halved, packed in tomato juice': inJuice,
  'tomatoes, whole or halved, in juice': inJuice,
  'tomatoes, raw without added liquid': withoutLiquid,
  'tomatoes, whole or halved, raw without added liquid': withoutLiquid,
  'tomatoes with okra or zucchini': { product: 'tomatoes with okra or zucchini', form: '' },
  'spaghetti sauce without meat': { product: 'spaghetti sauce without meat', form: '' },
  'spaghetti sauce with meat': { product: 'spaghetti sauce with meat', form: '' },
  'mexican tomato sauce': { product: 'Mexican tomato sauce', form: '' },

  asparagus: { product: 'asparagus', form: 'spears or pieces' },
  'asparagus, spears or pieces': { product: 'asparagus', form: 'spears or pieces' },
  'beans or peas, shelled dried': { product: 'beans or peas, shelled dried', form: 'shelled' },
  'beans, baked': { product: 'beans, baked', form: '' },
  'beans, dry, with tomato or molasses sauce': { product: 'beans, dry, with tomato or molasses sauce', form: '' },
  'beans, fresh lima, shelled': limaBeans,
  'beans, lima, shelled': limaBeans,
  'lima beans, fresh, shelled': limaBeans,
  'lima beans, shelled': limaBeans,
  'lima beans': limaBeans,
  'beans, snap and italian, pieces': { product: 'beans, snap and Italian', form: 'pieces' },
  'beets, whole, cubed or sliced': { product: 'beets', form: 'whole, cubed or sliced' },
  'carrots, sliced or diced': { product: 'carrots', form: 'sliced or diced' },
  'corn, cream style': { product: 'corn', form: 'cream style' },
  'corn, whole kernel': { product: 'corn', form: 'whole kernel' },
  'mixed vegetables': { product: 'mixed vegetables', form: '' },
  'mushrooms, whole or sliced': { product: 'mushrooms', form: 'whole or sliced' },
  okra: { product: 'okra', form: '' },
  'peas, green or english, shelled': { product: 'peas, green or English', form: 'shelled' },
  'peppers, hot or sweet': { product: 'peppers', form: 'hot or sweet' },
  'potatoes, sweet, pieces or whole': { product: 'potatoes, sweet', form: 'pieces or whole' },
  'potatoes, white': { product: 'potatoes, white', form: 'cubed or whole' },
  'potatoes, white, cubed or whole': { product: 'potatoes, white', form: 'cubed or whole' },
  'pumpkin and winter squash, cubed': { product: 'pumpkin and winter squash', form: 'cubed' },
  'soups (vegetable, bean, meat)': { product: 'soups (vegetable, bean, meat)', form: '' },
  'soups with seafood': { product: 'soups with seafood', form: '' },
  'spinach and other greens': { product: 'spinach and other greens', form: '' },
  succotash: { product: 'succotash', form: '' },

  'chicken or rabbit, without bones': { product: 'chicken or rabbit', form: 'without bones' },
  'chicken or rabbit, with bones': { product: 'chicken or rabbit', form: 'with bones' },
  'ground or chopped meat': ground,
  'strips, cubes, or chunks of meat': cubes,
  'strips, cubes or chunks of meat': cubes,
  'meat stock (broth)': { product: 'meat stock', form: 'broth' },
  'festive mincemeat pie filling': {
    product: 'festive mincemeat pie filling',
    form: 'mincemeat of meat, suet and fruit',
  },
  'chile con carne': { product: 'chile con carne', form: '' },
  'fish in pint jars': { product: 'fish', form: 'pieces' },
  'clams, whole or minced': { product: 'clams', form: 'whole or minced' },
  oysters: { product: 'oysters', form: '' },
}
