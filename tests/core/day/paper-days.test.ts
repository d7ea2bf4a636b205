import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { batch, daily, helper, kitchen, recipe, starterBatch, step } from './days.ts'
import { cannerLoad, canning, solved } from './on-paper.ts'

// Each day's best end is proved on paper beside it. Days begin at minute 480; cleaning up takes 20 minutes.

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
    expect(Math.max(...table.entries.map(({ to }) => to))).toBe(1080)
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
