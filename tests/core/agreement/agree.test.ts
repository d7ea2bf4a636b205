import { describe, expect, test } from 'vitest'
import { type Agreement, agree } from '../../../src/core/agreement/index.ts'
import { checkAllocation, solveAllocation } from '../../../src/core/allocation/index.ts'
import { askDivision, type Question } from '../../../src/core/division/index.ts'
import { checkSchedule } from '../../../src/core/scheduling/index.ts'
import { ovenMorning, place, randomQuestion } from './kitchens.ts'

const cheap = { maxNodes: 1 }

async function agreed(question: Question, rounds = 6): Promise<Agreement> {
  const result = await solveAllocation(askDivision(question), cheap)
  return agree(question, result, { place, seed: 1, maxSchedules: 40, allocation: cheap, rounds })
}

/** Units by product and day that are finished in a timetable: of portions of which everything has its place in it. */
function finishedUnits({ plan, timetable }: Agreement): Record<string, number> {
  const units: Record<string, number> = {}
  for (const { batch, portions } of plan.batches) {
    const short = timetable.short.find((one) => one.batch === batch.id)
    units[batch.id] = short ? short.finished : portions.reduce((sum, many) => sum + many, 0)
  }
  return units
}

function dividedUnits({ result }: Agreement): Record<string, number> {
  return Object.fromEntries(result.batches.map(({ productId, day, units }) => [`${productId}@${day}`, units]))
}

/** Hands at a batch, labels apart, that are at work after the day of their activity has closed, and machines begun then. */
function workAfterClosing({ plan, timetable }: Agreement): string[] {
  return timetable.entries.flatMap(({ activity, batch, station, part, helpers, from, to }) => {
    const planned = plan.activities.find((one) => one.activity.id === activity)
    const closes = plan.kitchen.days[planned?.day ?? -1]?.closes ?? 0
    const isLate = helpers.length > 0 ? to > closes : part === 'machine' && from > closes
    return batch !== null && station !== 'label' && isLate ? [activity] : []
  })
}

