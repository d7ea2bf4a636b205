import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { burnerParts, burnersOf } from '../../../src/core/day/burners.ts'
import { type Kitchen, kitchenOf } from '../../../src/core/day/kitchen.ts'
import { askDivision, type EquipmentOnHand } from '../../../src/core/division/index.ts'
import type { EquipmentKind } from '../../../src/core/produce/vocabulary.ts'
import { ovenMorning } from '../agreement/kitchens.ts'
import { smallQuestion } from '../division/kitchen.ts'
import { batch, helper, kitchen, recipe, step } from './days.ts'
import { cannerLoad, canning, solved } from './on-paper.ts'

function row(kind: EquipmentKind, count: number, burners?: number): EquipmentOnHand {
  const told = burners === undefined ? {} : { burners }
  return { id: `${kind} ${count}`, kind, name: '', count, roomMl: null, aroundTheClock: false, outOn: [], ...told }
}

describe('what canners cover', () => {
  const each = (rows: EquipmentOnHand[], kinds: EquipmentKind[]) => burnersOf(burnerParts(rows), kinds)

  test('is one burner each where nothing is said, and for a pot', () => {
    expect(burnerParts([row('canner', 2), row('burner', 4)])).toEqual({
      parts: 1,
      covered: { canner: 1, 'pressure-canner': 1, 'steam-canner': 1 },
    })
    expect(each([row('canner', 2, 3)], ['burner'])).toBe(1)
  })

  test.each<[EquipmentOnHand[], number]>([
    [[row('canner', 2, 3)], 1.5],
    [[row('canner', 1, 2)], 2],
    [[row('canner', 3, 4)], 4 / 3],
    [[row('canner', 2, 0)], 0],
    // The widest of a kind counts for all; a row of none says nothing.
    [[row('canner', 2, 3), row('canner', 1, 2)], 2],
    [[row('canner', 2, 3), row('canner', 1)], 1.5],
    [[row('canner', 2, 3), row('canner', 0, 9)], 1.5],
  ])('%j', (rows, burners) => {
    expect(each(rows, ['canner', 'burner'])).toBe(burners)
  })

  test('is counted in parts that make all shares whole', () => {
    const rows = [row('canner', 2, 3), row('steam-canner', 3, 4), row('pressure-canner', 1, 2)]
    expect(burnerParts(rows)).toEqual({ parts: 6, covered: { canner: 9, 'steam-canner': 8, 'pressure-canner': 12 } })
  })
})

/** The kitchen with machines as a question's equipment has them. */
function withEquipment(at: Kitchen, rows: EquipmentOnHand[]): Kitchen {
  return { ...at, machines: kitchenOf(smallQuestion({ equipment: rows })).machines }
}

// Cooking 10, filling 10, then the canner for 100; days begin at 480, cleaning up takes 20.
describe('two canners that cover three burners together', () => {
  const adults = [helper('a'), helper('b'), helper('c')]
  const stew = (minutes: number) =>
    batch(
      recipe(
        [step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perUnit: minutes } })],
        {},
        's',
      ),
      1,
    )
  const loads = batch(recipe(canning, { runs: [cannerLoad] }), 10)
  const makespan = (rows: EquipmentOnHand[], batches = [loads, stew(60)]) =>
    solved(withEquipment(kitchen({}, adults), rows), batches).schedule.makespan - 480

  test('leave no burner of three for a pot', () => {
    // The stew takes an hour on a burner that is not there while both loads are in. A load that it is not beside is out
    // at 120 at the soonest with the stew after it, or goes in at 60 when it is done; loads one after the other take
    // more. Cooked for beside the stew from 40 on, both are in at 60 and out at 160.
    expect(makespan([row('canner', 2, 3), row('burner', 3)])).toBe(160 + 20)
    // With four burners, or each canner on one of its own, all is done with the loads.
    expect(makespan([row('canner', 2, 3), row('burner', 4)])).toBe(120 + 20)
    expect(makespan([row('canner', 2), row('burner', 3)])).toBe(120 + 20)
  })

  test('one of them alone covers two', () => {
    // On two burners: the load is in when the stew is done, and there is no room to cook beside a load.
    const one = batch(recipe(canning, { runs: [cannerLoad] }), 5)
    expect(makespan([row('canner', 2, 3), row('burner', 2)], [one, stew(60)])).toBe(60 + 100 + 20)
    expect(makespan([row('canner', 2, 3), row('burner', 2)], [loads])).toBe(120 + 120 + 20)
    expect(makespan([row('canner', 2, 3), row('burner', 3)], [loads])).toBe(20 + 100 + 20)
  })

  test('have their burners by number, one of them together', () => {
    const rows = [row('canner', 2, 3), row('burner', 3)]
    const { table } = solved(withEquipment(kitchen({}, adults), rows), [loads])
    const processing = table.entries.filter(({ station, part }) => station === 'canner' && part === 'machine')
    expect(processing.map(({ machines }) => machines.map(({ kind, number }) => `${kind} ${number}`).sort())).toEqual([
      ['burner 1', 'burner 2', 'canner 1'],
      ['burner 2', 'burner 3', 'canner 2'],
    ])
    const second = table.machines.find(({ kind, number }) => kind === 'burner' && number === 2)
    // Ten minutes of a pot, ten in which it is free, a hundred of both canners at once.
    expect(second?.busyMinutes).toBe(110)
  })

  test('need as many as one of them covers, on the day', () => {
    const at = withEquipment(kitchen({}, adults), [row('canner', 1, 3), row('burner', 2)])
    expect(planDays(at, [loads]).impossible).toEqual([{ batch: loads.id, step: 2, lacks: 'machine' }])
    const heated = withEquipment(kitchen({}, adults), [row('canner', 1, 0), row('burner', 1)])
    expect(planDays(heated, [loads]).impossible).toEqual([])
  })
})

test('a division counts the same burners', () => {
  const canned = { ...recipe(canning, { runs: [cannerLoad] }, 'rings') }
  const minutes = (rows: EquipmentOnHand[]) =>
    askDivision(ovenMorning({ recipes: [canned], equipment: rows })).products[0]?.runs[0]?.machineMinutes
  expect(minutes([row('canner', 2), row('burner', 4)])).toEqual({ canner: 100, burner: 100 })
  expect(minutes([row('canner', 2, 3), row('burner', 4)])).toEqual({ canner: 100, burner: 150 })
  expect(minutes([row('canner', 2, 0)])).toEqual({ canner: 100, burner: 0 })
})
