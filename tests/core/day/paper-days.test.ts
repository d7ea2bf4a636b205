import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import type { Kitchen } from '../../../src/core/day/kitchen.ts'
import { type Timetable, timetableOf } from '../../../src/core/day/timetable.ts'
import { checkSchedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { batch, daily, helper, kitchen, recipe, starterBatch, step } from './days.ts'

// Each day's best end is proved on paper beside it. Days begin at minute 480; cleaning up takes 20 minutes.

function solved(at: Kitchen, batches: Batch[]) {
  const plan = planDays(at, batches)
  const schedule = solveSchedule(plan.problem, { maxSchedules: 400 })
  expect(checkSchedule(plan.problem, schedule)).toEqual([])
  return { plan, schedule, table: timetableOf(plan, schedule) }
}

function endOf({ entries }: Timetable): number {
  return Math.max(...entries.map(({ to }) => to))
}

const twelveMinutesOfCutting = step({ hands: 2, minutes: { perKg: 10 } })

describe('hands', () => {
  test('cutting is shared by as many as the step wants', () => {
    // 12 kg at 10 minutes are 120 minutes of hands; two at once are the most: 60 minutes, and 20 to clean up.
    const three = [helper('a'), helper('b'), helper('c')]
    const { schedule, table } = solved(kitchen({}, three), [batch(recipe([twelveMinutesOfCutting]), 12)])
    expect(schedule.makespan).toBe(480 + 60 + 20)
    const [first, second] = table.entries
    expect([first?.from, first?.to, second?.from, second?.to]).toEqual([480, 540, 480, 540])
    expect(first?.helpers).not.toEqual(second?.helpers)
  })

  test('with one place at the counter one cuts', () => {
    // 120 minutes by one, whoever it is.
    const at = { ...kitchen({}, [helper('a'), helper('b')]), counterPlaces: 1 }
    expect(solved(at, [batch(recipe([twelveMinutesOfCutting]), 12)]).schedule.makespan).toBe(480 + 120 + 20)
  })

  test('work goes on after the meal', () => {
    // 300 minutes of one pair of hands in pieces of 60: four before noon, the fifth from 12:30 to 13:30.
    const one = helper('a', {
      hours: [
        { from: 480, to: 720 },
        { from: 750, to: 1080 },
      ],
    })
    const { schedule, table } = solved(kitchen({}, [one]), [batch(recipe([step({ minutes: { perKg: 10 } })]), 30)])
    expect(schedule.makespan).toBe(750 + 60 + 20)
    expect(table.helpers[0]?.days[0]?.idle).toEqual([{ from: 830, to: 1080 }])
    expect(table.helpers[0]?.days[0]?.workedMinutes).toBe(320)
  })

  test('a child washes and an adult alone has the knife', () => {
    // 60 minutes of washing by both: 30. 60 of cutting by the adult only: 60. Cutting begins when all is washed.
    const two = [helper('adult'), helper('child', { ageBand: 'child' })]
    const { schedule, table } = solved(kitchen({}, two), [
      batch(
        recipe([
          step({ station: 'wash', work: 'wash', hands: 2, minutes: { perKg: 6 } }),
          step({ hands: 2, minutes: { perKg: 6 } }),
        ]),
        10,
      ),
    ])
    expect(schedule.makespan).toBe(480 + 30 + 60 + 20)
    const cutting = table.entries.filter(({ station }) => station === 'cut')
    expect(cutting.flatMap(({ helpers }) => helpers).every((name) => name === 'adult')).toBe(true)
  })

  test('twice as fast is half as long', () => {
    const { schedule } = solved(kitchen({}, [helper('a', { speed: 2 })]), [
      batch(recipe([step({ minutes: { perKg: 10 } })]), 10),
    ])
    expect(schedule.makespan).toBe(480 + 50 + 20)
  })
})

const canning = [
  step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perUnit: 2 }, thenAtOnce: true }),
  step({ station: 'fill', work: 'fill', minutes: { perUnit: 2 }, thenAtOnce: true }),
  step({ station: 'canner', work: 'stove', equipment: ['canner', 'burner'], minutes: { perRun: 8 } }),
]
const cannerLoad = {
  name: 'canner load',
  unitsPerRun: 5,
  fillAtLeast: 0.5,
  machineMinutes: { canner: 100, burner: 100 },
  work: { stove: 8 },
  process: false,
}

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

  test('a load is longer where its recipe leaves no time to settle', () => {
    // Guide 1 p. 1-18: 5 minutes. 100 less 8 of hands and 90 of process leave 2.
    const made = { ...loads(), process: { method: 'boiling-water' as const, minutes: 90 } }
    const { table } = solved(kitchen({ canner: 2, burner: 2 }, [helper('a'), helper('b')]), [made])
    const settling = table.entries.filter(({ part }) => part === 'settle')
    expect(settling.map(({ from, to }) => to - from)).toEqual([5, 5])
  })
})

