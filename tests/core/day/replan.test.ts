import { describe, expect, test } from 'vitest'
import { type Progress, replanned } from '../../../src/core/day/replan.ts'
import { checkSchedule, type Schedule } from '../../../src/core/scheduling/index.ts'
import { batch, helper, kitchen, recipe, step } from './days.ts'
import { cannerLoad, canning, solved } from './on-paper.ts'

// Days begin at minute 480. a is at two canner loads of 120 minutes, b is not at the stove and cuts until 720.
const day = () =>
  solved(kitchen({ canner: 1, burner: 2 }, [helper('a'), helper('b', { skills: ['cut'] })]), [
    batch(recipe(canning, { runs: [cannerLoad] }), 10),
    batch(recipe([step({ minutes: { perKg: 10 } })], {}, 'other'), 24),
  ])

function begunBy(schedule: Schedule, now: number): Progress['begun'] {
  return Object.entries(schedule.start)
    .filter(([, start]) => start < now)
    .map(([activity, start]) => ({ activity, start, done: false }))
}

function again(progress: (schedule: Schedule) => Progress) {
  const { plan, schedule } = day()
  const next = replanned(plan, schedule, progress(schedule), { maxSchedules: 200 })
  expect(checkSchedule(next.plan.problem, next.schedule)).toEqual([])
  expect(next.schedule.schedulesTried).toBeLessThanOrEqual(200)
  const loads = plan.activities.filter(({ batch: of }) => of === 'own:bag@0').map(({ activity }) => activity.id)
  loads.sort((one, other) => (schedule.start[one] ?? 0) - (schedule.start[other] ?? 0))
  return { plan, schedule, next, loads }
}

describe('replanning from the middle', () => {
  test('a day that goes as planned is left as it is', () => {
    const { schedule, next } = again((old) => ({ now: 500, begun: begunBy(old, 500) }))
    expect(next.schedule.start).toEqual(schedule.start)
    expect([next.changed, next.schedule.schedulesTried]).toEqual([0, 0])
  })

  test('a late load moves only what depends on it', () => {
    // The first load takes 150 minutes for 120: the second, at 600 at the earliest, cannot be begun before 630.
    const { schedule, next, loads, plan } = again((old) => ({
      now: 500,
      begun: begunBy(old, 500).map((one) => (one.activity.startsWith('own') ? { ...one, minutes: 150 } : one)),
    }))
    const [first, second] = loads.map((id) => next.schedule.start[id])
    expect([first, second]).toEqual([480, 630])
    for (const { activity, batch: of } of plan.activities) {
      if (of === 'other:bag@0') expect(next.schedule.start[activity.id]).toBe(schedule.start[activity.id])
    }
    // The second load and cleaning up after it.
    expect(next.changed).toBe(2)
  })

  test('nothing that is not begun is put before now', () => {
    // Nothing was begun by 560: all is 80 minutes later.
    const { schedule, next } = again(() => ({ now: 560, begun: [] }))
    expect(Math.min(...Object.values(next.schedule.start))).toBe(560)
    expect(next.schedule.makespan).toBe(schedule.makespan + 80)
  })

  test('what is not over although it should be lasts until now', () => {
    const { next, loads } = again((old) => ({ now: 640, begun: begunBy(old, 500) }))
    const second = loads.map((id) => next.schedule.start[id])[1]
    expect(second).toBe(640)
  })

  test('what cannot have been is refused', () => {
    const at = (activity: string, start: number) => () =>
      again(() => ({ now: 500, begun: [{ activity, start, done: false }] }))
    expect(at('none', 480)).toThrow('"none" is not in the plan')
    expect(at('clean-up@0', 600)).toThrow('cannot have been begun at 600')
  })
})
