import {
  clockOf,
  type Edit,
  type Entry,
  type NotedPlan,
  type PlannedActivity,
  type TimetablePlan,
} from '../../../core/day/index.ts'
import type { EquipmentKind } from '../../../core/produce/vocabulary.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import type { Formatter } from '../../../web/format.ts'
import { tableWords } from './words.ts'

/** Tasks of one batch, or of the kitchen as a whole, in the order of their times. */
export type TaskGroup = { label: string; tasks: { activity: string; text: string }[] }

export type ChangeWords = ReturnType<typeof changeWords>

/** Names of what a timetable has, as the form that changes it and what is told of a change write them. */
export function changeWords({ plan, schedule }: Pick<WorkedOut, 'plan' | 'schedule'>, format: Formatter) {
  const words = tableWords(plan, format)
  // Kinds by their plain names: a number stands only where there are several.
  const kinds = tableWords({ ...plan, kitchen: { ...plan.kitchen, machines: [] } }, format)
  const helpers = new Map(plan.kitchen.helpers.map(({ id, name }) => [id, name]))

  /** "Sat 19 Sep, 10:15" */
  function moment(minute: number): string {
    const at = clockOf(plan.kitchen, minute)
    return at === null ? '' : `${format.day(at.date)}, ${format.minuteOfDay(at.minuteOfDay)}`
  }

  /** "Sat 19 Sep from 12:00 to 13:00" */
  function stretch(from: number, to: number): string {
    const date = clockOf(plan.kitchen, from)?.date
    return `${date === undefined ? '' : format.day(date)} from ${words.time(from)} to ${words.time(to, date)}`
  }

  /** "Plum jam, 8 half-pints"; for what is done for the day as a whole "The kitchen" */
  function batch(id: string | null): string {
    const of = plan.batches.find((one) => one.batch.id === id)?.batch
    return of ? words.what({ batch: of.id, units: of.units }) : 'The kitchen'
  }

  /** "peeling and cutting, second portion" */
  function doing(planned: PlannedActivity): string {
    const parts = partsOf(planned, schedule.start[planned.activity.id] ?? 0)
    const hands = parts.filter(({ part }) => part === 'hands')
    const does = [...new Set((hands.length > 0 ? hands : parts.slice(0, 1)).map((one) => words.does(one)))]
    const portions = plan.batches.find((one) => one.batch.id === planned.batch)?.portions.length ?? 0
    const which = planned.portion === null || portions < 2 ? [] : [`${ordinal(planned.portion)} portion`]
    return [does.join(', then '), ...which].join(', ')
  }

  /** "Plum jam, 8 half-pints: peeling and cutting, second portion" */
  function task(activity: string): string {
    const planned = plan.activities.find((one) => one.activity.id === activity)
    return planned ? `${batch(planned.batch)}: ${doing(planned)}` : 'a task that is not there'
  }

  /** Every task under its batch, each with its time. */
  function groups(): TaskGroup[] {
    const ids = [...plan.batches.map((one) => one.batch.id), null]
    return ids.flatMap((id) => {
      const own = plan.activities.filter((one) => one.batch === id).sort((a, b) => startOf(a) - startOf(b))
      const tasks = own.map((planned) => ({
        activity: planned.activity.id,
        text: `${when(planned)}: ${doing(planned)}`,
      }))
      return tasks.length === 0 ? [] : [{ label: batch(id), tasks }]
    })
  }

  const startOf = ({ activity }: PlannedActivity): number => schedule.start[activity.id] ?? plan.beyond
  const when = (planned: PlannedActivity): string =>
    startOf(planned) < plan.beyond ? moment(startOf(planned)) : 'does not fit in yet'

  /** What was settled, in one line. */
  function edit(one: Edit): string {
    switch (one.kind) {
      case 'at':
        return `${task(one.activity)}, begins ${moment(one.minute)}`
      case 'by':
        return `${task(one.activity)}, with ${helper(one.helper)}`
      case 'not-before':
        return `${batch(one.batch)}: nothing before ${moment(one.minute)}`
      case 'break':
        return `${helper(one.helper)} is away ${stretch(one.from, one.to)}`
      case 'out':
        return `${machine(one.machine)}: ${format.number(one.count)} cannot be used ${stretch(one.from, one.to)}`
    }
  }

  const helper = (id: string): string => helpers.get(id) ?? 'somebody who is not there'
  const machine = (kind: EquipmentKind): string => kinds.machine({ kind, number: 1 })

  return { moment, batch, task, groups, edit, helper, machine, opening: (day: Day) => opening(day, format) }
}

type Day = NotedPlan['kitchen']['days'][number]

/** "from 9:00 to 17:00" */
function opening({ midnight, opens, closes }: Day, format: Formatter): string {
  return `from ${format.minuteOfDay(opens - midnight)} to ${format.minuteOfDay(closes - midnight)}`
}

function partsOf({ activity, batch, portion, phases }: TimetablePlan['activities'][number], start: number): Entry[] {
  let from = start
  return activity.phases.map(({ minutes }, phase) => {
    const { part = 'hands', step = null, units = 0 } = phases[phase] ?? {}
    const entry = { activity: activity.id, phase, batch, portion, step, part, units, from, to: from + minutes }
    from = entry.to
    return { ...entry, station: null, helpers: [], machines: [] }
  })
}

const ordinals = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']

function ordinal(place: number): string {
  return ordinals[place] ?? `${place + 1}th`
}
