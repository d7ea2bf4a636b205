import { describe, expect, it } from 'vitest'
import { listedNames, meaningOf, meaningOfDish, unclearName } from '../../../src/core/process/names.ts'
import { untestedStyles } from '../../../src/core/process/refusals.ts'
import { spelled } from '../../../src/core/process/spelling.ts'
import { processTable } from '../../../src/core/process/tables/index.ts'
import { printedNames } from '../../../src/core/process/tables/printed-names.ts'
import { crops } from '../../../src/core/produce/index.ts'

const products = new Set(processTable().map(({ product }) => product))
const productsOf = (name: string) => meaningOf(name)?.products ?? []

/**
 * Foods that share a table with another food, by hand, with where the sharing is published. Anything else that leads to
 * one of these products must be the same food by another word. Pages are those of the USDA guide of 2015.
 */
const shared: Readonly<Record<string, { names: readonly string[]; published: string }>> = {
  plums: {
    names: [
      'plum',
      'damson',
      'greengage',
      'mirabelle',
      'zwetschge',
      'prune plum',
      'bullace',
      'damson plum',
      'zwetschgen',
      'plum halved or whole',
    ],
    published: 'one species group: all plums, Guide 2 p. 2-21',
  },
  berries: {
    names: [
      ...['berry', 'blackberry', 'bramble', 'raspberry', 'blueberry', 'huckleberry', 'loganberry', 'dewberry'],
      ...['gooseberry', 'currant', 'blackcurrant', 'black currant', 'cassis', 'redcurrant', 'red currant'],
      ...['white currant', 'whitecurrant', 'berry whole'],
    ],
    published: 'listed by name in Guide 2 p. 2-10',
  },
  cherries: {
    names: [
      ...[
        'cherry',
        'sweet cherry',
        'sour cherry',
        'cherry sweet',
        'cherry sour',
        'morello',
        'tart cherry',
        'pie cherry',
      ],
      ...['cherry sour or sweet', 'cherry whole'],
    ],
    published: 'sweet or sour, Guide 2 p. 2-12',
  },
  peppers: {
    names: [
      ...['pepper', 'sweet pepper', 'bell pepper', 'capsicum', 'paprika', 'hot pepper', 'chilli', 'chilly'],
      ...['chily', 'chile', 'jalapeno', 'pepper hot or sweet'],
    ],
    published: 'hot or sweet, including chiles and jalapeño, Guide 4 p. 4-16',
  },
  'pumpkin and winter squash': {
    names: [
      ...['pumpkin', 'winter squash', 'butternut', 'butternut squash', 'hubbard', 'pumpkin and winter squash'],
      'pumpkin and winter squash cubed',
    ],
    published: 'pumpkins and winter squash, Guide 4 p. 4-18',
  },
  'spinach and other greens': {
    names: ['spinach', 'leaf spinach', 'chard', 'green', 'kale', 'collard', 'beet green', 'spinach and other green'],
    published: 'spinach and other greens, Guide 4 p. 4-20',
  },
  'beans, snap and Italian': {
    names: [
      ...['snap bean', 'green bean', 'french bean', 'string bean', 'wax bean', 'bean snap and italian'],
      'bean snap and italian piece',
    ],
    published: 'snap and Italian, green and wax, Guide 4 p. 4-8',
  },
  'beans or peas, shelled dried': {
    names: [
      'dried bean',
      'dry bean',
      'dried pea',
      'dry pea',
      'dried bean and pea',
      'dried bean or pea',
      'bean or pea shelled dried',
    ],
    published: 'all varieties, Guide 4 p. 4-6',
  },
  'chicken or rabbit': {
    names: ['chicken', 'rabbit', 'chicken or rabbit', 'chicken or rabbit without bone', 'chicken or rabbit with bone'],
    published: 'Guide 5 p. 5-5',
  },
  'grapefruit and orange sections': {
    names: ['grapefruit', 'grapefruit section', 'grapefruit and orange section', 'grapefruit or orange section'],
    published: 'grapefruit may be canned alone, Guide 2 p. 2-15',
  },
  'pickled cauliflower or Brussels sprouts': {
    names: [
      ...['pickled cauliflower', 'pickled brussel sprout', 'cauliflower pickle'],
      'pickled cauliflower or brussel sprout',
    ],
    published: 'Guide 6 p. 6-17',
  },
}

describe('what may share a table', () => {
  it.each(Object.entries(shared))('%s: nothing but the foods it is published for', (product, { names }) => {
    const found = [...listedNames()].filter(([, meaning]) => meaning.products.includes(product)).map(([name]) => name)
    expect(found.filter((name) => !names.includes(name))).toEqual([])
    for (const name of names) expect(productsOf(name), name).toContain(product)
  })

  it('keeps foods apart that sound alike', () => {
    const apart: readonly (readonly [string, string])[] = [
      ['pears', 'Asian pears'],
      ['peaches', 'nectarines'],
      ['potatoes', 'sweet potatoes'],
      ['snap beans', 'lima beans'],
      ['snap beans', 'dried beans'],
      ['green peas', 'dried peas'],
      ['apples', 'crab apples'],
      ['apples', 'pineapple'],
      ['tomatoes', 'tomatillos'],
      ['mushrooms', 'wild mushrooms'],
      ['winter squash', 'summer squash'],
      ['cranberries', 'berries'],
      ['strawberries', 'berries'],
      ['grapes', 'grapefruit'],
      ['corn', 'pickled corn relish'],
      ['beets', 'pickled beets'],
      ['spaghetti sauce with meat', 'spaghetti sauce without meat'],
    ]
    for (const [one, other] of apart) {
      const both = productsOf(one).filter((product) => productsOf(other).includes(product))
      expect(both, `${one} and ${other}`).toEqual([])
    }
  })

  it.each([
    'beans',
    'bean',
    'squash',
    'crab apples',
    'wineberries',
    'boysenberries',
    'bilberries',
    'lingonberries',
    'runner beans',
    'butter beans',
    'chili',
    'corn on the cob',
    'stock',
  ])('does not decide what "%s" are', (name) => {
    expect(meaningOf(name)).toBeUndefined()
    expect(unclearName(name)?.says).toBeTruthy()
  })
})

