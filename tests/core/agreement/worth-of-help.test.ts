import { describe, expect, test } from 'vitest'
import {
  agree,
  type Help,
  helpsFor,
  type Standing,
  standingOf,
  type Tried,
  tryHelps,
  weighHelps,
  withHelp,
} from '../../../src/core/agreement/index.ts'
import { solveAllocation } from '../../../src/core/allocation/index.ts'
import { askDivision, type Question } from '../../../src/core/division/index.ts'
import { recipe, step } from '../day/days.ts'
import { cannerMorning, cuttingMorning, ovenMorning, place } from './kitchens.ts'

const options = { place, seed: 1, maxSchedules: 60 }

async function worth(question: Question, candidates: Help[]) {
  const { plan, ...agreed } = await agree(question, await solveAllocation(askDivision(question)), options)
  const before = standingOf({ ...agreed, kitchen: plan.kitchen })
  return weighHelps(before, await tryHelps(agreed.question, before, candidates, options))
}

function wished(units: number): Partial<Question> {
  return { wishes: [{ recipeId: 'rings', pack: 'bag', atLeast: 0, about: units, atMost: units, matters: 3 }] }
}

describe('the worth of help on a morning with one oven, which holds two loads', () => {
  test('a second oven is worth two loads more, an hour one; hands and a freezer nothing', async () => {
    const oven: Help = { kind: 'machine', machine: 'oven' }
    const hour: Help = { kind: 'hours', day: 0, minutes: 60 }
    const freezer: Help = { kind: 'freezer', ml: 10_000 }
    const hands: Help = { kind: 'hands', skills: ['wash'], count: 1 }
    const { helps, without, foundAgain } = await worth(ovenMorning(wished(50)), [freezer, hour, hands, oven])
    // Two ovens: in at 30, 60, 90 and 120 minutes, the last out at 180. An hour more: in at 30, 90 and 150, out at 210.
    expect(helps.map(({ help, unitsChanged }) => [help, unitsChanged])).toEqual([
      [oven, [{ productId: 'rings:bag', units: 10 }]],
      [hour, [{ productId: 'rings:bag', units: 5 }]],
    ])
    // A bag is worth 200, and the kilogram in it is no longer kept, which was worth 1.
    expect(helps.map(({ gain }) => gain)).toEqual([1990, 995])
    // Hands are needed for cutting only: the last of the second load, the third and the fourth.
    const nothing = { why: 'nothing', gain: 0, unitsChanged: [], minutesSaved: 0 }
    expect(without).toEqual([
      { help: freezer, ...nothing },
      { help: hands, ...nothing },
    ])
    expect(foundAgain).toBe(0)
  })

  test('nothing where the wish is met', async () => {
    const oven: Help = { kind: 'machine', machine: 'oven' }
    const { helps, without } = await worth(ovenMorning(wished(10)), [oven])
    expect(helps).toEqual([])
    // The second load goes in at 60 minutes instead of 90; hands are done before both.
    expect(without).toEqual([{ help: oven, why: 'nothing', gain: 0, unitsChanged: [], minutesSaved: 0 }])
  })
})

describe('the worth of help on a morning of 200 minutes with one canner, whose load takes 90', () => {
  test('a second canner is worth two loads of seven more; an hour is too short for a third load', async () => {
    const canner: Help = { kind: 'machine', machine: 'canner' }
    const hour: Help = { kind: 'hours', day: 0, minutes: 60 }
    const { helps, without } = await worth(cannerMorning(), [hour, canner])
    // One canner: 0 to 90, 90 to 180. The second begins when the first is filled: 5 to 95. Ada empties it before she
    // fills the first again: 95 to 185, then the second from 100 to 190.
    expect(helps).toEqual([
      // 14 jars of 200 each, less the 14 kg that are no longer kept, at 1 each
      {
        help: canner,
        gain: 14 * 200 - 14,
        unitsChanged: [{ productId: 'slices:jar', units: 14 }],
        minutesSaved: -10,
      },
    ])
    expect(without).toEqual([{ help: hour, why: 'nothing', gain: 0, unitsChanged: [], minutesSaved: 0 }])
  })
})

describe('the worth of more hands on a morning of cutting', () => {
  test('each more cuts as much as the one who is there', async () => {
    const hands = (count: number): Help => ({ kind: 'hands', skills: ['cut'], count })
    const { helps } = await worth(cuttingMorning(), [hands(1), hands(2)])
    // 180 minutes of one pair of hands are 30 bags of 6 minutes.
    expect(helps.map(({ help, gain, unitsChanged }) => [help, gain, unitsChanged[0]?.units])).toEqual([
      [hands(2), 60 * 200 - 60, 60],
      [hands(1), 30 * 200 - 30, 30],
    ])
  })
})

