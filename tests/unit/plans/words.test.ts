import { describe, expect, it } from 'vitest'
import type { Limit } from '../../../src/core/allocation/index.ts'
import { askDivision, productId } from '../../../src/core/division/index.ts'
import { changeWords, listed, namesOf, provedWords, stepWords, whyNotMore } from '../../../src/features/plans/words.ts'
import { formatFor } from '../../../src/web/format.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'

const coop = {
  id: 'larkrise-lane',
  name: 'Larkrise Lane Kitchen',
  town: 'Upper Ansley',
  altitudeM: 640,
  timeZone: 'Europe/London',
  locale: 'en-GB',
  units: 'metric' as const,
  currency: 'GBP',
  demonstration: false,
}
const format = formatFor(coop)
const demonstration = demonstrationQuestion('2026-09-18')
// figures that the words below name
const question = {
  ...demonstration,
  days: [...demonstration.days, { id: 'day-2', date: '2026-09-22', opensMinute: 780, closesMinute: 1140 }],
  budgetMinor: 9_000,
  equipment: demonstration.equipment.map((one) => (one.kind === 'canner' ? { ...one, count: 2 } : one)),
}
const names = namesOf(question, askDivision(question), coop)
const sauce = productId('Apple sauce', 'quart')

function why(units: number, ...limits: Limit[]): string {
  const { made, because } = whyNotMore(names, { productId: sauce, units, limits })
  return `${made}: ${because}`
}

describe('why there is not more, in a cook’s words', () => {
  it.each<[Limit, string]>([
    [{ kind: 'wish' }, 'that is as many as you wished for at most'],
    [{ kind: 'produce', crops: ['apple', 'blackberry'] }, 'the apples and blackberries that suit it are spoken for'],
    [{ kind: 'material', materialId: 'apple-juice' }, 'there is no more apple juice for it'],
    [{ kind: 'machine', machineId: 'oven', days: [0] }, 'the oven is full on Saturday'],
    [{ kind: 'machine', machineId: 'canner', days: [0, 1] }, 'the canners are full on Saturday and Sunday'],
    [{ kind: 'machine', machineId: 'oven', days: [0, 1, 2] }, 'the oven is full on every work day'],
    [
      { kind: 'work', skills: ['stove', 'cut'], days: [2] },
      'nobody has time left for the stove or peeling and cutting on Tuesday',
    ],
    [{ kind: 'room', roomId: 'freezer' }, 'the freezer is full'],
    [{ kind: 'supply', supplyId: 'jar-quart' }, 'no more quart jars can be had'],
    [{ kind: 'budget' }, 'one more would go over the £90.00 that may be spent'],
    [{ kind: 'run-fill', days: [1] }, 'what is left would not fill enough of a load on Sunday'],
    [{ kind: 'worth' }, 'what one more takes is worth more elsewhere'],
  ])('%o', (limit, words) => {
    expect(why(14, limit)).toBe(`14 quarts: ${words}`)
  })

  it('names a machine that the kitchen does not have', () => {
    const without = { ...question, equipment: question.equipment.filter(({ kind }) => kind !== 'oven') }
    const poorer = namesOf(without, askDivision(without), coop)
    const limits: Limit[] = [{ kind: 'machine', machineId: 'oven', days: [0, 1, 2] }]
    expect(whyNotMore(poorer, { productId: sauce, units: 0, limits })).toEqual({
      made: 'None',
      because: 'the kitchen has no oven',
    })
  })

  it('puts several reasons after each other', () => {
    expect(why(1, { kind: 'room', roomId: 'freezer' }, { kind: 'budget' })).toBe(
      '1 quart: the freezer is full; one more would go over the £90.00 that may be spent',
    )
  })

  it('counts units that begin with a figure with a sign between', () => {
    expect(names.units(productId('Dried apple slices', 'bag-200g'), 6)).toBe('6 × 200 g bag')
  })
})

describe('what was proved', () => {
  it('is called best only when it is', () => {
    expect(provedWords(format, { status: 'proved', gap: 0, elapsedMs: 900 })).toMatch(/^Proved best/)
    for (const status of ['limit', 'stopped', 'fallback'] as const) {
      for (const gap of [0, 0.004, Number.POSITIVE_INFINITY]) {
        expect(provedWords(format, { status, gap, elapsedMs: 900 })).not.toMatch(/proved/i)
      }
    }
  })

  it('never claims to be nearer than it was proved to be: percentages are rounded up', () => {
    expect(provedWords(format, { status: 'limit', gap: 0.0031, elapsedMs: 8_097 })).toBe(
      'The best found in 8 seconds: within 0.4 % of the best possible.',
    )
    expect(provedWords(format, { status: 'stopped', gap: 0.000_01, elapsedMs: 100 })).toContain('within 0.1 %')
    expect(provedWords(format, { status: 'limit', gap: Number.POSITIVE_INFINITY, elapsedMs: 2_000 })).toContain(
      'not known',
    )
  })
})

describe('what would help and what changed', () => {
  it('says what one more hour would bring', () => {
    const step = { kind: 'machine' as const, machineId: 'canner', day: 0, minutes: 60 }
    expect(stepWords(names, { step, gain: 900, unitsChanged: [{ productId: sauce, units: 7 }] })).toBe(
      '1 h more of a canner on Saturday: 7 quarts more of Apple sauce.',
    )
    expect(
      stepWords(names, { step: { kind: 'room', roomId: 'freezer', ml: 10_000 }, gain: 1_250, unitsChanged: [] }),
    ).toBe('10 l more room in the freezer: £12.50 in worth.')
  })

  it('says what is different in a question', () => {
    const wish = { recipeId: 'a', pack: 'pint', atLeast: 0, about: 4, atMost: 8, matters: 1 as const }
    const words = (change: Parameters<typeof changeWords>[1]) => changeWords(format, change)
    expect(words({ kind: 'outlet', how: 'left-out', name: 'The heap' })).toBe('The heap is closed')
    expect(words({ kind: 'day', how: 'added', name: '2026-09-19' })).toMatch(/^Sat,? 19 Sep/)
    expect(words({ kind: 'budget', before: 9_000, after: null })).toBe('the budget has no limit any more')
    expect(words({ kind: 'wish', recipe: 'Pickle', pack: 'pint', before: wish, after: { ...wish, about: 6 } })).toBe(
      'Pickle (pint): about 6, from 0 to 8 instead of about 4, from 0 to 8',
    )
    expect(words({ kind: 'wish', recipe: 'Pickle', pack: 'pint', before: wish, after: { ...wish, matters: 3 } })).toBe(
      'Pickle (pint) matters very much',
    )
  })

  it('lists words as people do', () => {
    expect([listed([]), listed(['a']), listed(['a', 'b']), listed(['a', 'b', 'c'])]).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ])
  })
})
