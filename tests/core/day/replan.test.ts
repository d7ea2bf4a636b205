import { describe, expect, test } from 'vitest'
import { type Progress, replanned } from '../../../src/core/day/replan.ts'
import { checkSchedule, type Schedule } from '../../../src/core/scheduling/index.ts'
import { batch, helper, kitchen, recipe, starterBatch, step } from './days.ts'
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

  test('what is done is over by now, though it was planned longer', () => {
    // 24 kg are cut from 480 to 720; done in 60 minutes, cleaning up does not wait for them.
    const { next } = again((old) => ({
      now: 560,
      begun: begunBy(old, 500).map((one) =>
        one.activity.startsWith('other') ? { ...one, minutes: 60, done: true } : one,
      ),
    }))
    const cutting = next.plan.activities.find(({ batch: of }) => of === 'other:bag@0')?.activity
    expect(cutting?.phases.map(({ minutes }) => minutes)).toEqual([60])
  })
})

describe('the tested minutes of a load', () => {
  const jars = () => {
    const of = starterBatch('apple-sauce', 'quart', 7)
    const made = solved(kitchen({ canner: 1, burner: 4 }, [helper('a'), helper('b'), helper('c')]), [of])
    const load = made.plan.activities.find(({ phases }) => phases.some(({ part }) => part === 'process'))
    if (!load) throw new Error('no load')
    const start = made.schedule.start[load.activity.id] ?? 0
    const place = load.phases.findIndex(({ part }) => part === 'process')
    const total = load.activity.phases.reduce((sum, { minutes }) => sum + minutes, 0)
    const tested = load.activity.phases[place]?.minutes ?? 0
    const told = (more: object, now = start + total) =>
      replanned(made.plan, made.schedule, {
        now,
        begun: [{ activity: load.activity.id, start, done: true, ...more }],
      })
    const phaseAfter = (next: ReturnType<typeof told>) =>
      next.plan.activities.find(({ activity }) => activity.id === load.activity.id)?.activity.phases[place]?.minutes
    return { of, tested, total, start, told, phaseAfter }
  }

  test('stay as they are when the load was quicker', () => {
    const { of, tested, total, told, phaseAfter } = jars()
    expect(tested).toBe(of.process?.minutes)
    expect(phaseAfter(told({ minutes: total - 5 }))).toBe(tested)
    expect(phaseAfter(told({ minutes: tested }))).toBe(tested)
  })

  test('are not cut: a load that was over sooner is refused, and so is one that is to be', () => {
    const { tested, start, told } = jars()
    const words = `has ${tested} tested minutes, which may not be cut short`
    expect(() => told({ minutes: tested - 1 })).toThrow(words)
    // Done, and no minutes told: over by now, which is too soon.
    expect(() => told({}, start + tested - 1)).toThrow(words)
    expect(() => told({ minutes: tested - 1, done: false }, start + 5)).toThrow(words)
    // Not done and already longer than was said: it goes on.
    expect(() => told({ minutes: tested - 1, done: false }, start + tested)).not.toThrow()
  })

  test('cannot be told as over before they are', () => {
    const { total, start, told } = jars()
    expect(() => told({ minutes: total }, start + total - 1)).toThrow('cannot have been begun')
  })
})

describe('what was begun together', () => {
  test('goes on with a machine when the other one is done with it, and waits until then', () => {
    // Cooking and filling take 10 minutes each: the second load is begun at 580 and comes to the canner at 600.
    const { plan, schedule } = solved(kitchen({ canner: 1, burner: 3 }, [helper('a'), helper('b'), helper('c')]), [
      batch(recipe(canning, { runs: [cannerLoad] }), 10),
    ])
    const loads = plan.activities
      .filter(({ batch: of, portion }) => of === 'own:bag@0' && portion !== null)
      .map(({ activity }) => ({ activity: activity.id, start: schedule.start[activity.id] ?? 0, done: false }))
      .sort((one, other) => one.start - other.start)
    expect(loads.map(({ start }) => start)).toEqual([480, 580])
    const begun = loads.map((one, place) => (place === 0 ? { ...one, minutes: 150 } : one))
    const next = replanned(plan, schedule, { now: 585, begun })
    expect(checkSchedule(next.plan.problem, next.schedule)).toEqual([])
    const second = next.plan.activities.find(({ activity }) => activity.id === loads[1]?.activity)?.activity
    // At the canner from 630 on, as soon as the first load leaves it.
    expect(second?.phases[0]?.minutes).toBe(10 + 30)
    expect(next.schedule.start[second?.id ?? '']).toBe(580)
  })

  test('cannot have had one machine twice at a time', () => {
    const { schedule, plan } = day()
    const loads = plan.activities.filter(({ batch: of }) => of === 'own:bag@0').map(({ activity }) => activity.id)
    const begun = loads.map((activity, place) => ({ activity, start: 480 + 20 * place, done: false }))
    expect(() => replanned(plan, schedule, { now: 510, begun })).toThrow('taken by another that was begun')
  })
})
