import { stepsOf } from '../../../src/core/day/batch.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import type { Entry, Timetable } from '../../../src/core/day/timetable.ts'
import type { EquipmentKind } from '../../../src/core/produce/vocabulary.ts'
import type { Step } from '../../../src/core/recipes/index.ts'
import type { Schedule } from '../../../src/core/scheduling/index.ts'
import { handsOf, plannedHands } from './days.ts'

/** What a timetable breaks, from the rules of a kitchen and from nothing that makes it. */
export function faultsOf(plan: DayPlan, schedule: Schedule, table: Timetable): string[] {
  return [
    ...agreement(plan, schedule, table),
    ...chains(plan, table),
    ...hours(plan, table),
    ...onePlaceAtATime(table),
    ...machinesOfTheDay(plan, table),
    ...ages(plan, table),
    ...order(plan, table),
    ...loads(plan, table),
    ...units(plan),
    ...hands(plan),
    ...cleanUp(plan, table),
  ]
}

function agreement({ activities, beyond }: DayPlan, schedule: Schedule, { entries, late }: Timetable): string[] {
  return activities.flatMap(({ activity, batch }) => {
    const own = entries.filter((entry) => entry.activity === activity.id)
    const start = schedule.start[activity.id] ?? Number.NaN
    if (start >= beyond) {
      const told = late.some((one) => one.activity === activity.id && !one.fits)
      return own.length === 0 && told ? [] : [`${activity.id} is beyond the work days and not told so`]
    }
    const minutes = own.map(({ from, to }) => to - from)
    const people = own.map(({ helpers }) => helpers)
    const same =
      own[0]?.from === start &&
      JSON.stringify(minutes) === JSON.stringify(activity.phases.map((phase) => phase.minutes)) &&
      JSON.stringify(people) === JSON.stringify(schedule.people[activity.id]) &&
      own.every((entry) => entry.batch === batch)
    const end = start + minutes.reduce((sum, many) => sum + many, 0)
    const isLate = end > (activity.due ?? Infinity)
    const toldLate = late.find((one) => one.activity === activity.id)
    return [
      ...(same ? [] : [`${activity.id} is not as scheduled`]),
      ...(isLate === (toldLate !== undefined) && (!isLate || toldLate?.end === end)
        ? []
        : [`${activity.id}: lateness`]),
    ]
  })
}

/** Phases of an activity follow each other to the minute in the same machines, and steps that go on at once are in one activity. */
function chains({ batches, activities }: DayPlan, { entries }: Timetable): string[] {
  const gaps = activities.flatMap(({ activity }) => {
    const own = entries.filter((entry) => entry.activity === activity.id).sort((a, b) => a.phase - b.phase)
    return own.flatMap((entry, at) => {
      const before = own[at - 1]
      const numbers = (of: Entry | undefined, kind: EquipmentKind) =>
        (of?.machines ?? []).filter((one) => one.kind === kind).map(({ number }) => number)
      const moved = entry.machines.some(({ kind }) => {
        const [few, many] = [numbers(before, kind), numbers(entry, kind)].sort((x, y) => x.length - y.length)
        return few?.some((number) => !many?.includes(number))
      })
      return [
        ...(before && before.to !== entry.from ? [`${activity.id} has a gap at ${before.to}`] : []),
        ...(moved ? [`${activity.id} goes from one machine to another`] : []),
      ]
    })
  })
  const broken = batches.flatMap(({ batch, steps }) =>
    steps.flatMap(({ step }, at) => {
      if (!step.thenAtOnce) return []
      const parts = (of: number) =>
        [
          ...new Set(entries.filter((one) => one.batch === batch.id && one.step === of).map((one) => one.activity)),
        ].sort()
      const [here, next] = [parts(at), parts(at + 1)]
      return here.length === 0 || next.every((id) => here.includes(id)) ? [] : [`${batch.id}: step ${at} is parted`]
    }),
  )
  return [...gaps, ...broken]
}

/** Everyone is there for the whole of an entry; machines run while the kitchen is open unless they may at night. */
function hours({ kitchen }: DayPlan, { entries }: Timetable): string[] {
  return entries.flatMap((entry) => {
    const inside = (windows: readonly { from: number; to: number }[]) =>
      windows.some(({ from, to }) => from <= entry.from && entry.to <= to)
    const away = entry.helpers.filter((id) => !inside(kitchen.helpers.find((one) => one.id === id)?.hours ?? []))
    const open = kitchen.days.map(({ opens, closes }) => ({ from: opens, to: closes }))
    const closed = entry.machines.filter(
      ({ kind }) => !kitchen.machines.find((one) => one.kind === kind)?.aroundTheClock && !inside(open),
    )
    return [
      ...away.map((id) => `${id} is not there for ${entry.activity}`),
      ...closed.map(({ kind }) => `${kind} runs for ${entry.activity} while it is closed`),
    ]
  })
}

