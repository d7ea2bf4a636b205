import { expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { solveSchedule } from '../../../src/core/scheduling/index.ts'
import { helper, kitchen, starterBatch } from './days.ts'
import { faultsOf } from './faults.ts'

// What the timetables by chance are held against must itself find what is wrong.

const people = [
  helper('adult'),
  helper('other'),
  helper('teen', { ageBand: 'teen' }),
  helper('child', { ageBand: 'child' }),
]
const plan = planDays(kitchen({ canner: 1, burner: 3 }, people), [starterBatch('crushed-tomatoes', 'quart', 14)])
const schedule = solveSchedule(plan.problem, { maxSchedules: 30 })
const table = timetableOf(plan, schedule)
const load = plan.activities.find(({ phases }) => phases.some(({ part }) => part === 'process'))?.activity.id ?? ''

function changed(of: Partial<typeof table>): string {
  return faultsOf(plan, schedule, { ...table, ...of }).join('\n')
}

test('nothing in a timetable as it is made', () => expect(faultsOf(plan, schedule, table)).toEqual([]))

test.each([
  ['child', 'a child in'],
  ['teen', 'a teen alone in'],
])('a %s alone at the canner', (who, fault) => {
  const entries = table.entries.map((entry) => (entry.part === 'lift-out' ? { ...entry, helpers: [who] } : entry))
  expect(changed({ entries })).toContain(fault)
})

test('a child with a knife', () => {
  const entries = table.entries.map((entry) => (entry.station === 'cut' ? { ...entry, helpers: ['child'] } : entry))
  expect(changed({ entries })).toContain('a child in')
})

test('someone before he or she comes', () => {
  const entries = table.entries.map((entry) => ({ ...entry, from: entry.from - 60, to: entry.to - 60 }))
  expect(changed({ entries })).toContain('is not there for')
})

test('a shorter process', () => {
  const entries = table.entries.map((entry) => (entry.part === 'process' ? { ...entry, to: entry.to - 1 } : entry))
  expect(changed({ entries })).toContain('minutes of process')
})

test('a pause between filling and the canner', () => {
  const entries = table.entries.map((entry) =>
    entry.activity === load && entry.phase > 1 ? { ...entry, from: entry.from + 5, to: entry.to + 5 } : entry,
  )
  expect(changed({ entries })).toContain('has a gap')
})

test('two loads in one canner', () => {
  const machines = table.machines.map((machine) => ({ ...machine, entries: [...machine.entries, ...machine.entries] }))
  expect(changed({ machines })).toContain('canner 1 is in')
})

test('a load that is forgotten', () => {
  const entries = table.entries.filter(({ activity }) => activity !== load)
  expect(changed({ entries })).toContain('is not as scheduled')
})

test('jars and hands that are not all planned', () => {
  const fewer = plan.batches.map((one) => ({ ...one, portions: one.portions.slice(1) }))
  expect(faultsOf({ ...plan, batches: fewer }, schedule, table).join()).toContain('for 14 units')
  const none = plan.activities.filter(({ activity }) => activity.id !== load)
  expect(faultsOf({ ...plan, activities: none }, schedule, table).join()).toContain('minutes of hands for')
})

test('more machines than there are cannot be numbered', () => {
  const start = Object.fromEntries(plan.activities.map(({ activity }) => [activity.id, 480]))
  expect(() => timetableOf(plan, { ...schedule, start })).toThrow('more than 1 of canner')
  expect(() => timetableOf(plan, { ...schedule, start: {} })).toThrow('is not in the schedule')
})