describe('what was tried', () => {
  const oven: Help = { kind: 'machine', machine: 'oven' }
  const hour: Help = { kind: 'hours', day: 0, minutes: 60 }

  test('goes on after what is known, and leaves out what was not finished', async () => {
    const question = ovenMorning(wished(50))
    const { plan, ...agreed } = await agree(question, await solveAllocation(askDivision(question)), options)
    const before = standingOf({ ...agreed, kitchen: plan.kitchen })
    const all = await tryHelps(question, before, [hour, oven], options)
    expect(all.map(({ help }) => help)).toEqual([null, hour, oven, null])
    const told: Tried[] = []
    const known = all.slice(0, 2)
    expect(
      await tryHelps(question, before, [hour, oven], { ...options, known, tried: (one) => told.push(one) }),
    ).toEqual(all)
    expect(told).toEqual(all.slice(2))
    expect(await tryHelps(question, before, [hour, oven], { ...options, stop: () => true })).toEqual([])
  })

  const standing = (worth: number, more: Partial<Standing> = {}): Standing => ({
    worth,
    bound: worth,
    batches: [],
    handsMinutes: 0,
    holds: true,
    ...more,
  })

  test('is a help only beyond what may be missing without it, and where the clock holds it', () => {
    const tries: Tried[] = [
      { help: null, reached: standing(990) },
      { help: oven, reached: standing(1011) },
      { help: hour, reached: standing(1010) },
      { help: { kind: 'freezer', ml: 1 }, reached: standing(2000, { holds: false }) },
      { help: { kind: 'machine', machine: 'press' }, reached: standing(999) },
    ]
    const { helps, without, mayBeMissing } = weighHelps(standing(1000, { bound: 1010 }), tries)
    expect(mayBeMissing).toBe(10)
    expect(helps.map(({ help, gain }) => [help, gain])).toEqual([[oven, 11]])
    expect(without.map(({ why, gain }) => [why, gain])).toEqual([
      ['unsure', 10],
      ['late', 1000],
      ['nothing', -1],
    ])
  })

  test('counts for nothing where how far the division is from the best is not known', () => {
    const { helps, without } = weighHelps(standing(1000, { bound: null }), [{ help: oven, reached: standing(5000) }])
    expect(helps).toEqual([])
    expect(without).toMatchObject([{ help: oven, why: 'unsure', gain: 4000 }])
  })

  test('is counted from what is found again with nothing more, where that is better', () => {
    const { foundAgain, helps } = weighHelps(standing(1000), [
      { help: null, reached: standing(1300, { bound: 1350 }) },
      { help: oven, reached: standing(1400) },
    ])
    expect(foundAgain).toBe(300)
    expect(helps.map(({ gain }) => gain)).toEqual([100])
  })

  test('takes what was proved later where the same is found again', () => {
    const { foundAgain, mayBeMissing, helps } = weighHelps(standing(1000, { bound: 1100 }), [
      { help: null, reached: standing(1000) },
      { help: oven, reached: standing(1050) },
    ])
    expect([foundAgain, mayBeMissing, helps.length]).toEqual([0, 0, 1])
  })
})

describe('the helps that are tried', () => {
  test('are the machines that the wishes take, hours with somebody there and the work of which there is most', () => {
    expect(helpsFor(ovenMorning(), { wash: 10, cut: 90, pack: 0 })).toEqual([
      { kind: 'machine', machine: 'oven' },
      { kind: 'hours', day: 0, minutes: 60 },
      { kind: 'hands', skills: ['cut', 'wash'], count: 1 },
      { kind: 'hands', skills: ['cut', 'wash'], count: 2 },
    ])
  })

  test('are more freezer for what is frozen, and a machine that is not there', () => {
    const frozen = recipe([step({ equipment: ['press'] })], { freezerMl: 1000 }, 'rings')
    const [day] = ovenMorning().days
    if (!day) throw new Error('no day')
    const late = { ...day, closesMinute: 1430 }
    expect(helpsFor(ovenMorning({ recipes: [frozen], equipment: [], days: [late] }), {})).toEqual([
      { kind: 'machine', machine: 'press' },
      { kind: 'freezer', ml: 50_000 },
      { kind: 'hands', skills: ['cut'], count: 1 },
      { kind: 'hands', skills: ['cut'], count: 2 },
    ])
  })

  test('are none for what nobody wishes', () => {
    expect(helpsFor(ovenMorning({ ...wished(0), helpers: [] }), {})).toEqual([])
  })
})

describe('a question with help', () => {
  const question = ovenMorning()

  test('has one more machine like those there are, and two more adults all day', () => {
    const { equipment } = withHelp(question, { kind: 'machine', machine: 'oven' })
    expect(equipment.map(({ kind, count }) => [kind, count])).toEqual([
      ['oven', 1],
      ['oven', 1],
    ])
    expect(new Set(equipment.map(({ id }) => id)).size).toBe(2)
    const { helpers } = withHelp(question, { kind: 'hands', skills: ['cut'], count: 2 })
    expect(new Set(helpers.map(({ id }) => id)).size).toBe(3)
    expect(helpers[2]).toMatchObject({
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
    [{ kind: 'hands', skills: ['cut'], count: 0 }, /no number of adults/],
  ])('refuses %j', (help, says) => {
    expect(() => withHelp(question, help)).toThrow(says)
  })
})
