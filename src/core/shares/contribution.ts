import { type Fraction, fraction, fractionOf, times, toNumber, total } from './fraction.ts'
import { refuseNegative } from './refuse.ts'

/** What a household brought to a season or a work day. */
export type Brought = {
  /** Produce by lot, in grams. */
  lots: readonly { lotId: string; grams: number }[]
  /** Work, in minutes, of everybody in the household together. */
  minutes: number
  /** In the co-op's currency. */
  money: number
}

/** What a co-op counts, in points; our way of counting knows no right figures, the co-op agrees on them. */
export type PointsRule = { perKg: number; perHour: number; perMoney: number }

/** Points, and where they come from. Each number is the nearest to its exact sum: same doings give the same points. */
export type Contribution = {
  points: number
  byLot: { lotId: string; points: number }[]
  forProduce: number
  forWork: number
  forMoney: number
}

/**
 * Points for what was brought: kilograms x `perKg` + hours x `perHour` + money x `perMoney`.
 *
 * @throws RangeError for an amount or a rate that is not finite from 0 up, naming it
 */
export function contribution(brought: Brought, rule: PointsRule): Contribution {
  const perKg = fromZero(rule.perKg, 'points per kilogram')
  const byLot = brought.lots.map(({ lotId, grams }) => ({
    lotId,
    points: times(times(fromZero(grams, `grams of lot ${lotId}`), fraction(1n, 1000n)), perKg),
  }))
  const forProduce = total(byLot.map(({ points }) => points))
  const hours = times(fromZero(brought.minutes, 'minutes'), fraction(1n, 60n))
  const forWork = times(hours, fromZero(rule.perHour, 'points per hour'))
  const forMoney = times(fromZero(brought.money, 'money'), fromZero(rule.perMoney, 'points per unit of money'))
  return {
    points: toNumber(total([forProduce, forWork, forMoney])),
    byLot: byLot.map(({ lotId, points }) => ({ lotId, points: toNumber(points) })),
    forProduce: toNumber(forProduce),
    forWork: toNumber(forWork),
    forMoney: toNumber(forMoney),
  }
}

function fromZero(value: number, what: string): Fraction {
  refuseNegative(value, what)
  return fractionOf(value)
}