describe('an oven of which only two loads fit', () => {
  test('three loads by minutes are two by the clock: cutting half an hour comes before the first', async () => {
    const found = await agreed(ovenMorning())
    // 3 loads of 60 minutes fill 180 minutes; 5 bags cut in 30 minutes leave 150, which hold 2.
    expect(found.gave).toEqual([
      { productId: 'rings:bag', before: 15, after: 10, days: [{ day: 0, before: 15, after: 10 }] },
    ])
    expect(found).toMatchObject({ holds: true, rounds: 1, late: [] })
    // Two loads end at 510 + 120 = 630; clearing away takes 20 minutes before 660, so 10 minutes of the oven are left.
    expect(found.question.clock).toEqual([{ kind: 'machine', machine: 'oven', dayId: 'day-0', minutes: 2 * 60 + 10 }])
  })

  test.each([
    // 30 minutes of cutting from 515 on: the first load is in at 545 and out at 605, and the next would be out at 665.
    ['a break first', { breaks: [{ dayId: 'day-0', fromMinute: 480, toMinute: 515 }] }],
    // 75 minutes of cutting before the first load: out at 135 minutes after opening, and the next would be out at 195.
    ['slow hands', { speed: 0.4 }],
  ])('%s leaves time for one load', async (_what, change) => {
    const { helpers } = ovenMorning()
    const found = await agreed(ovenMorning({ helpers: helpers.map((one) => ({ ...one, ...change })) }))
    expect(found.holds).toBe(true)
    expect(found.result.batches.map(({ units }) => units)).toEqual([5])
  })

  test('nothing is cut where it all fits', async () => {
    const question = ovenMorning({
      wishes: [{ recipeId: 'rings', pack: 'bag', atLeast: 0, about: 10, atMost: 10, matters: 3 }],
    })
    const found = await agreed(question)
    expect(found).toMatchObject({ holds: true, rounds: 0, gave: [], late: [] })
    expect(found.question).toEqual(question)
  })

  test('what the clock does not hold is left out for good where no division may choose anew', async () => {
    const found = await agreed(ovenMorning(), 0)
    expect(found).toMatchObject({ holds: true, rounds: 1, late: [] })
    expect(found.gave).toEqual([
      { productId: 'rings:bag', before: 15, after: 10, days: [{ day: 0, before: 15, after: 10 }] },
    ])
    expect(found.question.clock).toEqual([{ kind: 'units', productId: 'rings:bag', dayId: 'day-0', atMost: 10 }])
  })

  test('of two things that need the oven the one that matters less gives way', async () => {
    const one = ovenMorning()
    const recipes = ['dear', 'cheap'].flatMap((id) => one.recipes.map((recipe) => ({ ...recipe, id })))
    const wish = { pack: 'bag', atLeast: 0, about: 5, atMost: 5 }
    const wishes: Question['wishes'] = [
      { ...wish, recipeId: 'cheap', matters: 1 },
      { ...wish, recipeId: 'dear', atMost: 10, about: 10, matters: 3 },
    ]
    const found = await agreed(ovenMorning({ recipes, wishes }), 0)
    expect(found).toMatchObject({ holds: true, late: [] })
    expect(found.gave.map(({ productId, before, after }) => [productId, before, after])).toEqual([['cheap:bag', 5, 0]])
  })

  test('stops when told to', async () => {
    const question = ovenMorning()
    const result = await solveAllocation(askDivision(question), cheap)
    const found = await agree(question, result, { place, maxSchedules: 40, stop: () => true })
    expect(found).toMatchObject({ holds: false, rounds: 0, gave: [] })
    expect(found.late.length).toBeGreaterThan(0)
  })

  test('refuses a division that was tampered with', async () => {
    const question = ovenMorning()
    const result = await solveAllocation(askDivision(question), cheap)
    const more = result.batches.map((batch) => ({ ...batch, units: batch.units + 1 }))
    await expect(agree(question, { ...result, batches: more }, { place })).rejects.toThrow(/a division breaks/)
  })
})

describe('small kitchens by chance, from division to timetable', () => {
  let cut = 0
  let units = 0
  test.each(Array.from({ length: 300 }, (_, seed) => seed + 1))('kitchen %i', async (seed) => {
    const question = randomQuestion(seed)
    const found = await agreed(question, 30)
    expect(checkAllocation(askDivision(found.question), found.result)).toEqual([])
    expect(checkSchedule(found.plan.problem, found.schedule)).toEqual([])
    expect(found.holds).toBe(true)
    expect(finishedUnits(found)).toEqual(dividedUnits(found))
    expect(workAfterClosing(found)).toEqual([])
    units += Object.values(dividedUnits(found)).reduce((sum, many) => sum + many, 0)
    if (found.rounds > 0) cut++
    for (const limit of found.question.clock ?? []) {
      if (limit.kind !== 'units') continue
      const day = question.days.findIndex(({ id }) => id === limit.dayId)
      const made = found.result.batches.find((one) => one.productId === limit.productId && one.day === day)?.units ?? 0
      expect(made).toBeLessThanOrEqual(limit.atMost)
    }
  })

  test.each(Array.from({ length: 60 }, (_, seed) => seed + 1))(
    'kitchen %i, where nothing is chosen anew',
    async (seed) => {
      const found = await agreed(randomQuestion(seed), 0)
      expect(checkAllocation(askDivision(found.question), found.result)).toEqual([])
      expect(checkSchedule(found.plan.problem, found.schedule)).toEqual([])
      expect(found.holds).toBe(true)
      expect(finishedUnits(found)).toEqual(dividedUnits(found))
      // Nothing is made in more units than before, on any day.
      for (const { days } of found.gave) for (const { before, after } of days) expect(after).toBeLessThan(before)
    },
  )

  test('some of them needed cuts, and some did not', () => {
    expect(cut).toBeGreaterThan(20)
    expect(cut).toBeLessThan(280)
    expect(units).toBeGreaterThan(1000)
  })
})
