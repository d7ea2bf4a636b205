import { memory, seen } from './sources.ts'
import type { Entry } from './untested-entries.ts'

const freeze = 'freeze it'
const dry = 'dry it'
const cold = 'keep it in the refrigerator and use it soon'
const guide = (section: string, note?: string) => seen('usda-2015', section, note)
const untested = (note: string) => memory('national-center', note)

/** What is put into or around the food. */
export const untestedMixtures: readonly Entry[] = [
  {
    key: 'starch-fillings',
    what: 'fillings thickened with flour, plain cornstarch, tapioca or arrowroot',
    names: ['flour-thickened pie filling', 'cornstarch pie filling', 'tapioca pie filling', 'arrowroot pie filling'],
    ways: [
      ...['thickened', 'with flour', 'with cornstarch', 'with corn starch', 'with cornflour', 'with tapioca'],
      ...['with arrowroot', 'with starch', 'thickened with flour', 'thickened with cornstarch', 'flour-thickened'],
      ...['thickened with tapioca', 'thickened with arrowroot', 'thickened with starch', 'cornstarch-thickened'],
      ...['tapioca-thickened', 'starch-thickened', 'arrowroot-thickened'],
    ],
    says: 'Flour, plain cornstarch, tapioca and arrowroot hold the heat back and break down. Only the cook-type modified starch of the published fillings was tested, in the amount they state.',
    instead: ['can the fruit plain and thicken it when you open it', 'use the published filling', freeze],
    source: guide('Guide 2 p. 2-25, 2-26'),
  },
  {
    key: 'thickened-salsa',
    what: 'salsa thickened before canning',
    names: ['thickened salsa', 'thick salsa with flour', 'salsa with cornstarch', 'salsa with flour'],
    says: 'Starch in salsa changes how heat goes through the jar: the published times no longer hold.',
    instead: ['thicken it when you serve it', freeze],
    source: guide('Guide 3 p. 3-21'),
  },
  {
    key: 'soups-with-starch',
    what: 'soups with noodles, rice, flour, cream or milk',
    names: [
      ...['noodle soup', 'chicken noodle soup', 'cream soup', 'creamed soup', 'rice soup', 'soup with noodles'],
      ...['soup with rice', 'soup with cream', 'soup with milk', 'soup with flour', 'chowder', 'soup with pasta'],
    ],
    ways: ['with noodles', 'with rice', 'with pasta', 'with cream', 'with milk', 'with dairy', 'with barley'],
    says: 'Noodles, rice, flour, cream and milk change how heat goes through the jar: the times for soup do not hold with them.',
    instead: ['can the soup without them and add them when you open it', freeze],
    source: guide('Guide 4 p. 4-18'),
  },
  {
    key: 'in-oil',
    what: 'garlic, herbs, vegetables or pesto in oil',
    names: [
      ...[
        'garlic in oil',
        'herbs in oil',
        'vegetables in oil',
        'peppers in oil',
        'tomatoes in oil',
        'mushrooms in oil',
      ],
      ...['pesto', 'basil pesto', 'garlic oil', 'herb oil', 'chilli oil', 'chili oil', 'sun-dried tomatoes in oil'],
    ],
    ways: ['in oil', 'in olive oil', 'with oil', 'under oil'],
    says: 'Oil keeps the air out and protects bacteria from the heat: what lies in it can grow botulism, and no process was tested.',
    instead: [freeze, 'keep it in the refrigerator for a few days', dry],
    source: untested('garlic, herbs and vegetables in oil'),
  },
  {
    key: 'bread-and-cake',
    what: 'bread or cake in jars',
    names: [
      'bread',
      'cake',
      'bread in jars',
      'cake in jars',
      'cake in a jar',
      'bread in a jar',
      'canned bread',
      'canned cake',
    ],
    says: 'Bread and cake closed in a jar are low in acid and moist: no process was tested for them.',
    instead: ['bake and freeze it', 'give the dry ingredients in a jar'],
    source: untested('breads and cakes in jars'),
  },
  {
    key: 'butter-and-dairy',
    what: 'butter, milk, cream and cheese in jars',
    names: [
      'butter',
      'canned butter',
      'dairy butter',
      'ghee',
      'milk',
      'cream',
      'cheese',
      'dulce de leche',
      'caramel sauce',
    ],
    says: 'Milk, cream, butter and cheese are low in acid, and their fat protects bacteria from the heat: no process was tested.',
    instead: [freeze, cold],
    source: untested('butter and dairy'),
  },
  {
    key: 'pickled-eggs',
    what: 'eggs, also pickled ones on a shelf',
    names: ['eggs', 'egg', 'pickled eggs', 'pickled egg', 'quail eggs', 'pickled quail eggs'],
    anyForm: true,
    says: 'Pickled eggs belong in the refrigerator: no process was tested for eggs in jars, and pickled eggs kept warm have made people ill.',
    instead: ['keep pickled eggs in the refrigerator'],
    source: untested('pickled eggs'),
  },
  {
    key: 'chocolate-sauce',
    what: 'chocolate and fudge sauce',
    names: [
      'chocolate sauce',
      'fudge sauce',
      'chocolate syrup',
      'hot fudge sauce',
      'chocolate fudge sauce',
      'chocolate',
    ],
    says: 'Chocolate sauce is low in acid, and no process was tested for it.',
    instead: [freeze, cold],
    source: untested('chocolate sauce'),
  },
]
