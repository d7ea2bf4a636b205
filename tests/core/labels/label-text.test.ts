import { describe, expect, test } from 'vitest'
import { type JarFacts, labelDate, labelText, shelfLives } from '../../../src/core/labels/index.ts'

const jar: JarFacts = {
  product: 'Apple sauce',
  variety: 'Bramley',
  madeOn: '2026-09-14',
  bestBy: '2027-09-14',
  jar: { name: 'Pint jar', ml: 473.176473 },
  batchCode: '7KQ4M',
  household: 'Okonkwo',
  allergens: ['mustard', 'celery'],
  cautions: [],
  shelfLife: 'shelf',
  useWithinDays: 5,
}
const textsOf = (change: Partial<JarFacts>, units: 'us' | 'metric' = 'us') =>
  labelText({ ...jar, ...change }, units).map(({ text }) => text)

describe('what a label says', () => {
  test('stands in the order of a person’s questions', () => {
    expect(textsOf({})).toEqual([
      'Apple sauce',
      'Bramley',
      'Contains: mustard, celery',
      'Once open, refrigerate and use within 5 days',
      'Best by 14 Sep 2027',
      'Made 14 Sep 2026',
      'Batch 7KQ4M',
      'Pint jar, 16 fl oz',
      'Okonkwo',
      'Lid loose, bulging or leaking: do not taste it',
    ])
  })

  test('never counts name, allergens, cautions, dates or code among what may be left off', () => {
    for (const shelfLife of shelfLives) {
      const lines = labelText({ ...jar, shelfLife, cautions: ['Contains stones'] }, 'us')
      const optional = lines.filter(({ needed }) => !needed).map(({ kind }) => kind)
      expect(optional.every((kind) => ['variety', 'jar', 'household', 'care'].includes(kind))).toBe(true)
      expect(lines.find(({ kind }) => kind === 'allergens')).toEqual({
        kind: 'allergens',
        text: 'Contains: mustard, celery',
        needed: true,
      })
      expect(lines.filter(({ kind }) => kind === 'caution').at(-1)?.text).toBe('Contains stones')
    }
  })

  test('warns by how it keeps', () => {
    const warnings = (change: Partial<JarFacts>, units: 'us' | 'metric' = 'us') =>
      labelText({ ...jar, ...change }, units).flatMap(({ kind, text }) => (kind === 'caution' ? [text] : []))
    expect(warnings({ useWithinDays: null })).toEqual(['Once open, refrigerate'])
    expect(warnings({ shelfLife: 'refrigerated', useWithinDays: 28 })).toEqual([
      'Keep refrigerated: not shelf-stable',
      'Use within 28 days of opening',
    ])
    expect(warnings({ shelfLife: 'frozen', useWithinDays: 1 })).toEqual([
      'Keep frozen, 0 °F or colder',
      'Use within 1 day of thawing',
    ])
    expect(warnings({ shelfLife: 'frozen', useWithinDays: null }, 'metric')).toEqual(['Keep frozen, -18 °C or colder'])
    expect(warnings({ shelfLife: 'dried', useWithinDays: null })).toEqual(['Keep dry, closed and dark'])
  })

  test('leaves out what is not known, and says whose shelf it is on', () => {
    const lines = textsOf({
      variety: null,
      bestBy: null,
      allergens: [' '],
      household: null,
      jar: { name: 'Bag', ml: null },
    })
    expect(lines.slice(1)).toEqual([
      'Once open, refrigerate and use within 5 days',
      'Made 14 Sep 2026',
      'Batch 7KQ4M',
      'Bag',
      'Shared shelf',
      'Lid loose, bulging or leaking: do not taste it',
    ])
  })

  test('is in the co-op’s units', () => {
    expect(textsOf({}, 'metric')).toContain('Pint jar, 473 ml')
  })

  test('is one line of composed letters each', () => {
    const [name] = textsOf({ product: ' Z\u030cuta\u0301\n  ryba\u0000 ' })
    expect(name).toBe('Žutá ryba')
  })

  test('refuses what cannot be meant', () => {
    expect(() => textsOf({ product: ' \n' })).toThrow(RangeError)
    expect(() => textsOf({ batchCode: '' })).toThrow(RangeError)
    expect(() => textsOf({ useWithinDays: 0 })).toThrow(RangeError)
    for (const bad of ['2026-02-30', '2026-9-4', '', '14.09.2026']) expect(() => labelDate(bad)).toThrow(RangeError)
    expect(labelDate('2028-02-29')).toBe('29 Feb 2028')
  })
})
