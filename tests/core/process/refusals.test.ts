import { describe, expect, it } from 'vitest'
import {
  jarSizes,
  lookUpProcess,
  processSources,
  untestedStyles,
  whereTheyDiffer,
} from '../../../src/core/process/index.ts'

const methods = ['boiling-water', 'steam', 'dial-gauge', 'weighted-gauge']

function answersFor(product: string, form?: string) {
  return methods.flatMap((method) => jarSizes.map((jar) => lookUpProcess({ product, form, jar, method, altitudeM: 0 })))
}

// Untested or withdrawn, by the USDA guide of 2015, the National Center and later extension advice (sources at each entry).
const neverTested: [product: string, form?: string][] = [
  ['white-fleshed peaches'],
  ['White peaches'],
  ['white nectarines'],
  ['peaches', 'white-fleshed'],
  ['peaches', 'white-fleshed, sliced'],
  ['white peach jam'],
  ['elderberries'],
  ['elderberry jelly'],
  ['elderberry', 'juice'],
  ['mulberries'],
  ['pumpkin', 'mashed'],
  ['pumpkin puree'],
  ['pumpkin butter'],
  ['winter-squash', 'puree'],
  ['squash butter'],
  ['butternut squash', 'mashed'],
  ['bananas'],
  ['banana', 'puree'],
  ['banana jam'],
  ['cantaloupe'],
  ['melon jam'],
  ['watermelon'],
  ['honeydew melon'],
  ['papaya'],
  ['ripe mango'],
  ['mango', 'puree'],
  ['coconut'],
  ['figs', 'puree'],
  ['Asian pear puree'],
  ['tomatoes', 'puree'],
  ['carrots', 'puree'],
  ['mashed potatoes'],
  ['sweet potatoes', 'mashed'],
  ['vegetable baby food'],
  ['wild mushrooms'],
  ['chanterelles'],
  ['mushrooms', 'wild'],
  ['apple pie filling', 'thickened with flour'],
  ['blueberry pie filling', 'with cornstarch'],
  ['peach pie filling', 'with tapioca'],
  ['thickened salsa'],
  ['chile salsa', 'thickened'],
  ['chicken noodle soup'],
  ['soup', 'with rice'],
  ['vegetable soup', 'with cream'],
  ['summer squash'],
  ['zucchini'],
  ['cabbage'],
  ['broccoli'],
  ['cauliflower'],
  ['Brussels sprouts'],
  ['eggplant'],
  ['aubergines', 'sliced'],
  ['lettuce'],
  ['olives'],
  ['garlic in oil'],
  ['garlic', 'in oil'],
  ['herbs in oil'],
  ['peppers', 'in oil'],
  ['pesto'],
  ['artichokes'],
  ['celery'],
  ['bread'],
  ['cake in a jar'],
  ['butter'],
  ['pickled eggs'],
  ['chocolate sauce'],
  ['dates'],
  ['avocado'],
  ['persimmon'],
]

describe('what was never tested, or withdrawn', () => {
  it.each(neverTested)('refuses %s %s in every canner and jar, and says what to do instead', (product, form) => {
    for (const answer of answersFor(product ?? '', form)) {
      if (answer.answer !== 'refused') throw new Error(`${product}: ${answer.answer}`)
      expect(['untested-style', 'withdrawn', 'low-acid']).toContain(answer.reason)
      expect(answer.says).toMatch(/\.$/)
      expect(answer.instead.length).toBeGreaterThan(0)
      expect(answer.source).not.toBeNull()
    }
  })

  it('takes elderberries and mulberries for withdrawn: the guide of 2015 lists them', () => {
    for (const product of ['elderberries', 'mulberries']) {
      expect(lookUpProcess({ product, jar: 'pint', method: 'boiling-water', altitudeM: 0 })).toMatchObject({
        reason: 'withdrawn',
      })
    }
  })

  it('leaves what is published of the same foods alone', () => {
    // Guide 2 p. 2-16 mango sauce, Guide 3 mango salsa, Guide 6 p. 6-17, 6-26 and 6-15: half-pints of each are listed.
    for (const product of [
      'mango sauce',
      'mango salsa',
      'pickled cauliflower',
      'pickled zucchini',
      'sauerkraut',
      'pickled beets',
    ]) {
      const answer = lookUpProcess({ product, jar: 'half-pint', method: 'boiling-water', altitudeM: 0 })
      expect(answer.answer, product).toBe('tested')
    }
  })
})

