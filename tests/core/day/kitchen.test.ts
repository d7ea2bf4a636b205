import { describe, expect, test } from 'vitest'
import { activitiesOf } from '../../../src/core/day/activities.ts'
import { batchesOf, stepsOf } from '../../../src/core/day/batch.ts'
import { clockOf, kitchenOf } from '../../../src/core/day/kitchen.ts'
import { loadsInOrder } from '../../../src/core/day/load-order.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { cutOut, lengthOf, merged } from '../../../src/core/day/windows.ts'
import type { Question } from '../../../src/core/division/index.ts'
import { checkSchedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { damsonJam, smallQuestion } from '../division/kitchen.ts'
import { batch, plannedHands, recipe, step } from './days.ts'

const weekend = [
  { id: 'saturday', date: '2026-10-24', opensMinute: 480, closesMinute: 1080 },
  // Clocks go back on this night in Europe: the axis does not.
  { id: 'monday', date: '2026-10-26', opensMinute: 540, closesMinute: 960 },
]

function helperAt(id: string, hours: Question['helpers'][number]['hours']): Question['helpers'][number] {
  return { id, name: id, ageBand: 'adult', skills: ['cut'], hours }
}

describe('a kitchen from a question', () => {
  test('minute 0 is midnight of the first work day, and every day has 1,440', () => {
    const { days } = kitchenOf(smallQuestion({ days: weekend }))
    expect(days.map(({ midnight, opens, closes }) => [midnight, opens, closes])).toEqual([
      [0, 480, 1080],
      [2880, 3420, 3840],
    ])
  })

  test.each([
    [0, '2026-10-24', 0],
    [1439, '2026-10-24', 1439],
    [1440, '2026-10-25', 0],
    [3420, '2026-10-26', 540],
  ])('minute %i is on %s at %i', (minute, date, minuteOfDay) => {
    expect(clockOf(kitchenOf(smallQuestion({ days: weekend })), minute)).toEqual({ date, minuteOfDay })
    expect(clockOf({ days: [] }, minute)).toBeNull()
  })

  test('hours are those within the opening hours, breaks cut out', () => {
    const helpers = [
      helperAt('early', [
        { dayId: 'saturday', fromMinute: 420, toMinute: 780 },
        { dayId: 'monday', fromMinute: 900, toMinute: 1200 },
      ]),
      helperAt('late', [{ dayId: 'saturday', fromMinute: 700, toMinute: 1100 }]),
    ]
    const made = kitchenOf(smallQuestion({ days: weekend, helpers }), {
      breaks: [
        { fromMinute: 720, toMinute: 750 },
        { fromMinute: 600, toMinute: 615, helperId: 'early', dayId: 'saturday' },
      ],
    })
    expect(made.helpers.map(({ hours }) => hours)).toEqual([
      [
        { from: 480, to: 600 },
        { from: 615, to: 720 },
        { from: 750, to: 780 },
        { from: 2880 + 900, to: 2880 + 960 },
      ],
      [
        { from: 700, to: 720 },
        { from: 750, to: 1080 },
      ],
    ])
  })

  test('a child keeps only what children do, and who may do nothing is left out', () => {
    const child = { ...helperAt('child', []), ageBand: 'child' as const }
    const { helpers } = kitchenOf(smallQuestion({ helpers: [{ ...child, skills: ['stove', 'cut', 'wash'] }, child] }))
    expect(helpers.map(({ skills }) => skills)).toEqual([['wash']])
  })

  test('machines are counted by kind and day, freezers are room', () => {
    const machine = { name: '', roomMl: null, aroundTheClock: true, outOn: [] as string[] }
    const { machines } = kitchenOf(
      smallQuestion({
        days: weekend,
        equipment: [
          { ...machine, id: 'a', kind: 'dehydrator', count: 2 },
          { ...machine, id: 'b', kind: 'dehydrator', count: 1, outOn: ['monday'] },
          { ...machine, id: 'c', kind: 'canner', count: 1 },
          { ...machine, id: 'd', kind: 'canner', count: 1, aroundTheClock: false },
          { ...machine, id: 'e', kind: 'freezer', count: 1 },
        ],
      }),
    )
    expect(machines).toEqual([
      { kind: 'dehydrator', countByDay: [3, 2], aroundTheClock: true },
      { kind: 'canner', countByDay: [2, 2], aroundTheClock: false },
    ])
  })

  test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('a speed of %d is refused', (speed) => {
    expect(() => kitchenOf(smallQuestion(), { speeds: { mara: speed } })).toThrow(RangeError)
  })

  test.each([0, 1.5])('%d places at the counter are refused', (counterPlaces) => {
    expect(() => kitchenOf(smallQuestion(), { counterPlaces })).toThrow(RangeError)
  })
})

describe('batches', () => {
  const products = [
    {
      productId: 'jam:half-pint',
      units: 24,
      rawGrams: 4800,
      trimGrams: 480,
      passedOnGrams: 0,
      netGrams: 4320,
      byDay: [{ day: 0, units: 24, rawGrams: 4800, runs: [3, 2] }],
    },
    { productId: 'jam:pint', units: 0, rawGrams: 0, trimGrams: 0, passedOnGrams: 0, netGrams: 0, byDay: [] },
  ]

  test('are what a division makes of each pack on each day', () => {
    const batches = batchesOf(smallQuestion(), { products })
    expect(batches.map(({ id, day, units, grams, runs }) => ({ id, day, units, grams, runs }))).toEqual([
      { id: 'jam:half-pint@0', day: 0, units: 24, grams: 4800, runs: [3, 2] },
    ])
  })

  test('of a recipe without steps get them from its minutes of hands', () => {
    const pack = damsonJam.definition.packs[0]
    if (!pack) throw new Error('no pack')
    const steps = stepsOf({ recipe: damsonJam, pack })
    expect(steps.map(({ step: { work, station, thenAtOnce }, run }) => [work, station, thenAtOnce, run?.name])).toEqual(
      [
        ['wash', 'wash', false, undefined],
        ['stove', 'stove', true, 'pot'],
        ['fill', 'fill', true, undefined],
        ['stove', 'canner', false, 'canner load'],
        ['pack', 'label', false, undefined],
      ],
    )
  })

  test('go through a whole kitchen: jars made are the division’s, and so are the minutes of hands', () => {
    const question = smallQuestion()
    const batches = batchesOf(question, { products })
    const plan = activitiesOf(question, batches)
    const [made] = batches
    if (!made) throw new Error('no batch')
    expect(plan.batches.map(({ portions }) => portions)).toEqual([[12, 12]])
    // 4.8 kg: wash 1, pick over (pack) 5 a kilogram; three pots at 35, two loads at 8; 24 jars at 2 to fill.
    expect([...plannedHands(plan, made).values()]).toEqual([6, 3 * 35, 48, 16, 24])
    const schedule = loadsInOrder(plan, solveSchedule(plan.problem, { maxSchedules: 200 }))
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
    const table = timetableOf(plan, schedule)
    expect(table.late).toEqual([])
    expect(table.machines.map(({ kind, number }) => [kind, number])).toEqual([
      ['canner', 1],
      ['burner', 1],
      ['burner', 2],
    ])
  })
})

describe('steps and their machines', () => {
  const run = { fillAtLeast: 0.5, process: false, work: { pack: 4 } }

  test('a run that no step names gets a step before labelling', () => {
    const trays = { ...run, name: 'trays', unitsPerRun: 2, machineMinutes: { dehydrator: 90 } }
    const made = recipe([step({}), step({ station: 'label', work: 'pack' })], { runs: [trays] })
    const steps = stepsOf(batch(made, 4))
    expect(steps.map(({ number, step: { station } }) => [number, station])).toEqual([
      [0, 'cut'],
      [null, 'oven'],
      [1, 'label'],
    ])
    expect(steps[1]?.step.minutes.perRun).toBe(4)
  })

  test('a press that no step names stands after washing and cutting', () => {
    const made = recipe([step({ station: 'wash', work: 'wash' }), step({}), step({ station: 'fill', work: 'fill' })], {
      machineMinutesPerUnit: { press: 5 },
    })
    expect(stepsOf(batch(made, 1)).map(({ step: { station } }) => station)).toEqual(['wash', 'cut', 'press', 'fill'])
  })

  test('a press works for its minutes a unit and needs nobody', () => {
    const made = recipe([step({ station: 'press', work: null, equipment: ['press'] })], {
      machineMinutesPerUnit: { press: 5 },
    })
    const question = smallQuestion({
      equipment: [{ id: 'p', kind: 'press', name: 'press', count: 1, roomMl: null, aroundTheClock: false, outOn: [] }],
    })
    const { problem } = activitiesOf(question, [batch(made, 7)])
    expect(problem.activities.map(({ phases }) => phases)).toEqual([[{ minutes: 35, resources: { press: 1 } }]])
  })
})

describe('windows', () => {
  test('touching and overlapping ones are one, empty ones are none', () => {
    const windows = [
      { from: 5, to: 9 },
      { from: 0, to: 3 },
      { from: 3, to: 4 },
      { from: 7, to: 12 },
      { from: 20, to: 20 },
    ]
    expect(merged(windows)).toEqual([
      { from: 0, to: 4 },
      { from: 5, to: 12 },
    ])
    expect(lengthOf(merged(windows))).toBe(11)
  })

  test('holes are cut out, at the edges and across', () => {
    const holes = [
      { from: 0, to: 2 },
      { from: 4, to: 5 },
      { from: 9, to: 30 },
    ]
    expect(cutOut([{ from: 1, to: 10 }], holes)).toEqual([
      { from: 2, to: 4 },
      { from: 5, to: 9 },
    ])
  })

  test('no minute is lost or counted twice', () => {
    for (let seed = 0; seed < 200; seed++) {
      const from = (n: number) => ((seed * 31 + n * 17) % 40) + 0
      const windows = [0, 1, 2].map((n) => ({ from: from(n), to: from(n) + ((seed + n) % 9) }))
      const holes = [3, 4].map((n) => ({ from: from(n), to: from(n) + ((seed * n) % 7) }))
      const inside = (list: { from: number; to: number }[], at: number) => list.some((w) => w.from <= at && at < w.to)
      const left = cutOut(windows, holes)
      for (let at = 0; at < 60; at++) {
        expect(inside(left, at)).toBe(inside(windows, at) && !inside(holes, at))
      }
    }
  })
})
