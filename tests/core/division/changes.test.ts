import { describe, expect, it } from 'vitest'
import { changesBetween } from '../../../src/core/division/index.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'

describe('what changed between two questions', () => {
  it('is nothing for the same question, in whatever order its fields were written', () => {
    const question = demonstrationQuestion()
    const [first, ...others] = question.lots
    if (!first) throw new Error('no lot')
    const turned = Object.fromEntries(Object.entries(first).reverse()) as typeof first
    expect(changesBetween(question, { ...question, lots: [turned, ...others] })).toEqual([])
  })

  it('names a closed outlet, a lot left out and a lot sorted again', () => {
    const before = demonstrationQuestion()
    const after = {
      ...before,
      outlets: before.outlets.filter(({ kind }) => kind !== 'compost'),
      lots: before.lots
        .filter(({ crop }) => crop !== 'onion')
        .map((lot) => (lot.crop === 'apple' ? { ...lot, sortedOn: '2026-09-17' } : lot)),
    }
    expect(changesBetween(before, after)).toEqual([
      { kind: 'outlet', how: 'left-out', name: 'Compost behind the hall' },
      { kind: 'lot', how: 'left-out', name: 'onion' },
      { kind: 'lot', how: 'changed', name: 'apple' },
    ])
    expect(changesBetween(after, before)[0]).toEqual({ kind: 'outlet', how: 'added', name: 'Compost behind the hall' })
  })

  it('tells a wish before and after, and the budget', () => {
    const before = { ...demonstrationQuestion(), budgetMinor: 9_000 }
    const [jam, ...others] = before.wishes
    if (!jam) throw new Error('no wish')
    const after = { ...before, wishes: [{ ...jam, about: 50 }, ...others], budgetMinor: null }
    expect(changesBetween(before, after)).toEqual([
      { kind: 'wish', recipe: 'Damson jam', pack: 'half-pint', before: jam, after: { ...jam, about: 50 } },
      { kind: 'budget', before: 9_000, after: null },
    ])
    expect(changesBetween(before, { ...before, wishes: others })).toEqual([
      { kind: 'wish', recipe: 'Damson jam', pack: 'half-pint', before: jam, after: null },
    ])
  })
})
