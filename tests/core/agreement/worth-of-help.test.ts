import { describe, expect, test } from 'vitest'
import { agree, type Help, withHelp, worthOfHelp } from '../../../src/core/agreement/index.ts'
import { solveAllocation } from '../../../src/core/allocation/index.ts'
import { askDivision } from '../../../src/core/division/index.ts'
import { ovenMorning, place } from './kitchens.ts'

const options = { place, seed: 1, maxSchedules: 60 }

async function worth(candidates: Help[], wished = 50) {
  const wish = { recipeId: 'rings', pack: 'bag', atLeast: 0, about: wished, atMost: wished, matters: 3 as const }
  const question = ovenMorning({ wishes: [wish] })
  const agreement = await agree(question, await solveAllocation(askDivision(question)), options)
  return worthOfHelp(agreement.question, agreement, candidates, options)
}

describe('the worth of help on a morning with one oven, which holds two loads', () => {
  test('a second oven is worth two loads more, an hour one; hands and a freezer nothing', async () => {
    const oven: Help = { kind: 'machine', machine: 'oven' }
    const hour: Help = { kind: 'hours', day: 0, minutes: 60 }
    const found = await worth([{ kind: 'freezer', ml: 10_000 }, hour, { kind: 'hands', skills: ['wash'] }, oven])
    // Two ovens: in at 30, 60, 90 and 120 minutes, the last out at 180. An hour more: in at 30, 90 and 150, out at 210.
    expect(found.map(({ help, unitsChanged }) => [help, unitsChanged])).toEqual([
      [oven, [{ productId: 'rings:bag', units: 10 }]],
      [hour, [{ productId: 'rings:bag', units: 5 }]],
    ])
    // A bag is worth 200, and the kilogram in it is no longer kept, which was worth 1.
    expect(found.map(({ gain }) => gain)).toEqual([1990, 995])
  })

  test('nothing where the wish is met', async () => {
    expect(await worth([{ kind: 'machine', machine: 'oven' }], 10)).toEqual([])
  })
})

describe('a question with help', () => {
  const question = ovenMorning()

  test('has one more machine like those there are, and one more adult all day', () => {
    const { equipment } = withHelp(question, { kind: 'machine', machine: 'oven' })
    expect(equipment.map(({ kind, count }) => [kind, count])).toEqual([
      ['oven', 1],
      ['oven', 1],
    ])
    expect(new Set(equipment.map(({ id }) => id)).size).toBe(2)
    const { helpers } = withHelp(question, { kind: 'hands', skills: ['cut'] })
    expect(helpers[1]).toMatchObject({
      ageBand: 'adult',
      skills: ['cut'],
      hours: [{ dayId: 'day-0', fromMinute: 480, toMinute: 660 }],
    })
  })

  test('is open longer with those who are there until closing', () => {
    const [ada] = question.helpers
    if (!ada) throw new Error('nobody is there')
    const early = { ...ada, id: 'bo', hours: [{ dayId: 'day-0', fromMinute: 480, toMinute: 600 }] }
    const longer = withHelp({ ...question, helpers: [ada, early] }, { kind: 'hours', day: 0, minutes: 45 })
    expect(longer.days.map(({ closesMinute }) => closesMinute)).toEqual([705])
    expect(longer.helpers.map(({ hours }) => hours[0]?.toMinute)).toEqual([705, 600])
  })

  test('has more room in the freezer', () => {
    const rooms = askDivision(withHelp(question, { kind: 'freezer', ml: 5000 })).rooms
    expect(rooms.map(({ ml }) => ml)).toEqual([5000])
  })

  test.each<[Help, RegExp]>([
    [{ kind: 'hours', day: 1, minutes: 30 }, /no work day 1/],
    [{ kind: 'hours', day: 0, minutes: 0 }, /no number of minutes/],
    [{ kind: 'hours', day: 0, minutes: 1000 }, /after midnight/],
    [{ kind: 'freezer', ml: 0.5 }, /no number of millilitres/],
  ])('refuses %j', (help, says) => {
    expect(() => withHelp(question, help)).toThrow(says)
  })
})
