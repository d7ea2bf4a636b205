import { describe, expect, test } from 'vitest'
import { batch, helper, kitchen, recipe, starterBatch, step } from './days.ts'
import { cannerLoad, canning, solved } from './on-paper.ts'

// Each day's best end is proved on paper beside it. Days begin at minute 480; cleaning up takes 20 minutes.

describe('canner loads', () => {
  const loads = () => batch(recipe(canning, { runs: [cannerLoad] }), 10)

  // Cooking 10, filling 10, then the canner for 100 with somebody for its first and last 4 minutes.

  test('two adults keep one canner going', () => {
    // The first load is in at 500 and out at 600; the second has been cooked and filled by then: out at 700.
    const { schedule } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a'), helper('b')]), [loads()])
    expect(schedule.makespan).toBe(500 + 100 + 100 + 20)
  })

  test('one adult alone cannot fill while lifting out', () => {
    // Filling may not be parted from cooking and canning. It would have to be from 590 to 600, when the first load is
    // taken out (596 to 600), so that the second is begun at 600: out at 720.
    const { schedule } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a')]), [loads()])
    expect(schedule.makespan).toBe(600 + 20 + 100 + 20)
  })

  test('two canners and two adults are done with both at once', () => {
    // Both are out 120 minutes after the beginning.
    const { schedule, table } = solved(kitchen({ canner: 2, burner: 2 }, [helper('a'), helper('b')]), [loads()])
    expect(schedule.makespan).toBe(480 + 120 + 20)
    expect(table.machines.filter(({ kind }) => kind === 'canner').map(({ busyMinutes }) => busyMinutes)).toEqual([
      100, 100,
    ])
  })

  test('nobody stands at it while it is at work', () => {
    // While the first of two loads is in, the adult cuts 80 minutes for another batch: nothing is added to 740. The two
    // loads have 92 minutes each in which nobody is needed; the cutting is two pieces of 40.
    const { schedule } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a')]), [
      loads(),
      batch(recipe([step({ minutes: { perKg: 10 } })], {}, 'other'), 8),
    ])
    expect(schedule.makespan).toBe(740)
  })

  test('the minutes at this altitude are told apart from coming up and settling', () => {
    // 100 minutes, 60 of them the process: 4 at the beginning and the end, 21 more to come up (25 in all), 11 to settle.
    const made = { ...loads(), process: { method: 'boiling-water' as const, minutes: 60 } }
    const { table } = solved(kitchen({ canner: 2, burner: 2 }, [helper('a'), helper('b')]), [made])
    const first = table.entries.filter(({ step: at, portion }) => at === 2 && portion === 0)
    expect(first.map(({ part, from, to }) => [part, to - from])).toEqual([
      ['hands', 4],
      ['come-up', 21],
      ['process', 60],
      ['settle', 11],
      ['lift-out', 4],
    ])
    expect(first.map(({ helpers }) => helpers.length)).toEqual([1, 0, 0, 0, 1])
  })

  test('a load is longer where its recipe leaves no time to come up and settle', () => {
    // Guide 1 p. 1-17 and 1-18: 20 minutes at least until it boils, the 4 of hands among them, and 5 after it.
    const made = { ...loads(), process: { method: 'boiling-water' as const, minutes: 90 } }
    const { table } = solved(kitchen({ canner: 2, burner: 2 }, [helper('a'), helper('b')]), [made])
    const first = table.entries.filter(({ step: at, portion }) => at === 2 && portion === 0)
    expect(first.map(({ from, to }) => to - from)).toEqual([4, 16, 90, 5, 4])
  })

  test('a pressure canner comes up and cools for as long as is published', () => {
    // Guide 1 p. 1-17 to 1-22: 13.5 minutes of heating, 10 of venting, 4 to the pressure, rounded up to 28; opened 20 to 60
    // after the end of its time. A starter's load is 65 beside the process, 20 of them hands, half of them at each end.
    const at = kitchen({ 'pressure-canner': 1, burner: 2 }, [helper('a'), helper('b')])
    const beans = starterBatch('snap-beans', 'pint', 9)
    const { table } = solved(at, [beans])
    const load = table.entries.filter(({ machines }) => machines.some(({ kind }) => kind === 'pressure-canner'))
    // Pints 20 minutes in a dial-gauge canner: Guide 4 p. 4-8/4-9.
    expect(load.map(({ part, from, to }) => [part, to - from])).toEqual([
      ['hands', 10],
      ['come-up', 18],
      ['process', 20],
      ['settle', 27],
      ['lift-out', 10],
    ])
  })
})