function onePlaceAtATime({ entries, helpers, machines }: Timetable): string[] {
  const overlaps = (what: string, of: readonly Entry[]) => {
    const sorted = [...of].filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from)
    return sorted.flatMap((entry, at) => {
      const before = sorted[at - 1]
      return before && before.to > entry.from ? [`${what} is in ${before.activity} and ${entry.activity}`] : []
    })
  }
  const numbers = machines.flatMap(({ kind, number, entries: own }) => overlaps(`${kind} ${number}`, own))
  const people = helpers.flatMap(({ helper, days }) => {
    const told = days.flatMap((day) => day.entries)
    const own = entries.filter((entry) => entry.helpers.includes(helper))
    const minutes = own.reduce((sum, { from, to }) => sum + to - from, 0)
    const worked = days.reduce((sum, day) => sum + day.workedMinutes, 0)
    const there = days.reduce((sum, day) => sum + total(day.hours), 0)
    const idle = days.reduce((sum, day) => sum + total(day.idle), 0)
    return [
      ...overlaps(helper, told),
      ...(told.length === own.length && minutes === worked ? [] : [`${helper}: minutes that are not told`]),
      ...(worked + idle === there ? [] : [`${helper}: ${worked} worked and ${idle} idle of ${there}`]),
    ]
  })
  return [...numbers, ...people]
}

/** Never more machines at one time for what is planned on a day than can be used on it. */
function machinesOfTheDay({ kitchen, activities }: DayPlan, { entries }: Timetable): string[] {
  const dayOf = new Map(activities.map(({ activity, day }) => [activity.id, day]))
  return kitchen.machines.flatMap(({ kind, countByDay }) =>
    countByDay.flatMap((count, day) => {
      const held = entries
        .filter((one) => dayOf.get(one.activity) === day)
        .flatMap(({ from, to, machines }) => machines.filter((one) => one.kind === kind).map(() => ({ from, to })))
      const most = Math.max(
        0,
        ...held.map(({ from }) => held.filter((one) => one.from <= from && from < one.to).length),
      )
      return most > count ? [`${most} of ${kind} on day ${day}, where ${count} can be used`] : []
    }),
  )
}

function total(windows: readonly { from: number; to: number }[]): number {
  return windows.reduce((sum, { from, to }) => sum + to - from, 0)
}

const hotKinds: EquipmentKind[] = ['canner', 'pressure-canner', 'steam-canner', 'burner', 'oven']

/** Boiling water, pressure and what is filled hot, by what a step says of itself and of the one before. */
function hotBy(steps: readonly { step: Step }[], at: number): boolean {
  const step = steps[at]?.step
  const before = steps[at - 1]?.step
  if (!step) return false
  if (step.station === 'stove' || step.equipment.some((kind) => hotKinds.includes(kind))) return true
  return step.station === 'fill' && before?.station === 'stove' && before.thenAtOnce
}

function ages({ kitchen, batches }: DayPlan, { entries }: Timetable): string[] {
  return entries.flatMap((entry) => {
    const bands = entry.helpers.map((id) => kitchen.helpers.find((one) => one.id === id)?.ageBand)
    const steps = batches.find(({ batch }) => batch.id === entry.batch)?.steps ?? []
    const step = entry.step === null ? undefined : steps[entry.step]?.step
    const knife = step?.work === 'cut'
    const hot = entry.part === 'heat-jars' || (entry.step !== null && hotBy(steps, entry.step))
    return [
      ...(bands.includes('child') && (knife || hot) ? [`a child in ${entry.activity}`] : []),
      ...(bands.includes('teen') && hot && !bands.includes('adult') ? [`a teen alone in ${entry.activity}`] : []),
    ]
  })
}