test('several pots for one load are cooked and filled one after the other', () => {
  // Two pots of 3 for a load of 6: pot 30 with 30 of hands, filling 6, pot, filling 6, then the canner for 100.
  const made = recipe(
    [
      step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perRun: 30 }, thenAtOnce: true }),
      ...canning.slice(1),
    ],
    {
      runs: [
        { ...cannerLoad, name: 'pot', unitsPerRun: 3, machineMinutes: { burner: 30 }, work: { stove: 30 } },
        { ...cannerLoad, unitsPerRun: 6 },
      ],
    },
  )
  const { schedule, table } = solved(kitchen({ canner: 1, burner: 1 }, [helper('a')]), [batch(made, 6)])
  expect(schedule.makespan).toBe(480 + 30 + 6 + 30 + 6 + 100 + 20)
  // What was filled first waits in the canner.
  expect(table.machines.map(({ kind, busyMinutes }) => [kind, busyMinutes])).toEqual([
    ['canner', 136],
    ['burner', 160],
  ])
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

test('juice comes before the jelly of it', () => {
  // 30 minutes of pressing, then 40 of the other; two helpers gain nothing.
  const juice = recipe(
    [step({ station: 'wash', work: 'wash', minutes: { perUnit: 30 } })],
    { makes: { material: 'juice', name: 'juice', gramsPerUnit: 500, readyAfterDays: 0, keepsDays: 1 } },
    'juice',
  )
  const plain = recipe([step({ station: 'wash', work: 'wash', minutes: { perUnit: 40 } })], {}, 'jelly')
  const jelly = {
    ...plain,
    definition: {
      ...plain.definition,
      inputs: [{ from: { material: 'juice' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }],
    },
  }
  const two = [helper('a'), helper('b')]
  expect(solved(kitchen({}, two), [batch(jelly, 1), batch(juice, 1)]).schedule.makespan).toBe(480 + 70 + 20)
  expect(solved(kitchen({}, two), [batch(plain, 1), batch(juice, 1)]).schedule.makespan).toBe(480 + 40 + 20)
})

test('peels are used when they are cut off', () => {
  // 30 minutes of cutting for one, whose peels go into the other: 10 minutes after them. Without peels both are done in 30.
  const giving = (kind: 'peels-cores' | 'pomace') => {
    const made = recipe([step({ minutes: { perKg: 10 } }), step({ station: 'label', work: 'pack' })], {}, 'cut')
    const from = { crop: 'apple' }
    const inputs = [{ from, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [{ kind, share: 0.2 }] }]
    return batch({ ...made, definition: { ...made.definition, inputs } }, 3)
  }
  const plain = recipe([step({ station: 'wash', work: 'wash', minutes: { perKg: 10 } })], {}, 'vinegar')
  const inputs = [{ from: { material: 'peels-cores' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }]
  const vinegar = batch({ ...plain, definition: { ...plain.definition, inputs } }, 1)
  const two = kitchen({}, [helper('a'), helper('b')])
  expect(solved(two, [vinegar, giving('peels-cores')]).schedule.makespan).toBe(480 + 30 + 10 + 20)
  expect(solved(two, [vinegar, giving('pomace')]).schedule.makespan).toBe(480 + 30 + 20)
})

test('juice that drips overnight is bottled on the next day, before the jelly', () => {
  const hours = daily(2, [{ from: 480, to: 1080 }])
  const at = kitchen({ canner: 1, burner: 3 }, [helper('a', { hours }), helper('b', { hours })], { days: 2 })
  const batches = [starterBatch('apple-jelly', null, 10, 1), starterBatch('apple-juice-for-jelly', null, 4, 0)]
  const { table } = solved(at, batches)
  const bottled = table.batches.find(({ batch: id }) => id.startsWith('apple-juice'))
  const jelly = table.batches.find(({ batch: id }) => id.startsWith('apple-jelly'))
  expect(bottled?.steps.map(({ from }) => Math.floor(from / 1440))).toEqual([0, 0, 0, 1])
  expect(jelly?.from).toBeGreaterThanOrEqual(bottled?.to ?? Number.POSITIVE_INFINITY)
})

describe('waits', () => {
  const rests = (waitMinutes: number) =>
    batch(recipe([step({ minutes: { perKg: 10 }, waitMinutes }), step({ minutes: { perKg: 5 } })]), 2)

  test('a short one is waited for', () => {
    // 20 minutes, an hour of rest, 10 minutes.
    expect(solved(kitchen({}, [helper('a')]), [rests(60)]).schedule.makespan).toBe(480 + 20 + 60 + 10 + 20)
  })

  test('a night goes to the next day, in time for it', () => {
    const two = kitchen({}, [helper('a', { hours: daily(2, [{ from: 480, to: 1080 }]) })], { days: 2 })
    const { table } = solved(two, [rests(720)])
    const second = table.entries.filter(({ step: at }) => at === 1)
    // The kitchen closes at 18:00; twelve hours later it is 6:00, and it opens at 8:00.
    expect(second.map(({ from }) => from)).toEqual([1440 + 480])
    expect(table.late).toEqual([])
  })

  test('what no work day sees is noted with the minute from which it can be done', () => {
    const { table, plan } = solved(kitchen({}, [helper('a')]), [rests(720)])
    expect(table.afterwards).toEqual([{ batch: 'own:bag@0', step: 1, units: 2, fromMinute: 1080 + 720 }])
    expect(plan.activities.map(({ batch: of }) => of)).toEqual(['own:bag@0', null])
  })

  test('trays that may run at night are in by closing time and are not late', () => {
    // 15 minutes to load them, 9 hours of drying. The helper comes at 15:00: dry at 0:15, when it is long closed.
    const drying = recipe(
      [step({ station: 'oven', work: 'pack', equipment: ['dehydrator'], minutes: { perRun: 15 }, waitMinutes: 540 })],
      { runs: [{ ...cannerLoad, unitsPerRun: 3, machineMinutes: { dehydrator: 540 }, work: { pack: 15 } }] },
    )
    const late = helper('a', { hours: [{ from: 900, to: 1080 }] })
    const at = kitchen({ dehydrator: 1 }, [late])
    const { schedule, table } = solved(at, [batch(drying, 3)])
    expect([schedule.makespan, table.late]).toEqual([900 + 15 + 540, []])
    const closed = { ...at, machines: at.machines.map((one) => ({ ...one, aroundTheClock: false })) }
    expect(solved(closed, [batch(drying, 3)]).table.late.map(({ fits }) => fits)).toEqual([false])
  })
})

describe('cleaning up', () => {
  const cleaners = (second: { from: number; to: number }[]) => {
    const { table } = solved(kitchen({}, [helper('a'), helper('b', { hours: second })]), [
      batch(recipe([step({ minutes: { perKg: 10 } })]), 6),
    ])
    return table.entries.find(({ part }) => part === 'clean-up')?.helpers.length
  }

  test('takes two who are there at the end', () => expect(cleaners([{ from: 900, to: 1050 }])).toBe(2))
  test('takes one where the other leaves early', () => expect(cleaners([{ from: 480, to: 540 }])).toBe(1))
})

describe('what does not fit', () => {
  test('is late, and told to be beyond the work days', () => {
    // 720 minutes for one who is there for 600: twelve pieces of an hour, of which two have no room, nor has cleaning up.
    const { table } = solved(kitchen({}, [helper('a')]), [batch(recipe([step({ minutes: { perKg: 10 } })]), 72)])
    expect(table.late.map(({ fits }) => fits)).toEqual([false, false, false])
    expect(endOf(table)).toBe(1080)
    expect(table.helpers[0]?.days[0]?.workedMinutes).toBe(600)
  })

  test('is left out load by load', () => {
    // Three loads of 120 minutes one after the other in one canner: 20 to the first, then 100 each. The helper is there
    // for 300 minutes: two are out after 240 (one adult cannot fill while lifting out), the third would be after 360.
    const short = helper('a', { hours: [{ from: 480, to: 780 }] })
    const made = batch(recipe(canning, { runs: [cannerLoad] }), 15)
    const { table } = solved(kitchen({ canner: 1, burner: 2 }, [short]), [made])
    expect(table.short).toEqual([{ batch: 'own:bag@0', units: 15, finished: 10 }])
  })

  test('a machine that is out on the day', () => {
    const drying = recipe([step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perKg: 1 } })])
    const at = kitchen({ burner: 2 }, [helper('a', { hours: daily(2, [{ from: 480, to: 1080 }]) })], { days: 2 })
    const out = { ...at, machines: at.machines.map((one) => ({ ...one, countByDay: [0, 2] })) }
    expect(planDays(out, [batch(drying, 3)]).impossible).toEqual([{ batch: 'own:bag@0', step: 0, lacks: 'machine' }])
    expect(planDays(out, [batch(drying, 3, { day: 1 })]).impossible).toEqual([])
  })

  test('only one of two burners on one day is one after the other', () => {
    // Two batches of 40 minutes at the stove for two adults: 40 with two burners, 80 with one.
    const cooking = (id: string) =>
      batch(
        recipe([step({ station: 'stove', work: 'stove', equipment: ['burner'], minutes: { perKg: 10 } })], {}, id),
        4,
      )
    const hours = daily(2, [{ from: 480, to: 1080 }])
    const at = kitchen({ burner: 2 }, [helper('a', { hours }), helper('b', { hours })], { days: 2 })
    const fewer = { ...at, machines: at.machines.map((one) => ({ ...one, countByDay: [1, 2] })) }
    expect(solved(at, [cooking('x'), cooking('y')]).schedule.makespan).toBe(480 + 40 + 20)
    expect(solved(fewer, [cooking('x'), cooking('y')]).schedule.makespan).toBe(480 + 80 + 20)
  })

  test('a day that the kitchen does not have is refused', () => {
    expect(() => planDays(kitchen({}, [helper('a')]), [batch(recipe([]), 1, { day: 4 })])).toThrow('no work day 4')
  })
})
