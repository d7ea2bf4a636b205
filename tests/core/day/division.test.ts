import { beforeAll, describe, expect, test } from 'vitest'
import { solveAllocation } from '../../../src/core/allocation/index.ts'
import { activitiesOf } from '../../../src/core/day/activities.ts'
import { type Batch, batchesOf, processAt } from '../../../src/core/day/batch.ts'
import { loadsInOrder } from '../../../src/core/day/load-order.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { askDivision, type DivisionSummary, type Question, summarise } from '../../../src/core/division/index.ts'
import { type KitchenPlace, type Recipe, settleRecipe } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'
import { faultsOf } from './faults.ts'

const place: KitchenPlace = { altitudeM: 100, gauges: ['dial', 'weighted'], local: [] }

/** The demonstration's division, from its question to a timetable. */
describe('a division that was worked out', () => {
  let question: Question
  let summary: DivisionSummary
  let batches: Batch[]
  let plan: DayPlan
  let schedule: Schedule

  beforeAll(async () => {
    const asked = demonstrationQuestion()
    question = {
      ...asked,
      recipes: asked.recipes.map((recipe) => settleRecipe(recipe, place).recipe),
      // Minutes of hands are added up below at the usual speed.
      helpers: asked.helpers.map((helper) => ({ ...helper, speed: 1 })),
    }
    const problem = askDivision(question)
    summary = summarise(question, problem, await solveAllocation(problem, { maxNodes: 1 }))
    batches = batchesOf(question, summary, processAt(place))
    plan = activitiesOf(question, batches, { breaks: [{ fromMinute: 720, toMinute: 750 }] })
    schedule = loadsInOrder(plan, solveSchedule(plan.problem, { maxSchedules: 100 }))
  })

  test('has a batch for every pack and day of which something is made', () => {
    expect(batches.length).toBeGreaterThan(3)
    const made = summary.products.reduce((sum, { units }) => sum + units, 0)
    expect(batches.reduce((sum, { units }) => sum + units, 0)).toBe(made)
  })

  test('makes as many jars in the timetable as were decided, and leaves out nothing without a word', () => {
    expect(plan.batches.length + plan.impossible.length).toBe(batches.length)
    for (const { batch, portions } of plan.batches) {
      const decided = summary.products.find(({ productId }) => batch.id.startsWith(`${productId}@`))
      const day = decided?.byDay.find((one) => one.day === batch.day)
      expect([batch.id, portions.reduce((a, b) => a + b, 0)]).toEqual([batch.id, day?.units])
    }
  })

  test('has loads with the tested minutes in them, and nobody at work during the meal', () => {
    const { entries } = timetableOf(plan, schedule)
    expect(entries.filter(({ part }) => part === 'process').length).toBeGreaterThan(5)
    const atNoon = entries.filter(({ from, to }) => from % 1440 < 750 && to - Math.floor(from / 1440) * 1440 > 720)
    expect(atNoon.flatMap(({ helpers }) => helpers)).toEqual([])
  })

  test('has a timetable that holds', () => {
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
    expect(faultsOf(plan, schedule, timetableOf(plan, schedule))).toEqual([])
  })
})

describe('how a pack is heated at a place', () => {
  function heated(key: string, altitudeM: number | null) {
    const found = starters.find((one) => one.key === key)
    const pack = found?.definition.packs[0]
    if (!found || !pack) throw new Error(`no starter ${key}`)
    const recipe: Recipe = { id: key, ...found }
    return processAt({ altitudeM, gauges: ['dial', 'weighted'], local: [] })(recipe, pack)
  }

  // USDA Complete Guide to Home Canning 2015, Guide 3 p. 3-7, 3-8: quarts 45, 50, 55 and 60 minutes; bands end at 1,000,
  // 3,000 and 6,000 ft.
  test.each([
    [100, 45],
    [800, 50],
    [1500, 55],
    [2000, 60],
  ])('crushed tomatoes in quarts at %i m: %i minutes', (altitude, minutes) => {
    expect(heated('crushed-tomatoes', altitude)).toEqual({ method: 'boiling-water', minutes })
  })

  test('not at all where the altitude is not known, nor what is frozen', () => {
    expect(heated('crushed-tomatoes', null)).toBeNull()
    expect(heated('frozen-apple-slices', 100)).toBeNull()
  })
})
