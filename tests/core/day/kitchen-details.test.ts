import { describe, expect, test } from 'vitest'
import { kitchenOf } from '../../../src/core/day/kitchen.ts'
import type { Question } from '../../../src/core/division/index.ts'
import { smallQuestion } from '../division/kitchen.ts'

const days = [
  { id: 'saturday', date: '2026-10-24', opensMinute: 480, closesMinute: 1080 },
  { id: 'sunday', date: '2026-10-25', opensMinute: 540, closesMinute: 960 },
]

function mara(more: Partial<Question['helpers'][number]>): Question['helpers'][number] {
  const hours = days.map(({ id }) => ({ dayId: id, fromMinute: 400, toMinute: 1000 }))
  return { id: 'mara', name: 'Mara', ageBand: 'adult', skills: ['cut'], hours, ...more }
}

describe('what a question tells about helpers', () => {
  test('their own breaks are cut out on their own day, others beside them', () => {
    const breaks = [{ dayId: 'sunday', fromMinute: 720, toMinute: 765 }]
    const question = smallQuestion({ days, helpers: [mara({ breaks })] })
    const saturday = { from: 480, to: 1000 }
    expect(kitchenOf(question).helpers[0]?.hours).toEqual([
      saturday,
      { from: 1440 + 540, to: 1440 + 720 },
      { from: 1440 + 765, to: 1440 + 960 },
    ])
    const more = { breaks: [{ dayId: 'sunday', fromMinute: 760, toMinute: 780 }] }
    expect(kitchenOf(question, more).helpers[0]?.hours).toEqual([
      saturday,
      { from: 1440 + 540, to: 1440 + 720 },
      { from: 1440 + 780, to: 1440 + 960 },
    ])
  })

  test('speed is the question’s unless another is given, and 1 where nobody says one', () => {
    const speed = (helper: Question['helpers'][number], speeds = {}) =>
      kitchenOf(smallQuestion({ days, helpers: [helper] }), { speeds }).helpers[0]?.speed
    expect(speed(mara({ speed: 1.5 }))).toBe(1.5)
    expect(speed(mara({ speed: 1.5 }), { mara: 0.5 })).toBe(0.5)
    expect(speed(mara({}))).toBe(1)
    expect(() => speed(mara({ speed: 0 }))).toThrow(RangeError)
  })

  test('longest stretch and wishes come along', () => {
    const told = mara({ stretchMinutes: 90, likes: ['cut'], dislikes: ['stove', 'wash'] })
    const [tires, tireless] = kitchenOf(smallQuestion({ days, helpers: [told, mara({})] })).helpers
    expect(tires).toMatchObject({ stretchMinutes: 90, likes: ['cut'], dislikes: ['stove', 'wash'] })
    expect(tireless).toMatchObject({ stretchMinutes: null, likes: [], dislikes: [] })
  })
})