describe('the purees, jams and jellies of fruit', () => {
  it.each([
    'bananas',
    'asian pear',
    'fig',
    'tomato',
    'cantaloupe',
    'melon',
    'papaya',
    'ripe mango',
    'mango',
    'coconut',
    'elderberry',
  ])('has no puree of %s (Guide 2 p. 2-14)', (fruit) => {
    expect(meaningOfDish(fruit, 'puree')).toBeUndefined()
    expect(meaningOf(`${fruit} puree`)).toBeUndefined()
  })

  it('has puree of fruit only', () => {
    for (const { key, kind } of crops.filter((one) => one.kind === 'vegetable')) {
      expect(meaningOfDish(key, 'puree'), `${key}, a ${kind}`).toBeUndefined()
    }
  })

  it.each([
    'apricot',
    'peach',
    'blackberry',
    'boysenberry',
    'dewberry',
    'gooseberry',
    'loganberry',
    'raspberry',
    'strawberry',
  ])('has jam of %s without added pectin (Guide 7; list read in Michigan sheet 01600890)', (fruit) => {
    expect(meaningOfDish(fruit, 'jam')?.products[0]).toBe('jam, no added pectin')
  })

  it.each(['plum', 'blueberry', 'fig', 'pear', 'rhubarb', 'grape'])(
    'has jam of %s with packaged pectin only (Guide 7; list read in Michigan sheet 01600891)',
    (fruit) => {
      expect(meaningOfDish(fruit, 'jam')?.products).toEqual(['jam or jelly, added pectin'])
    },
  )

  it.each(['elderberry', 'tomato', 'pumpkin', 'carrot', 'banana', 'mulberry', 'white peach'])(
    'has no jam of %s',
    (food) => {
      expect(meaningOfDish(food, 'jam')).toBeUndefined()
      expect(meaningOfDish(food, 'jelly')).toBeUndefined()
    },
  )
})

describe('published recipes', () => {
  it.each([
    'huckleberry pie filling',
    'sweet cherry pie filling',
    'pear pie filling',
    'mincemeat',
    'plum butter',
    'vegetable stock',
  ])('are not stretched to %s', (name) => {
    expect(meaningOf(name)).toBeUndefined()
  })
})

describe('the order of words', () => {
  it.each(['tomato paste', 'cherry sour pie', 'juice grape tomato'])(
    '%s is not what its words turned about would be',
    (name) => {
      expect(meaningOf(name)).toBeUndefined()
    },
  )

  it.each([
    ['paste tomatoes', 'tomatoes'],
    ['sauce, apple', 'apple sauce'],
    ['tomatoes, crushed', 'crushed tomatoes'],
  ])('%s is %s', (name, same) => {
    expect(meaningOf(name)).toEqual(meaningOf(same))
    expect(meaningOf(name)).toBeDefined()
  })
})

describe('the list of names', () => {
  it('leads to products of the table only', () => {
    for (const [name, meaning] of listedNames()) {
      for (const product of meaning.products) expect(products.has(product), `${name}: ${product}`).toBe(true)
    }
  })

  it('has every product of the table by its own name', () => {
    for (const product of products) expect(productsOf(product), product).toEqual([product])
  })

  it('has every printed name of the pressure tables, in its form', () => {
    for (const [name, { product, form }] of Object.entries(printedNames)) {
      expect(productsOf(name), name).toEqual([product])
      const rows = processTable().filter((row) => row.product === product)
      expect(
        rows.some((row) => row.form === form),
        `${name}: ${form}`,
      ).toBe(true)
    }
  })

  it('has no name of anything that is untested', () => {
    for (const { names } of untestedStyles()) {
      for (const name of names) expect(meaningOf(name), name).toBeUndefined()
    }
  })

  it('gives a crop by its key, singular and plural the same meaning', () => {
    for (const { key, singular, plural } of crops) {
      expect(meaningOf(singular), singular).toEqual(meaningOf(key))
      expect(meaningOf(plural), plural).toEqual(meaningOf(key))
    }
  })
})

describe('spelling', () => {
  it.each([
    ['Plums, Halved', 'plum halved'],
    ['  sweet--corn ', 'sweet corn'],
    ['cherries', 'cherry'],
    ['peaches', 'peach'],
    ['tomatoes', 'tomato'],
    ['Äpfel & Birnen', 'apfel and birnen'],
    ['asparagus', 'asparagus'],
    ['peas', 'pea'],
    ['pies', 'pie'],
    ['radishes', 'radish'],
  ])('writes "%s" as "%s"', (text, words) => {
    expect(spelled(text)).toBe(words)
    expect(spelled(words)).toBe(words)
  })
})
