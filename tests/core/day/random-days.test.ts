import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import type { Helper, Kitchen } from '../../../src/core/day/kitchen.ts'
import { loadsInOrder } from '../../../src/core/day/load-order.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { cutOut } from '../../../src/core/day/windows.ts'
import { ageBands, type EquipmentKind } from '../../../src/core/produce/vocabulary.ts'
import { forUnits } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { diceFrom } from '../scheduling/random-problems.ts'
import { daily, everything, helper, kitchen, starterBatch } from './days.ts'
import { faultsOf } from './faults.ts'

/** A kitchen of one to three days with two to five helpers, one of them an adult who can do everything, and 1 to 5 batches. */
function randomDays(seed: number): { at: Kitchen; batches: Batch[] } {
  const dice = diceFrom(seed)
  const days = dice.whole(1, 3)
  const helpers: Helper[] = Array.from({ length: dice.whole(2, 5) }, (_, number) => {
    const from = number === 0 ? 480 : dice.whole(16, 26) * 30
    const to = number === 0 ? 1080 : Math.min(1080, from + dice.whole(4, 16) * 30)
    const meal = dice.whole(22, 27) * 30
    return helper(`helper-${number}`, {
      ageBand: number === 0 ? 'adult' : dice.oneOf(ageBands),
      skills: number === 0 ? everything : everything.filter(() => dice.yes(0.7)),
      hours: daily(days, cutOut([{ from, to }], [{ from: meal, to: meal + 30 }])),
    })
  })
  const at = kitchen(
    {
      canner: dice.whole(1, 2),
      'pressure-canner': dice.whole(1, 2),
      burner: dice.whole(2, 4),
      dehydrator: dice.whole(1, 3),
      oven: 1,
      press: 1,
    },
    helpers,
    { days, clock: dice.yes(0.7) ? ['dehydrator'] : [] },
  )
  const batches = new Map<string, Batch>()
  for (let many = dice.whole(1, 5); many > 0; many--) {
    const starter = dice.oneOf(starters)
    const pack = dice.oneOf(starter.definition.packs).key
    try {
      const made = starterBatch(starter.key, pack, dice.whole(1, 20), dice.whole(0, days - 1))
      batches.set(made.id, made)
    } catch (error) {
      // A pack without a tested process is no pack of a settled recipe.
      if (!(error instanceof Error && error.message.startsWith('no pack'))) throw error
    }
  }
  const machines = at.machines.map((one) => ({
    ...one,
    countByDay: one.countByDay.map((count) => (count > 1 && dice.yes(0.2) ? count - 1 : count)),
  }))
  const counterPlaces = dice.yes(0.3) ? dice.whole(2, 6) : null
  return { at: { ...at, machines, counterPlaces }, batches: [...batches.values()] }
}

const counted: readonly EquipmentKind[] = ['pressure-canner', 'dehydrator', 'oven', 'press']

/** Minutes of machines in a plan, of the kinds that nothing but a run or a unit keeps busy. */
function machineMinutes({ activities }: DayPlan): [EquipmentKind, number][] {
  const phases = activities.flatMap(({ activity }) => activity.phases)
  return counted.map((kind) => [
    kind,
    phases.reduce((sum, { minutes, resources = {} }) => sum + (resources[kind] ?? 0) * minutes, 0),
  ])
}

/** The same as a division counts them. */
function countedBy({ recipe, pack, units }: Batch): [EquipmentKind, number][] {
  const figures = forUnits(recipe.definition, pack, units).machineMinutes
  return counted.map((kind) => [kind, figures[kind] ?? 0])
}

/** Activities of portions that hold the same number of units and pots, where a later number is begun earlier. */
function outOfOrder({ activities }: DayPlan, { start }: Schedule): string[] {
  return activities.flatMap(({ activity, batch, portion, inRow }) => {
    if (portion === null || inRow) return []
    const later = activities.filter(
      (other) =>
        other.batch === batch &&
        (other.portion ?? -1) > portion &&
        other.activity.id.split('/').slice(2).join() === activity.id.split('/').slice(2).join() &&
        JSON.stringify(other.activity.phases) === JSON.stringify(activity.phases) &&
        (start[other.activity.id] ?? 0) < (start[activity.id] ?? 0),
    )
    return later.map((other) => `${other.activity.id} is before ${activity.id}`)
  })
}

describe('kitchens by chance', () => {
  test.each(Array.from({ length: 120 }, (_, seed) => seed + 1))('kitchen %i', (seed) => {
    const { at, batches } = randomDays(seed)
    const plan = planDays(at, batches)
    const schedule = solveSchedule(plan.problem, { seed, maxSchedules: 30 })
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
    expect(faultsOf(plan, schedule, timetableOf(plan, schedule))).toEqual([])
    const ordered = loadsInOrder(plan, schedule)
    expect(checkSchedule(plan.problem, ordered)).toEqual([])
    expect(faultsOf(plan, ordered, timetableOf(plan, ordered))).toEqual([])
    expect(outOfOrder(plan, ordered)).toEqual([])
    // The first helper can do everything, and there is one of each machine.
    expect(plan.impossible).toEqual([])
    expect(plan.batches.map(({ batch }) => batch.id).sort()).toEqual(batches.map(({ id }) => id).sort())
  })

  test('every starter can be made in a kitchen that has everything', () => {
    const hours = daily(3, [{ from: 480, to: 1080 }])
    const machines = { canner: 2, 'pressure-canner': 1, burner: 4, dehydrator: 2, oven: 2, press: 1 }
    const at = kitchen(machines, [helper('a', { hours }), helper('b', { hours })], { days: 3 })
    for (const { key, definition } of starters) {
      for (const { key: pack } of definition.packs) {
        const made = starterBatch(key, pack, 5)
        const plan = planDays(at, [made])
        const schedule = solveSchedule(plan.problem, { maxSchedules: 20 })
        const table = timetableOf(plan, schedule)
        expect([key, checkSchedule(plan.problem, schedule), faultsOf(plan, schedule, table)]).toEqual([key, [], []])
        expect([key, plan.impossible, table.late]).toEqual([key, [], []])
        expect([key, machineMinutes(plan)]).toEqual([key, countedBy(made)])
      }
    }
  })
})
