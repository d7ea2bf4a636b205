import { describe, expect, test } from 'vitest'
import { type Crop, chills, crop, crops, dwellDays, ripenessClasses } from '../../../src/core/produce/index.ts'

const practice = { document: 'common-practice', confidence: 'practice' } as const

/** A crop made up for arithmetic that can be done by hand: Q10 of 2, ten household days at 20 degrees. */
function plainCrop(changes: Partial<Crop>): Crop {
  const damson = crop('damson')
  if (damson === undefined) throw new Error('no damson')
  return {
    ...damson,
    storageLives: [
      { basis: 'household', tempC: 20, days: [8, 12], source: practice },
      { basis: 'cold-store', tempC: 0, days: [60, 60], source: practice },
    ],
    q10: { value: 2, source: practice },
    chillsBelowC: null,
    ...changes,
  }
}

describe('dwell times', () => {
  test('split the household life in three fifths ripe and two fifths soft, and halve soft for damaged', () => {
    // 60 days at 0 degrees are 60 / 2^2 = 15 at 20; 15 - 6 leaves 9 firm.
    expect(dwellDays(plainCrop({}), 'room')).toEqual({ firm: 9, ripe: 6, soft: 4, damaged: 2 })
  })

  test('double for each 10 degrees less when Q10 is 2', () => {
    const cool = dwellDays(plainCrop({}), 'cool')
    const factor = 2 ** 0.8
    expect(cool.ripe).toBeCloseTo(6 * factor, 9)
    expect(cool.soft).toBeCloseTo(4 * factor, 9)
    expect(cool.firm).toBeCloseTo(9 * factor, 9)
  })

  test('follow two published household lives rather than the Q10', () => {
    const lives = plainCrop({}).storageLives
    const twice = plainCrop({
      storageLives: [...lives, { basis: 'household', tempC: 4, days: [20, 20], source: practice }],
    })
    // 10 days at 20 and 20 at 4 double in 16 degrees, so that 12 degrees, half way, makes a factor of the square root of 2.
    expect(dwellDays(twice, 'cool').ripe).toBeCloseTo(6 * Math.SQRT2, 9)
  })

  test('take the ripening time for firm fruit that ripens off the plant', () => {
    const lives = plainCrop({}).storageLives
    const ripening = plainCrop({
      storageLives: [...lives, { basis: 'ripening', tempC: 20, days: [2, 4], source: practice }],
    })
    expect(dwellDays(ripening, 'room').firm).toBeCloseTo(3, 9)
    expect(dwellDays(ripening, 'cool').firm).toBeCloseTo(3 * 2 ** 0.8, 9)
  })

  test('let firm fruit gain no more in the cold than its cold-store life leaves before ripe', () => {
    // Of 60 days at 0 degrees 24 are ripe; 36 firm ones are 9 times the 4 at 20 degrees: a Q10 of 3, below the crop's 4.
    const bound = plainCrop({
      storageLives: [
        { basis: 'household', tempC: 20, days: [10, 10], source: practice },
        { basis: 'household', tempC: 0, days: [40, 40], source: practice },
        { basis: 'cold-store', tempC: 0, days: [60, 60], source: practice },
        { basis: 'ripening', tempC: 20, days: [4, 4], source: practice },
      ],
      q10: { value: 4, source: practice },
    })
    expect(dwellDays(bound, 'cool').firm).toBeCloseTo(4 * 3 ** 0.8, 9)
  })

  test.each([
    // 200 days at 0 degrees are 50 at 20, but two household lives of 10 days are the most.
    [200, 20],
    // 10 days are 2.5, less than the ripe time of 6: a quarter of that is the least.
    [10, 1.5],
  ])('take %d cold-store days for %d firm ones at room temperature', (coldDays, firm) => {
    const lives = plainCrop({}).storageLives.filter((life) => life.basis === 'household')
    const row = plainCrop({
      storageLives: [...lives, { basis: 'cold-store', tempC: 0, days: [coldDays, coldDays], source: practice }],
    })
    expect(dwellDays(row, 'room').firm).toBeCloseTo(firm, 9)
  })

  test('count a place below the chilling limit as the limit', () => {
    const chilled = plainCrop({ chillsBelowC: { value: 12, source: practice } })
    expect(dwellDays(chilled, 'cold')).toEqual(dwellDays(chilled, 'cool'))
    expect(dwellDays(chilled, 'cool').ripe).toBeGreaterThan(dwellDays(chilled, 'room').ripe)
    expect([chills(chilled, 'cold'), chills(chilled, 'cool'), chills(plainCrop({}), 'cold')]).toEqual([
      true,
      false,
      false,
    ])
  })

  test.each(crops)('$key never keeps shorter in a colder place, and every class takes some time', (row) => {
    const [room, cool, cold] = [dwellDays(row, 'room'), dwellDays(row, 'cool'), dwellDays(row, 'cold')]
    for (const stage of ripenessClasses) {
      expect(room[stage]).toBeGreaterThan(0)
      expect(cool[stage]).toBeGreaterThanOrEqual(room[stage])
      expect(cold[stage]).toBeGreaterThanOrEqual(cool[stage])
    }
  })

  // Ripe and soft together may not outlast the longest published life at the same place (FoodKeeper, refrigerator at
  // 4 degrees, carried 2 degrees down by at most the published rule of a Q10 of 3, that is by a quarter).
  test.each([
    ['damson', 5],
    ['peach', 5],
    ['raspberry', 3],
    ['strawberry', 3],
    ['blackberry', 6],
    ['apple', 42],
    ['sweet-corn', 2],
    ['spinach', 7],
    ['grape', 7],
  ])('%s, once ripe, keeps in the cold about the %d days that are published at most', (key, most) => {
    const row = crop(key)
    if (row === undefined) throw new Error(`no crop ${key}`)
    const { ripe, soft } = dwellDays(row, 'cold')
    expect(ripe + soft).toBeLessThanOrEqual(most * 3 ** 0.2 * 1.05)
    expect(ripe + soft).toBeGreaterThan(most / 2)
  })
})
