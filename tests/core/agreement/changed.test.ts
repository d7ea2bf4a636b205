import { beforeAll, describe, expect, test } from 'vitest'
import { changedTimetable, faultOfProgress, refusedEdits } from '../../../src/core/agreement/changed.ts'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Edit } from '../../../src/core/day/edits.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import type { Progress } from '../../../src/core/day/replan.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { daily, helper, kitchen, starterBatch } from '../day/days.ts'
import { faultsOf } from '../day/faults.ts'

const effort = { maxSchedules: 60 }

// Two full days with two canners and five helpers, changed by hand and from the middle.
const people = [
  helper('a'),
  helper('b'),
  helper('c'),
  helper('t', { ageBand: 'teen', skills: ['wash', 'cut'] }),
  helper('d', { skills: ['wash', 'cut', 'fill', 'pack'] }),
].map((one) => ({ ...one, hours: daily(2, [{ from: 480, to: 1080 }]) }))
const at = kitchen({ canner: 2, burner: 5 }, people, { days: 2 })
const batches = [0, 1].flatMap((day) => [
  starterBatch('crushed-tomatoes', 'quart', 14, day),
  starterBatch('apple-sauce', 'quart', 14, day),
  starterBatch('damson-jam', 'half-pint', 16, day),
])
let plan: DayPlan
let schedule: Schedule
beforeAll(() => {
  plan = planDays(at, batches)
  schedule = solveSchedule(plan.problem, { maxSchedules: 200 })
})

function change(edits: readonly Edit[], progress: Progress | null = null, from = schedule) {
  expect(refusedEdits(plan, edits, edits, progress)).toEqual([])
  const made = changedTimetable({ plan, schedule: from, edits, progress }, effort)
  expect(checkSchedule(made.plan.problem, made.schedule)).toEqual([])
  return { ...made, table: timetableOf(made.plan, made.schedule) }
}

const startOf = (id: string, of = schedule) => of.start[id] ?? Number.NaN

/** What had begun by a minute as planned, and what of it is over. */
function asPlanned(now: number): Progress {
  const begun = plan.activities.flatMap(({ activity: { id, phases } }) => {
    const start = startOf(id)
    const end = start + phases.reduce((sum, { minutes }) => sum + minutes, 0)
    return start < now ? [{ activity: id, start, done: end <= now }] : []
  })
  return { now, begun }
}

/** Two and a half hours into the first work day. */
const later = () => (plan.kitchen.days[0]?.opens ?? Number.NaN) + 150

/** A task with hands of the first day that begins after a minute, and somebody who is not in it and may be. */
function taskAfter(minute: number) {
  const ahead = plan.activities
    .filter(({ activity: { id }, batch }) => batch !== null && startOf(id) > minute && startOf(id) < plan.beyond)
    .sort((a, b) => startOf(a.activity.id) - startOf(b.activity.id))
  for (const { activity } of ahead) {
    for (const { id } of plan.kitchen.helpers) {
      const edit: Edit = { kind: 'by', activity: activity.id, helper: id }
      const there = schedule.people[activity.id]?.flat().includes(id) ?? false
      if (!there && refusedEdits(plan, [edit], [edit], null).length === 0) return { activity: activity.id, helper: id }
    }
  }
  throw new Error('no such task')
}

