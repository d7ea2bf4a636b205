import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { applyEdits, type Edit } from '../../../src/core/day/edits.ts'
import type { Helper, Kitchen } from '../../../src/core/day/kitchen.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { checkSchedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { batch, helper, kitchen, recipe, step } from './days.ts'

// Days begin at minute 480; cleaning up takes 20 minutes.

const cutting = (id = 'own') => batch(recipe([step({ minutes: { perKg: 10 } })], {}, id), 4)
const baking = (id: string) =>
  batch(recipe([step({ station: 'oven', work: 'stove', equipment: ['oven'], minutes: { perKg: 10 } })], {}, id), 4)
const withChild = (): Helper[] => [helper('a'), helper('c', { ageBand: 'child' }), helper('t', { ageBand: 'teen' })]

function edited(at: Kitchen, batches: ReturnType<typeof batch>[], edits: Edit[]) {
  const before = planDays(at, batches)
  const copy = structuredClone(before)
  const { plan, refused } = applyEdits(before, edits)
  expect(before).toEqual(copy)
  for (const one of plan.activities) expect(plan.problem.activities).toContain(one.activity)
  const schedule = solveSchedule(plan.problem, { maxSchedules: 400 })
  expect(checkSchedule(plan.problem, schedule)).toEqual([])
  return { plan, refused, schedule, table: timetableOf(plan, schedule) }
}

const task = (at: Kitchen, batches: ReturnType<typeof batch>[], of = 'own') =>
  planDays(at, batches).activities.find(({ batch: id }) => id?.startsWith(of))?.activity.id ?? ''

