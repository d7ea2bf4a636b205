import { describe, expect, test } from 'vitest'
import { crop, crops, findCrop, sources } from '../../../src/core/produce/index.ts'

describe('the table of crops', () => {
  test('holds the crops a kitchen meets', () => {
    const keys =
      'apple pear quince plum damson peach apricot cherry-sour cherry-sweet nectarine blackberry raspberry strawberry blueberry blackcurrant redcurrant gooseberry elderberry cranberry grape rhubarb fig tomato cucumber sweet-pepper snap-bean beet carrot cabbage onion sweet-corn pea summer-squash winter-squash pumpkin potato asparagus spinach eggplant hot-pepper lemon'
    expect(crops.map((row) => row.key).sort()).toEqual(keys.split(' ').sort())
  })

  test('no name means two crops', () => {
    const names = crops.flatMap((row) => [...new Set([row.singular, row.plural, ...row.synonyms])])
    expect(names.filter((name, index) => names.indexOf(name) !== index)).toEqual([])
  })

  test.each(crops)('$key has figures that can be true, each with a source', (row) => {
    expect(row.key).toMatch(/^[a-z]+(-[a-z]+)*$/)
    expect(row.ph.low).toBeLessThanOrEqual(row.ph.high)
    if (row.acidity === 'acid') expect(row.ph.high).toBeLessThanOrEqual(4.6)
    if (row.acidity === 'low-acid') expect(row.ph.high).toBeGreaterThan(4.6)
    expect(row.trim.edible + row.trim.share).toBeCloseTo(1, 12)
    for (const { grams } of row.containers) expect(Number.isSafeInteger(grams) && grams > 0).toBe(true)
    if (row.pieces !== null) {
      expect(row.pieces.perKg.small).toBeGreaterThan(row.pieces.perKg.medium)
      expect(row.pieces.perKg.medium).toBeGreaterThan(row.pieces.perKg.large)
    }
    for (const basis of ['cold-store', 'household']) {
      expect(row.storageLives.filter((life) => life.basis === basis)).not.toEqual([])
    }
    for (const { days } of row.storageLives) {
      expect(days[0]).toBeGreaterThan(0)
      expect(days[0]).toBeLessThanOrEqual(days[1])
    }
    expect(row.q10.value).toBeGreaterThan(1)
    const cited = [
      row.ph.source,
      row.trim.source,
      row.q10.source,
      ...row.containers.map((one) => one.source),
      ...row.storageLives.map((life) => life.source),
      ...(row.pieces === null ? [] : [row.pieces.source]),
      ...(row.chillsBelowC === null ? [] : [row.chillsBelowC.source]),
    ]
    for (const { document, section } of cited) {
      expect(document in sources).toBe(true)
      expect(section).toBeTruthy()
    }
  })
})

test('every document in the list of sources is cited, and every citation is in the list', () => {
  const cited = new Set([...JSON.stringify(crops).matchAll(/"document":"([^"]+)"/g)].map((match) => match[1]))
  expect([...cited].sort()).toEqual(Object.keys(sources).sort())
})

describe('looking a crop up', () => {
  test('by key, exactly', () => {
    expect(crop('damson')?.plural).toBe('damsons')
    expect(crop('Damson')).toBeUndefined()
    expect(crop('constructor')).toBeUndefined()
  })

  test.each([
    ['damson', 'damson'],
    ['Damsons', 'damson'],
    ['  TOMATOES ', 'tomato'],
    ['jalapeño', 'hot-pepper'],
    ['Courgettes', 'summer-squash'],
    ['green  beans', 'snap-bean'],
    ['sweet-corn', 'sweet-corn'],
    ['sour cherries', 'cherry-sour'],
    ['cherry-sour', 'cherry-sour'],
    ['Beetroot', 'beet'],
  ])('%j is %s', (typed, key) => {
    expect(findCrop(typed)?.key).toBe(key)
  })

  test.each(['', ' ', 'gravel', '__proto__', 'damsonsx'])('%j is no crop', (typed) => {
    expect(findCrop(typed)).toBeUndefined()
  })
})