// Named for pressure only: Guide 1 p. 1-8 and Guides 3 to 5 of the USDA guide of 2015.
const pressureOnly = [
  ...['asparagus', 'dried beans', 'lima beans', 'green beans', 'beets', 'carrots', 'corn', 'mixed vegetables'],
  ...['mushrooms', 'okra', 'green peas', 'peppers', 'potatoes', 'sweet potatoes', 'pumpkin', 'winter squash', 'soups'],
  ...['greens', 'succotash', 'tomatoes with okra or zucchini', 'spaghetti sauce', 'spaghetti sauce with meat', 'meat'],
  ...['chicken', 'fish', 'chile con carne', 'baked beans', 'turnips', 'onions', 'cucumbers', 'garlic', 'horseradish'],
]

describe('low-acid food', () => {
  it.each(pressureOnly)('refuses %s in boiling water and in steam, and says what to do instead', (product) => {
    for (const method of ['boiling-water', 'steam']) {
      const answer = lookUpProcess({ product, jar: 'pint', method, altitudeM: 0 })
      expect(answer).toMatchObject({ answer: 'refused', reason: 'low-acid' })
      expect(answer.answer === 'refused' && answer.instead.length).toBeTruthy()
    }
  })

  it('refuses it before anything else is known', () => {
    const answer = lookUpProcess({ product: 'corn', jar: 'bucket', method: 'boiling-water', altitudeM: Number.NaN })
    expect(answer).toMatchObject({ reason: 'low-acid' })
  })

  it.each(['sliced carrots', 'whole potatoes', 'turnips, diced'])('refuses %s', (product) => {
    expect(lookUpProcess({ product, jar: 'pint', method: 'boiling-water', altitudeM: 0 })).toMatchObject({
      reason: 'low-acid',
    })
  })
})

describe('the lists for pages', () => {
  it('names each untested style once, with words, a reason and a known source', () => {
    const keys = untestedStyles().map(({ key }) => key)
    expect(new Set(keys).size).toBe(keys.length)
    for (const entry of untestedStyles()) {
      expect(entry.names.length, entry.key).toBeGreaterThan(0)
      expect(entry.says, entry.key).toMatch(/^[A-Z].*\.$/)
      expect(entry.instead.length, entry.key).toBeGreaterThan(0)
      expect(processSources, entry.key).toHaveProperty([entry.source.document])
    }
  })

  it('refuses every name it lists, in boiling water and under pressure', () => {
    for (const { names } of untestedStyles()) {
      for (const product of names) {
        for (const method of ['boiling-water', 'dial-gauge']) {
          expect(lookUpProcess({ product, jar: 'pint', method, altitudeM: 0 }).answer, product).toBe('refused')
        }
      }
    }
  })

  it.each([
    /flour/,
    /pears packed raw/,
    /apples packed raw/,
    /oven/,
    /lemon juice/,
    /vinegar/,
    /altitude/,
    /wax/,
    /sauerkraut/,
    /half-pints/,
  ])('says where practice differs: %s', (topic) => {
    expect(whereTheyDiffer().some((difference) => topic.test(difference.topic))).toBe(true)
  })

  it('says of each difference what is done, what was tested, what we do and by which source', () => {
    for (const { topic, practice, tested, weDo, source } of whereTheyDiffer()) {
      for (const text of [practice, tested, weDo]) expect(text, topic).toMatch(/^[A-Z0-9].*\.$/)
      expect(processSources, topic).toHaveProperty([source.document])
    }
  })
})