describe('edits', () => {
  test('a task begins exactly when it is told to', () => {
    const at = kitchen({}, [helper('a')])
    const id = task(at, [cutting()])
    const { schedule, table } = edited(at, [cutting()], [{ kind: 'at', activity: id, minute: 600 }])
    expect([schedule.start[id], schedule.makespan, table.late]).toEqual([600, 600 + 40 + 20, []])
  })

  test('a minute at which nobody is there does not fit', () => {
    const at = kitchen({}, [helper('a', { hours: [{ from: 480, to: 620 }] })])
    const id = task(at, [cutting()])
    const { table } = edited(at, [cutting()], [{ kind: 'at', activity: id, minute: 600 }])
    expect(table.late.map(({ activity, fits }) => [activity, fits])).toContainEqual([id, false])
  })

  test('nothing of a batch begins before it is told to', () => {
    const { schedule } = edited(
      kitchen({}, [helper('a')]),
      [cutting()],
      [{ kind: 'not-before', batch: 'own:bag@0', minute: 555 }],
    )
    expect(schedule.makespan).toBe(555 + 40 + 20)
  })

  test('a child and a lone teen are refused at the oven, an adult is not', () => {
    const at = kitchen({ oven: 1 }, withChild())
    const id = task(at, [baking('own')])
    const by = (who: string): Edit => ({ kind: 'by', activity: id, helper: who })
    const { refused, schedule } = edited(at, [baking('own')], [by('c'), by('t'), by('a')])
    expect(refused).toEqual(['c', 't'].map((who) => ({ edit: by(who), because: 'not-allowed' })))
    expect(schedule.people[id]).toEqual([['a']])
  })

  test('whoever is named is in it', () => {
    for (const who of ['a', 'b']) {
      const at = kitchen({}, [helper('a'), helper('b')])
      const id = task(at, [cutting()])
      const { schedule } = edited(at, [cutting()], [{ kind: 'by', activity: id, helper: who }])
      expect(schedule.people[id]).toEqual([[who]])
    }
  })

  test('a break moves work behind it', () => {
    // 40 minutes from 480 on would meet the break.
    const { schedule } = edited(
      kitchen({}, [helper('a')]),
      [cutting()],
      [{ kind: 'break', helper: 'a', from: 500, to: 530 }],
    )
    expect(schedule.makespan).toBe(530 + 40 + 20)
  })

  test('one oven of two out is one after the other, both out is later', () => {
    const at = kitchen({ oven: 2 }, [helper('a'), helper('b')])
    const out = (count: number): Edit => ({ kind: 'out', machine: 'oven', count, from: 480, to: 900 })
    const both = [baking('x'), baking('y')]
    expect(edited(at, both, []).schedule.makespan).toBe(480 + 40 + 20)
    const one = edited(at, both, [out(1)])
    expect([one.schedule.start['out:1'], one.schedule.makespan]).toEqual([480, 900])
    expect(Math.max(...one.table.entries.map(({ to }) => to))).toBe(480 + 80 + 20)
    expect(edited(at, both, [out(2)]).schedule.makespan).toBe(900 + 40 + 20)
    expect(edited(at, both, [out(1), out(1)]).schedule.makespan).toBe(900 + 40 + 20)
  })

  test('more ovens out for a while are counted only meanwhile', () => {
    // One oven of two from 480 to 900 and the other until 520: one from 520 on, 40 minutes each.
    const { table } = edited(
      kitchen({ oven: 2 }, [helper('a'), helper('b')]),
      [baking('x'), baking('y')],
      [
        { kind: 'out', machine: 'oven', count: 1, from: 480, to: 900 },
        { kind: 'out', machine: 'oven', count: 1, from: 480, to: 520 },
      ],
    )
    expect(Math.max(...table.entries.map(({ to }) => to))).toBe(520 + 80 + 20)
  })

  test('the last oven of a day on which others are out anyway', () => {
    const at = kitchen({ oven: 2 }, [helper('a', { hours: [{ from: 480, to: 1080 }] })], { days: 2 })
    const one = { ...at, machines: at.machines.map((kind) => ({ ...kind, countByDay: [1, 2] })) }
    const { schedule } = edited(one, [baking('x')], [{ kind: 'out', machine: 'oven', count: 1, from: 480, to: 700 }])
    expect(schedule.makespan).toBe(700 + 40 + 20)
  })

  test('nobody can be named for what runs by itself, and no second one for one place', () => {
    const resting = step({ station: 'stove', work: null, waitMinutes: 60 })
    const of = batch(recipe([step({ minutes: { perKg: 10 } }), resting, step({ minutes: { perKg: 10 } })]), 4)
    const at = kitchen({}, [helper('a'), helper('b')])
    const { activities } = planDays(at, [of])
    const drying = batch(
      recipe([step({ station: 'oven', work: null, equipment: ['dehydrator'] })], {
        runs: [
          {
            name: 'tray load',
            unitsPerRun: 4,
            fillAtLeast: 0,
            machineMinutes: { dehydrator: 300 },
            work: {},
            process: false,
          },
        ],
      }),
      4,
    )
    const alone = kitchen({ dehydrator: 1 }, [helper('a')])
    const id = task(alone, [drying])
    expect(edited(alone, [drying], [{ kind: 'by', activity: id, helper: 'a' }]).refused).toEqual([
      { edit: { kind: 'by', activity: id, helper: 'a' }, because: 'nobody-in-it' },
    ])
    const cut = activities[0]?.activity.id ?? ''
    const by = (who: string): Edit => ({ kind: 'by', activity: cut, helper: who })
    expect(edited(at, [of], [by('a'), by('b')]).refused).toEqual([{ edit: by('b'), because: 'places-taken' }])
  })

  test('what is not there is refused with the reason', () => {
    const { refused } = edited(
      kitchen({}, [helper('a')]),
      [cutting()],
      [
        { kind: 'at', activity: 'none', minute: 500 },
        { kind: 'not-before', batch: 'none', minute: 500 },
        { kind: 'break', helper: 'none', from: 500, to: 510 },
        { kind: 'out', machine: 'oven', count: 1, from: 500, to: 510 },
        { kind: 'not-before', batch: 'own:bag@0', minute: 99_999 },
      ],
    )
    expect(refused.map(({ because }) => because)).toEqual([
      'no-such-task',
      'no-such-batch',
      'no-such-helper',
      'no-such-machine',
      'outside-hours',
    ])
  })
})
