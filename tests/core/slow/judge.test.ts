import { describe, expect, test } from 'vitest'
import { vinegarUse } from '../../../src/core/practice/index.ts'
import { foundOf, judge, type SlowMeasure, stagesFor } from '../../../src/core/slow/index.ts'

function targetOf(way: string, number: number) {
  const found = stagesFor(way, { startedOn: '2026-09-12' })
  const stage = found.ok ? found.stages.find((one) => one.number === number) : undefined
  if (stage === undefined) throw new Error(`no stage ${number}`)
  return stage.target
}

describe('what was typed', () => {
  test.each<[SlowMeasure, string, number]>([
    ['ph', '3.6', 3.6],
    ['ph', 'pH 3,6', 3.6],
    ['ph', '0', 0],
    ['ph', '14', 14],
    ['acidity', '5', 5],
    ['acidity', '5.25 %', 5.25],
    ['temperature', '21 °C', 21],
    ['temperature', '212 F', 100],
    ['weight', '1.2 kg', 1200],
  ])('%s “%s” is %d', (measure, typed, value) => {
    const found = foundOf(measure, typed)
    expect(found.kind === 'number' ? found.value : found.kind).toBeCloseTo(value, 9)
  })

  test.each<[SlowMeasure, string]>([
    ['ph', '36'],
    ['ph', '-3'],
    ['ph', '3.6 or 3.7'],
    ['acidity', '50'],
    ['temperature', '21'],
    ['temperature', '21 kg'],
    ['weight', '1.2'],
  ])('%s “%s” is no figure', (measure, typed) => {
    expect(foundOf(measure, typed)).toMatchObject({ kind: 'wrong', problem: expect.stringMatching(/^Enter /) })
  })

  test('without a digit is words, and so is whatever is said about taste', () => {
    expect(foundOf('ph', 'strips used up').kind).toBe('words')
    expect(foundOf('acidity', '').kind).toBe('words')
    expect(foundOf('taste', '2 jars still sweet').kind).toBe('words')
  })
})

describe('vinegar', () => {
  // 4 g in 100 ml: the least that may be called vinegar (FDA Sec. 525.825, from memory); 5 %: what canning recipes count
  // on (Guide 1 p. 1-28, seen in a copy)
  test.each([
    ['3.9', 'not-yet', 'Not for canning or pickling', 'let it stand on'],
    ['4', 'reached', 'Not for canning or pickling', 'recipes count on 5 %'],
    ['4.99', 'reached', 'Not for canning or pickling', 'measured at 4.9 %'],
    ['5', 'reached', 'Measured at 5 %', 'asks for bought vinegar'],
    ['5.4', 'reached', 'Measured at 5.4 %', 'measure twice'],
  ])('of %s %% is %s', (found, verdict, ...words) => {
    const judged = judge('vinegar', 'acidity', found)
    expect(judged.verdict).toBe(verdict)
    for (const part of words) expect(judged.says).toContain(part)
    expect(judged.source).not.toBeNull()
  })

  test.each(['', 'very sour', '50', 'n/a'])('of which “%s” is known is never for canning', (found) => {
    const judged = judge('vinegar', 'acidity', found)
    expect(judged).toMatchObject({ verdict: 'unmeasured', says: vinegarUse(null).says })
    expect(judged.says).toMatch(/^Not for canning/)
  })

  test('is not judged by its pH, however low', () => {
    expect(judge('vinegar', 'ph', '2.4')).toMatchObject({
      verdict: 'unmeasured',
      says: expect.stringContaining('Not for canning'),
    })
  })
})

describe('a ferment', () => {
  // the line of 4.6: Guide 1 p. 1-8 (seen in a copy), 21 CFR 114.3 (from memory)
  test.each([
    ['3.6', 'reached'],
    ['4.59', 'reached'],
    ['4.6', 'not-yet'],
    ['4.7', 'not-yet'],
    ['7', 'not-yet'],
    ['', 'unmeasured'],
    ['40', 'unmeasured'],
  ])('of pH “%s”: %s', (found, verdict) => {
    const judged = judge('ferment', 'ph', found)
    expect(judged.verdict).toBe(verdict)
    if (verdict !== 'reached') expect(judged.says).toMatch(/(never|not keep it) at room temperature/)
    expect(judged.says).toMatch(/cold|throw it away/)
  })
})

describe('temperatures', () => {
  test.each([
    // 60 to 80 °F (HYG-5346, seen in a copy)
    ['vinegar-juice', 1, '60 °F', 'reached'],
    ['vinegar-juice', 1, '80 °F', 'reached'],
    ['vinegar-juice', 1, '58 °F', 'not-yet'],
    ['vinegar-juice', 1, '82 °F', 'not-yet'],
    // 140 to 160 °F (the same, in copies of the sheet)
    ['vinegar-juice', 6, '150 °F', 'reached'],
    ['vinegar-juice', 6, '135 °F', 'not-yet'],
    // 135 to 140 °F (Bulletin 410, seen in a copy)
    ['dried-fruit', 1, '140 °F', 'reached'],
    ['dried-fruit', 1, '170 °F', 'not-yet'],
    ['dried-fruit', 1, '120 °F', 'not-yet'],
    // 60 to 75 °F (Guide 6 p. 6-8)
    ['sauerkraut', 1, '70 °F', 'reached'],
    ['sauerkraut', 1, '78 °F', 'not-yet'],
    // 0 °F for 48 hours (Bulletin 410)
    ['sun-dried-fruit', 24, '0 °F', 'reached'],
    ['sun-dried-fruit', 24, '10 °F', 'not-yet'],
  ] as const)('%s, stage %d, at %s: %s', (way, number, found, verdict) => {
    expect(judge('vinegar', 'temperature', found, targetOf(way, number)).verdict).toBe(verdict)
  })

  test('that nobody noted are not measured', () => {
    expect(judge('drying', 'temperature', 'warm', targetOf('dried-fruit', 1)).verdict).toBe('unmeasured')
  })
})

test('dried fruit is tried as the sheet says, and conditioned for drops on the glass', () => {
  expect(judge('drying', 'taste', 'bends', targetOf('dried-fruit', 2)).says).toMatch(/bends, is not sticky/)
  expect(judge('drying', 'taste', 'dry', targetOf('dried-fruit', 4)).says).toMatch(/no drops on the glass/)
  expect(judge('drying', 'weight', '1.2 kg')).toEqual({ verdict: 'noted', says: '', source: null })
})