describe('a timetable, changed', () => {
  test('has 60 activities or more', () => {
    expect(plan.activities.length).toBeGreaterThanOrEqual(60)
  })

  test('is no worse when nothing is asked', () => {
    const { schedule: next, plan: same } = change([])
    expect(same.problem).toBe(plan.problem)
    expect(next.lateness).toBeLessThanOrEqual(schedule.lateness)
  })

  test('keeps each kind of edit', () => {
    const { activity, helper } = taskAfter(later())
    const { batch } = plan.activities.find((one) => one.activity.id === activity) ?? {}
    const day = plan.kitchen.days[0]
    const [other] = plan.kitchen.helpers.filter(({ id }) => id !== helper)
    if (typeof batch !== 'string' || !day || !other) throw new Error('nothing to change')
    const away = { from: day.opens + 60, to: day.opens + 120 }
    const {
      schedule: next,
      table,
      plan: after,
    } = change([
      { kind: 'by', activity, helper },
      { kind: 'break', helper: other.id, ...away },
      { kind: 'not-before', batch, minute: day.opens + 90 },
      { kind: 'out', machine: 'burner', count: 1, from: day.opens, to: day.opens + 60 },
    ])
    expect(next.people[activity]?.flat()).toContain(helper)
    const own = table.entries.filter(
      ({ helpers, from, to }) => helpers.includes(other.id) && from < away.to && away.from < to,
    )
    expect(own.filter(({ from, to }) => to > from)).toEqual([])
    for (const entry of table.entries.filter((one) => one.batch === batch))
      expect(entry.from).toBeGreaterThanOrEqual(day.opens + 90)
    const burners = plan.problem.resources.find(({ id }) => id === 'burner')?.capacity ?? 0
    for (let minute = day.opens; minute < day.opens + 60; minute += 5) {
      const busy = table.entries
        .filter(({ from, to }) => from <= minute && minute < to)
        .flatMap(({ machines }) => machines.filter(({ kind }) => kind === 'burner'))
      expect(busy.length).toBeLessThanOrEqual(burners - 1)
    }
    // The rules of a kitchen, of ages among them, hold as before.
    expect(faultsOf(after, next, table).filter((fault) => !fault.includes('hours'))).toEqual([])
  })

  test('begins a task to the minute, an hour later than it was', () => {
    const { activity } = taskAfter(later())
    const minute = startOf(activity) + 60
    expect(change([{ kind: 'at', activity, minute }]).schedule.start[activity]).toBe(minute)
  })

  test('stays as it is from the middle of a day that goes as planned', () => {
    const { schedule: next, moved } = change([], asPlanned(later()))
    expect(moved).toBe(0)
    expect(next.start).toEqual(schedule.start)
  })

  test('moves little when one task takes 20 minutes longer', () => {
    const now = later()
    const progress = asPlanned(now)
    const open = progress.begun.find(({ done }) => !done)
    if (!open) throw new Error('nothing is being done')
    const length = plan.activities
      .find(({ activity: { id } }) => id === open.activity)
      ?.activity.phases.reduce((sum, { minutes }) => sum + minutes, 0)
    const begun = progress.begun.map((one) => (one === open ? { ...one, minutes: (length ?? 0) + 20 } : one))
    const { moved, schedule: next } = change([], { now, begun })
    for (const one of begun) expect([one.activity, next.start[one.activity]]).toEqual([one.activity, one.start])
    for (const { activity } of plan.activities) {
      if (!begun.some((one) => one.activity === activity.id))
        expect(startOf(activity.id, next)).toBeGreaterThanOrEqual(now)
    }
    expect(moved).toBeLessThan(plan.activities.length - begun.length)
  })

  test('goes on from a day that has begun with edits, and keeps both', () => {
    const now = later()
    const { activity } = taskAfter(now + 60)
    const pin: Edit = { kind: 'at', activity, minute: startOf(activity) + 30 }
    const edited = change([pin])
    const late = { now, begun: asPlanned(now).begun.filter(({ activity: id }) => startOf(id, edited.schedule) < now) }
    const begun = late.begun.map((one) => ({ ...one, start: startOf(one.activity, edited.schedule) }))
    const told = begun.map((one) => {
      const phases = plan.activities.find(({ activity: { id } }) => id === one.activity)?.activity.phases ?? []
      return { ...one, done: one.start + phases.reduce((sum, { minutes }) => sum + minutes, 0) <= now }
    })
    const replanned = change([pin], { now, begun: told }, edited.schedule)
    expect(replanned.schedule.start[activity]).toBe(pin.minute)
    for (const one of told) expect(replanned.schedule.start[one.activity]).toBe(one.start)
    // And one more edit after that: what was begun stays begun.
    const [away] = plan.kitchen.helpers
    if (!away) throw new Error('nobody')
    const more: Edit[] = [pin, { kind: 'break', helper: away.id, from: now + 30, to: now + 60 }]
    const again = change(more, { now, begun: told }, replanned.schedule)
    for (const one of told) expect(again.schedule.start[one.activity]).toBe(one.start)
    expect(again.schedule.start[activity]).toBe(pin.minute)
  })

  test('lets go of a minute that has passed without its task', () => {
    const first = taskAfter(later()).activity
    const edited = change([{ kind: 'at', activity: first, minute: startOf(first) }])
    const now = startOf(first) + 10
    const begun = plan.activities.flatMap(({ activity: { id, phases } }) => {
      const start = startOf(id, edited.schedule)
      const end = start + phases.reduce((sum, { minutes }) => sum + minutes, 0)
      return start < now && id !== first ? [{ activity: id, start, done: end <= now }] : []
    })
    const next = changedTimetable(
      {
        plan,
        schedule: edited.schedule,
        edits: [{ kind: 'at', activity: first, minute: startOf(first) }],
        progress: { now, begun },
      },
      effort,
    )
    expect(next.schedule.start[first]).toBeGreaterThanOrEqual(now)
    expect(next.schedule.start[first]).toBeLessThan(plan.beyond)
  })
})

describe('what is refused of a change', () => {
  test('an edit of what has begun, and a minute that has passed', () => {
    const now = later()
    const progress = asPlanned(now)
    const [begun] = progress.begun
    if (!begun) throw new Error('nothing has begun')
    const about: Edit = { kind: 'at', activity: begun.activity, minute: now + 60 }
    const passed: Edit = { kind: 'at', activity: taskAfter(now).activity, minute: now - 10 }
    expect(refusedEdits(plan, [about, passed], [about, passed], progress)).toEqual([
      { edit: about, because: 'begun' },
      { edit: passed, because: 'passed' },
    ])
    expect(refusedEdits(plan, [about, passed], [], progress)).toEqual([])
  })

  test('a load that was begun in canners that are out', () => {
    const load = plan.activities.find(({ phases }) => phases.some(({ part }) => part === 'process'))
    const kind = load?.activity.phases
      .flatMap(({ resources = {} }) => Object.keys(resources))
      .find((id) => id === 'canner' || id === 'pressure-canner')
    if (!load || (kind !== 'canner' && kind !== 'pressure-canner')) throw new Error('no load')
    const { id } = load.activity
    const start = startOf(id)
    const count = plan.problem.resources.find((one) => one.id === kind)?.capacity ?? 0
    const edits: Edit[] = [{ kind: 'out', machine: kind, count, from: start + 5, to: start + 200 }]
    const fault = faultOfProgress({
      plan,
      schedule,
      edits,
      progress: { now: start + 1, begun: [{ activity: id, start, done: false }] },
    })
    expect(fault?.because).toBe('machine-out')
  })
})
