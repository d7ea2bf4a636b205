import { describe, expect, test } from 'vitest'
import { crops, type IntakeLine, readIntakeLine } from '../../../src/core/produce/index.ts'

const understood: [string, Omit<IntakeLine, 'weight' | 'notUnderstood'> & { grams?: number }][] = [
  [
    "2 bushels damsons from Mara's trees, soft",
    { grams: 50802, crop: 'damson', source: 'own-trees', broughtBy: 'Mara', class: 'soft' },
  ],
  [
    '90 kg apples bought from Tarn Orchard, in the cellar',
    { grams: 90000, crop: 'apple', source: 'bought', broughtBy: 'Tarn Orchard', storage: 'cool' },
  ],
  ['gleaned 12½ lb blackberries', { grams: 5670, crop: 'blackberry', source: 'gleaned' }],
  [
    'half a bushel of green tomatoes, donated by the Priory, fridge',
    { grams: 12020, crop: 'tomato', source: 'donated', broughtBy: 'the Priory', class: 'firm', storage: 'cold' },
  ],
  ['36 medium apples, kitchen', { grams: 5443, crop: 'apple', storage: 'room' }],
  ['20 apples', { grams: 3024, crop: 'apple' }],
  ['Damsons, 2 pecks, our trees, very ripe', { grams: 12701, crop: 'damson', source: 'own-trees', class: 'soft' }],
  [
    "from the Novaks' garden 3 lb redcurrants",
    { grams: 1361, crop: 'redcurrant', source: 'own-trees', broughtBy: 'the Novaks' },
  ],
  ['5 kg bruised windfall pears', { grams: 5000, crop: 'pear', source: 'gleaned', class: 'damaged' }],
  // A name with a crop or a class in it stays a name.
  ['20 kg plums from Apple Lane Farm', { grams: 20000, crop: 'plum', broughtBy: 'Apple Lane Farm' }],
  ['5 kg plums bought from Green Lane', { grams: 5000, crop: 'plum', source: 'bought', broughtBy: 'Green Lane' }],
  // The longest name wins: not plums.
  ['3 kg damson plums', { grams: 3000, crop: 'damson' }],
  ['plums', { crop: 'plum' }],
]

describe('an intake line', () => {
  test.each(understood)('%j', (text, { grams, ...expected }) => {
    const { weight, notUnderstood, ...read } = readIntakeLine(text, crops)
    expect(read).toEqual(expected)
    expect(weight?.grams).toBe(grams)
    expect(notUnderstood).toBe('')
  })

  test('says how the weight was read', () => {
    expect(readIntakeLine('2 bushels damsons', crops).weight?.reading).toBe('2 bushels of damsons at 25.4 kg')
  })

  test('hands back what it did not understand', () => {
    expect(readIntakeLine('36 medium apples very wormy', crops).notUnderstood).toBe('very wormy')
    expect(readIntakeLine('4 kg gravel', crops)).toMatchObject({ weight: { grams: 4000 }, notUnderstood: 'gravel' })
    expect(readIntakeLine('', crops)).toEqual({ notUnderstood: '' })
  })

  test('says why a weight could not be read', () => {
    expect(readIntakeLine('3 lugs of figs', crops)).toEqual({
      crop: 'fig',
      weightRefusal: 'no-figure-for-crop',
      notUnderstood: '3 lugs of',
    })
    expect(readIntakeLine('plums -3 kg', crops)).toMatchObject({ crop: 'plum', weightRefusal: 'not-positive' })
    expect(readIntakeLine('plums - 3 kg', crops).weight?.grams).toBe(3000)
  })

  test('knows only the crops it is given', () => {
    const onlyApples = crops.filter((row) => row.key === 'apple')
    expect(readIntakeLine('3 kg plums', onlyApples)).toMatchObject({ notUnderstood: 'plums' })
  })

  test('answers on a hundred thousand characters at once', () => {
    for (const bit of ['1 ', 'a ', "'s ", 'from ', '1 kg ', 'é', '½']) {
      const text = bit.repeat(Math.ceil(100_000 / bit.length))
      const begun = performance.now()
      const { notUnderstood } = readIntakeLine(text, crops)
      expect(performance.now() - begun).toBeLessThan(50)
      expect(notUnderstood.length).toBeGreaterThan(90_000)
    }
  })
})
