import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { contribution } from '../../../src/core/shares/index.ts'

const rule = { perKg: 2, perHour: 10, perMoney: 0.5 }

describe('what a household brought, in points', () => {
  test('kilograms, hours and money each by their rate', () => {
    const brought = {
      lots: [
        { lotId: 'plums', grams: 12_500 },
        { lotId: 'apples', grams: 800 },
      ],
      minutes: 90,
      money: 7.3,
    }
    expect(contribution(brought, rule)).toEqual({
      points: 45.25,
      byLot: [
        { lotId: 'plums', points: 25 },
        { lotId: 'apples', points: 1.6 },
      ],
      forProduce: 26.6,
      forWork: 15,
      forMoney: 3.65,
    })
  })

  test('nothing is no points, and a rate of 0 counts nothing', () => {
    expect(contribution({ lots: [], minutes: 0, money: 0 }, rule).points).toBe(0)
    const brought = { lots: [{ lotId: 'plums', grams: 5000 }], minutes: 60, money: 3 }
    expect(contribution(brought, { perKg: 0, perHour: 1, perMoney: 0 }).points).toBe(1)
  })

  test('the same produce in other lots and the same hours give the same points, to the last digit', () => {
    const grams = fc.array(fc.nat(100_000), { maxLength: 8 })
    const rate = fc.nat(1000).map((value) => value / 100)
    fc.assert(
      fc.property(grams, fc.nat(6000), rate, rate, (lots, minutes, perKg, perHour) => {
        const inLots = contribution(
          { lots: lots.map((one, index) => ({ lotId: String(index), grams: one })), minutes, money: 0 },
          { perKg, perHour, perMoney: 0 },
        )
        const all = lots.reduce((sum, one) => sum + one, 0)
        const inOne = contribution(
          { lots: [{ lotId: 'all', grams: all }], minutes, money: 0 },
          { perKg, perHour, perMoney: 0 },
        )
        expect(inLots.points).toBe(inOne.points)
        expect(inLots.points).toBeCloseTo((all / 1000) * perKg + (minutes / 60) * perHour, 6)
      }),
      { numRuns: 500 },
    )
  })

  test.each([
    [{ lots: [{ lotId: 'plums', grams: -1 }], minutes: 0, money: 0 }, rule, /grams of lot plums/],
    [{ lots: [], minutes: Number.NaN, money: 0 }, rule, /minutes/],
    [{ lots: [], minutes: 0, money: -0.01 }, rule, /money/],
    [{ lots: [], minutes: 0, money: 0 }, { ...rule, perKg: -1 }, /points per kilogram/],
    [{ lots: [], minutes: 0, money: 0 }, { ...rule, perHour: Number.POSITIVE_INFINITY }, /points per hour/],
    [{ lots: [], minutes: 0, money: 0 }, { ...rule, perMoney: -1 }, /points per unit of money/],
  ])('refuses %j', (brought, rates, message) => {
    expect(() => contribution(brought, rates)).toThrow(RangeError)
    expect(() => contribution(brought, rates)).toThrow(message)
  })
})