describe('several pots for one load', () => {
  // Two pots of 3 for a load of 6, each 30 minutes with 30 of hands; filling 12 by one; the canner for 100.
  const pot = step({
    station: 'stove',
    work: 'stove',
    equipment: ['burner'],
    minutes: { perRun: 30 },
    thenAtOnce: true,
  })
  const made = recipe([pot, ...canning.slice(1)], {
    runs: [
      { ...cannerLoad, name: 'pot', unitsPerRun: 3, machineMinutes: { burner: 30 }, work: { stove: 30 } },
      { ...cannerLoad, unitsPerRun: 6 },
    ],
  })
  const busy = ({ machines }: ReturnType<typeof solved>['table']) =>
    machines.map(({ kind, busyMinutes }) => [kind, busyMinutes])

  test('are cooked side by side by two', () => {
    const { schedule, table } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a'), helper('b')]), [batch(made, 6)])
    expect(schedule.makespan).toBe(480 + 30 + 12 + 100 + 20)
    const [canner, ...burners] = busy(table)
    expect(canner).toEqual(['canner', 100])
    expect(burners.map(([, minutes]) => Number(minutes)).reduce((a, b) => a + b, 0)).toBe(30 + 30 + 100)
  })

  test('are watched by one for as long as both of them take', () => {
    const { schedule } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a')]), [batch(made, 6)])
    expect(schedule.makespan).toBe(480 + 60 + 12 + 100 + 20)
  })

  test('are cooked one after the other on one burner, by one', () => {
    const { schedule, table } = solved(kitchen({ canner: 1, burner: 1 }, [helper('a'), helper('b')]), [batch(made, 6)])
    expect(schedule.makespan).toBe(480 + 60 + 12 + 100 + 20)
    expect(busy(table)).toEqual([
      ['canner', 100],
      ['burner', 160],
    ])
  })
})

test('one pot for two loads is cooked for the first', () => {
  // A pot of 10 for loads of 5, two adults: pot 30 and filling 10, the canner from 520 to 620; the second is filled by
  // then and is out at 720. The pot's 30 minutes of hands are planned once.
  const pot = step({
    station: 'stove',
    work: 'stove',
    equipment: ['burner'],
    minutes: { perRun: 30 },
    thenAtOnce: true,
  })
  const made = recipe([pot, ...canning.slice(1)], {
    runs: [
      { ...cannerLoad, name: 'pot', unitsPerRun: 10, machineMinutes: { burner: 30 }, work: { stove: 30 } },
      cannerLoad,
    ],
  })
  const at = kitchen({ canner: 1, burner: 2 }, [helper('a'), helper('b')])
  const { schedule, table } = solved(at, [batch(made, 10)])
  expect(schedule.makespan).toBe(480 + 30 + 10 + 100 + 100 + 20)
  const cooking = table.entries.filter(({ step: of }) => of === 0)
  expect(cooking.map(({ from, to, portion }) => [to - from, portion])).toEqual([[30, 0]])
})

test('jars are washed and hot before the first is filled', () => {
  // 20 jars: 5 minutes to wash, 2 to set in, 15 to heat: filling not before 502, although cooking takes 10 only; so the
  // chain begins at 502 and is out at 502 + 20 + 100.
  const made = recipe(canning, { jar: 'pint', runs: [{ ...cannerLoad, unitsPerRun: 20 }] })
  const shorter = { ...made, definition: { ...made.definition, steps: canning.map(halfAMinuteEach) } }
  const { schedule } = solved(kitchen({ canner: 1, burner: 2 }, [helper('a')]), [batch(shorter, 20)])
  expect(schedule.makespan).toBe(502 + 20 + 100 + 20)
})

function halfAMinuteEach(one: ReturnType<typeof step>) {
  return { ...one, minutes: { ...one.minutes, perUnit: one.minutes.perUnit / 4 } }
}

test('no jars are heated for a crock', () => {
  // Sauerkraut goes into a crock today and into jars in four weeks, when no work day is left.
  const at = kitchen({ canner: 1, burner: 2 }, [helper('a')])
  const { plan } = solved(at, [starterBatch('sauerkraut-in-jars', 'quart', 5)])
  expect(plan.activities.filter(({ phases }) => phases.some(({ part }) => part === 'wash-jars'))).toEqual([])
  expect(plan.afterwards.map(({ step: of }) => of)).toEqual([4, 5, 6, 7, 8])
})