/** In each portion, and for the batch as a whole, no step is begun before the one before it is over and has rested. */
function order({ batches }: DayPlan, { batches: times, entries }: Timetable): string[] {
  return batches.flatMap(({ batch, steps, portions }) =>
    portions.flatMap((_, portion) => {
      const own = entries.filter((one) => one.batch === batch.id && (one.portion ?? portion) === portion)
      let end = Number.NEGATIVE_INFINITY
      return steps.flatMap(({ step, run }, at) => {
        const here = own.filter((one) => one.step === at)
        const faults: string[] = []
        const from = Math.min(...here.map((one) => one.from))
        const pots = run !== null && batch.pack.runs.length > 1
        if (here.length > 0 && from < end && !pots && !step.thenAtOnce && !steps[at - 1]?.step.thenAtOnce)
          faults.push(`${batch.id}/${portion}: step ${at} begins at ${from}, ready at ${end}`)
        const machine = here.filter((one) => one.part === 'machine' && one.to - one.from >= 360)
        if (here.length > 0) {
          const last = Math.max(...here.map((one) => one.to))
          end = machine.length > 0 ? last : last + step.waitMinutes
        } else end += step.waitMinutes
        if (own.length > 0 && times.every((one) => one.batch !== batch.id)) faults.push(`${batch.id} has no times`)
        return faults
      })
    }),
  )
}

/** Every load has the tested minutes in it, once, and nobody is bound to it meanwhile. */
function loads({ batches }: DayPlan, { entries }: Timetable): string[] {
  return batches.flatMap(({ batch, portions }) => {
    const { process } = batch
    if (process === null) return []
    const own = entries.filter((one) => one.batch === batch.id && one.part === 'process')
    const begun = new Set(
      entries.filter((one) => one.batch === batch.id && one.part === 'lift-out').map((e) => e.activity),
    )
    return [
      ...own.flatMap(({ from, to, helpers, activity }) =>
        to - from === process.minutes && helpers.length === 0 ? [] : [`${activity}: ${to - from} minutes of process`],
      ),
      ...(own.length === begun.size && own.length <= portions.length ? [] : [`${batch.id}: ${own.length} loads`]),
    ]
  })
}

function units({ batches }: DayPlan): string[] {
  return batches.flatMap(({ batch, portions }) => {
    const sum = portions.reduce((a, b) => a + b, 0)
    const runs = batch.pack.runs
    const fits = runs.length !== 1 || portions.every((many) => many >= 1 && many <= (runs[0]?.unitsPerRun ?? 0))
    return sum === batch.units && fits ? [] : [`${batch.id}: ${portions.join(' + ')} for ${batch.units} units`]
  })
}

/** Hands are those of the steps: never fewer, and rounding up is less than a minute for each pair of hands in a phase. */
function hands(plan: DayPlan): string[] {
  return plan.batches.flatMap(({ batch }) => {
    const planned = [...plannedHands(plan, batch).values()].reduce((a, b) => a + b, 0)
    const later = plan.afterwards.filter((one) => one.batch === batch.id)
    const steps = stepsOf(batch)
    const put = later.reduce((sum, { step, units: many }) => {
      const found = steps[step]
      if (!found) return sum
      const { perKg, perUnit, perRun } = found.step.minutes
      const starts = found.run === null ? 1 : (batch.runs[batch.pack.runs.indexOf(found.run)] ?? 0)
      const portionsOfIt = many > batch.units ? many / batch.units : 1
      return sum + portionsOfIt * ((perKg * batch.grams) / 1000 + perUnit * many + perRun * starts)
    }, 0)
    const wanted = handsOf(batch) - put
    const rounding = plan.activities
      .filter((one) => one.batch === batch.id)
      .flatMap(({ activity }) => activity.phases)
      .reduce((sum, { people = [] }) => sum + people.reduce((a, { count }) => a + count, 0), 0)
    return planned >= wanted - 1e-6 && planned < wanted + rounding + 1e-6
      ? []
      : [`${batch.id}: ${planned} minutes of hands for ${wanted}`]
  })
}

function cleanUp({ kitchen }: DayPlan, { entries }: Timetable): string[] {
  return kitchen.days.flatMap(({ closes, opens }, day) => {
    const own = entries.find(({ activity }) => activity === `clean-up@${day}`)
    if (!own) return []
    const work = entries.filter(
      (one) => one.helpers.length > 0 && one.from >= opens && one.from < closes && one !== own,
    )
    // What is late from another day may still come after it.
    const after = work.filter((one) => one.to > own.from && (one.batch?.endsWith(`@${day}`) ?? false))
    return after.map(({ activity }) => `${activity} is after the clean-up`)
  })
}
