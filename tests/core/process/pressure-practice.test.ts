import { describe, expect, it } from 'vitest'
import {
  boilingWaterFigures,
  loadMinutes,
  pressureFigures,
  pressureRules,
  waterOverJarsIn,
} from '../../../src/core/process/pressure-practice.ts'

// USDA Complete Guide to Home Canning 2015, Guide 1
describe('working with a pressure canner', () => {
  it.each([
    ['heatUp', 12, 15, 'minutes', 'p. 1-17'],
    ['vent', 10, 10, 'minutes', 'p. 1-17, 1-20, 1-22'],
    ['pressurise', 3, 5, 'minutes', 'p. 1-22'],
    ['coolBeforeOpening', 20, 60, 'minutes', 'p. 1-17'],
    ['waitAfterWeightOff', 10, 10, 'minutes', 'p. 1-22'],
    ['heavyCannerPints', 30, 30, 'minutes', 'p. 1-22'],
    ['heavyCannerQuarts', 45, 45, 'minutes', 'p. 1-22'],
    ['acidFoodLoad', 55, 100, 'minutes', 'p. 1-17'],
    ['water', 2, 3, 'inches', 'p. 1-21'],
    ['smallestCanner', 4, 4, 'quarts', 'p. 1-17, 1-35'],
    ['gaugeChecked', 12, 12, 'months', 'p. 1-20'],
    ['gaugeOut', 2, 2, 'psi', 'p. 1-20'],
    ['mostPressure', 15, 15, 'psi', 'p. 1-10'],
  ] as const)('%s: %d to %d %s', (name, least, most, unit, page) => {
    const { source, ...figure } = pressureFigures[name]
    expect(figure).toMatchObject({ least, most, unit })
    expect([source.document, source.section, source.confidence]).toEqual(['usda-2015', `Guide 1 ${page}`, 'seen'])
  })

  it('starts the full time anew when the pressure falls, and cools by itself (p. 1-22)', () => {
    expect(pressureRules.restart.says).toMatch(/full time/)
    expect(pressureRules.coolNaturally.says).toMatch(/by itself/)
  })
})

describe('working with a boiling-water canner', () => {
  it.each([
    ['heatUp', 20, 30, 'minutes', 'p. 1-17'],
    ['waterOverJars', 1, 1, 'inches', 'p. 1-18'],
    ['waterOverJarsLong', 2, 2, 'inches', 'p. 1-18'],
    ['waitAfter', 5, 5, 'minutes', 'p. 1-18'],
    ['jarsCool', 12, 24, 'hours', 'p. 1-18, 1-25'],
  ] as const)('%s: %d to %d %s', (name, least, most, unit, page) => {
    const { source, ...figure } = boilingWaterFigures[name]
    expect(figure).toMatchObject({ least, most, unit })
    expect(source.section).toBe(`Guide 1 ${page}`)
  })

  it('has 1 inch of water over the jars up to 30 minutes and 2 inches beyond (p. 1-18)', () => {
    expect([5, 30, 31, 85].map(waterOverJarsIn)).toEqual([1, 1, 2, 2])
  })
})

describe('one load', () => {
  it('in boiling water: 25 minutes to the boil, the process, 5 to wait', () => {
    expect(loadMinutes('boiling-water', 20)).toEqual({ heat: 25, process: 20, after: 5, total: 50 })
  })

  it('in a steam canner counts the same (common practice, no source)', () => {
    expect(loadMinutes('steam', 20)).toEqual(loadMinutes('boiling-water', 20))
  })

  // 13.5 to steam, 10 to vent, 4 to pressure; 40 from the end to the open lid
  it.each(['dial-gauge', 'weighted-gauge'] as const)('by a %s: 28 minutes, the process, 40 to cool', (method) => {
    expect(loadMinutes(method, 90)).toEqual({ heat: 28, process: 90, after: 40, total: 158 })
  })

  it('of acid food lies within the published 55 to 100 minutes (p. 1-17)', () => {
    for (const minutes of [8, 10]) {
      const { total } = loadMinutes('weighted-gauge', minutes)
      expect(total).toBeGreaterThanOrEqual(55)
      expect(total).toBeLessThanOrEqual(100)
    }
  })

  it.each([0, -5, 12.5, Number.NaN, Number.POSITIVE_INFINITY])('of %d minutes is refused', (minutes) => {
    expect(() => loadMinutes('boiling-water', minutes)).toThrow(RangeError)
  })
})
