import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import { loadsInOrder } from '../../../src/core/day/load-order.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import type { EquipmentKind } from '../../../src/core/produce/vocabulary.ts'
import { forUnits } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { daily, helper, kitchen, starterBatch } from './days.ts'
import { faultsOf } from './faults.ts'
import { randomDays } from './random-kitchen.ts'

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
