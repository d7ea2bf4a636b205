import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { MachineKind } from '../../../src/core/day/kitchen.ts'
import { kitchenOf } from '../../../src/core/day/kitchen.ts'
import type { Question } from '../../../src/core/division/index.ts'
import type { ProcessMethod } from '../../../src/core/process/types.ts'
import type { EquipmentKind } from '../../../src/core/produce/vocabulary.ts'
import { smallQuestion } from '../division/kitchen.ts'
import { batch, helper, kitchen, recipe, step } from './days.ts'
import { cannerLoad, canning, solved } from './on-paper.ts'

const days = [
  { id: 'saturday', date: '2026-10-24', opensMinute: 480, closesMinute: 1080 },
  { id: 'sunday', date: '2026-10-25', opensMinute: 540, closesMinute: 960 },
]

function mara(more: Partial<Question['helpers'][number]>): Question['helpers'][number] {
  const hours = days.map(({ id }) => ({ dayId: id, fromMinute: 400, toMinute: 1000 }))
  return { id: 'mara', name: 'Mara', ageBand: 'adult', skills: ['cut'], hours, ...more }
}

describe('what a question tells about helpers', () => {
  test('their own breaks are cut out on their own day, others beside them', () => {
    const breaks = [{ dayId: 'sunday', fromMinute: 720, toMinute: 765 }]
    const question = smallQuestion({ days, helpers: [mara({ breaks })] })
    const saturday = { from: 480, to: 1000 }
    expect(kitchenOf(question).helpers[0]?.hours).toEqual([
      saturday,
      { from: 1440 + 540, to: 1440 + 720 },
      { from: 1440 + 765, to: 1440 + 960 },
    ])
    const more = { breaks: [{ dayId: 'sunday', fromMinute: 760, toMinute: 780 }] }
    expect(kitchenOf(question, more).helpers[0]?.hours).toEqual([
      saturday,
      { from: 1440 + 540, to: 1440 + 720 },
      { from: 1440 + 780, to: 1440 + 960 },
    ])
  })

  test('speed is the question’s unless another is given, and 1 where nobody says one', () => {
    const speed = (helper: Question['helpers'][number], speeds = {}) =>
      kitchenOf(smallQuestion({ days, helpers: [helper] }), { speeds }).helpers[0]?.speed
    expect(speed(mara({ speed: 1.5 }))).toBe(1.5)
    expect(speed(mara({ speed: 1.5 }), { mara: 0.5 })).toBe(0.5)
    expect(speed(mara({}))).toBe(1)
    expect(() => speed(mara({ speed: 0 }))).toThrow(RangeError)
  })

  test('longest stretch and wishes come along', () => {
    const told = mara({ stretchMinutes: 90, likes: ['cut'], dislikes: ['stove', 'wash'] })
    const [tires, tireless] = kitchenOf(smallQuestion({ days, helpers: [told, mara({})] })).helpers
    expect(tires).toMatchObject({ stretchMinutes: 90, likes: ['cut'], dislikes: ['stove', 'wash'] })
    expect(tireless).toMatchObject({ stretchMinutes: null, likes: [], dislikes: [] })
  })
})

describe('what a question tells about machines', () => {
  const canner = { kind: 'canner' as const, name: '', count: 1, roomMl: null, aroundTheClock: false, outOn: [] }
  const drier = { ...canner, id: 'd', kind: 'dehydrator' as const, aroundTheClock: true }
  const machinesFor = (equipment: Question['equipment']) => kitchenOf(smallQuestion({ days, equipment })).machines
  const hoursFor = (equipment: Question['equipment']) => machinesFor(equipment)[0]?.hours

  test('of a kind the longest counts', () => {
    const [told, untold] = machinesFor([
      { ...canner, id: 'a', comeUpMinutes: 35, coolDownMinutes: 8 },
      { ...canner, id: 'b', comeUpMinutes: 28, coolDownMinutes: 12 },
      { ...canner, id: 'c' },
      { ...drier },
    ])
    expect(told).toMatchObject({ comeUpMinutes: 35, coolDownMinutes: 12 })
    expect(Object.keys(untold ?? {}).sort()).toEqual(['aroundTheClock', 'countByDay', 'kind'])
  })

  test('hours are those that all of a kind have, within the opening hours', () => {
    const a = { ...canner, id: 'a', fromMinute: 420, toMinute: 900 }
    const b = { ...canner, id: 'b', fromMinute: 600 }
    expect(hoursFor([a])).toEqual([
      { from: 480, to: 900 },
      { from: 1440 + 540, to: 1440 + 900 },
    ])
    expect(hoursFor([a, b])).toEqual([
      { from: 600, to: 900 },
      { from: 1440 + 600, to: 1440 + 900 },
    ])
    expect(hoursFor([{ ...canner, id: 'c' }])).toBeUndefined()
  })

  test('what runs around the clock keeps its own hours when the kitchen is closed', () => {
    expect(hoursFor([{ ...drier, fromMinute: 360, toMinute: 1320 }])).toEqual([
      { from: 360, to: 1320 },
      { from: 1440 + 360, to: 1440 + 1320 },
    ])
    // From six on, until each day's midnight.
    expect(hoursFor([{ ...drier, fromMinute: 360 }])).toEqual([
      { from: 360, to: 1440 },
      { from: 1440 + 360, to: 2880 },
    ])
  })

  test('these hours are the calendar of the machine', () => {
    const equipment = [{ ...canner, id: 'a', toMinute: 900 }, { ...drier }]
    const { problem } = planDays(kitchenOf(smallQuestion({ days, equipment })), [])
    const calendarOf = (kind: EquipmentKind) => problem.resources.find(({ id }) => id === kind)?.calendar
    // Beyond the two work days, from 2,880 on, everything that does not fit has room.
    expect(calendarOf('canner')).toEqual([
      { from: 480, to: 900 },
      { from: 1440 + 540, to: 1440 + 900 },
      { from: 2880, to: 2880 + 1440 },
    ])
    expect(calendarOf('dehydrator')).toBeUndefined()
  })
})

describe('stated coming up and cooling down', () => {
  /** Minutes of a load's phases: 100 by its recipe, 4 of hands at each end. */
  function load(kind: EquipmentKind, method: ProcessMethod, minutes: number, stated: Partial<MachineKind>): number[] {
    const at = kitchen({ [kind]: 1, burner: 1 }, [helper('a')])
    const machines = at.machines.map((machine) => (machine.kind === kind ? { ...machine, ...stated } : machine))
    const runs = [{ ...cannerLoad, machineMinutes: { [kind]: 100, burner: 100 } }]
    const steps = [
      ...canning.slice(0, 2),
      step({ station: 'canner', work: 'stove', equipment: [kind], minutes: { perRun: 8 } }),
    ]
    const made = batch(recipe(steps, { runs }), 5, { process: { method, minutes } })
    const { activities } = planDays({ ...at, machines }, [made])
    // Cooking and filling are the first two phases.
    return (
      activities
        .find((one) => one.portion === 0)
        ?.activity.phases.map((phase) => phase.minutes)
        .slice(2) ?? []
    )
  }

  test.each<[Partial<MachineKind>, number[]]>([
    // 25 to come up, 4 of them hands; what is left of 100 is settling: 100 - 4 - 21 - 60 - 4.
    [{}, [4, 21, 60, 11, 4]],
    [{ comeUpMinutes: 40 }, [4, 36, 60, 5, 4]],
    [{ comeUpMinutes: 10 }, [4, 6, 60, 26, 4]],
    [{ coolDownMinutes: 15 }, [4, 17, 60, 15, 4]],
    [{ comeUpMinutes: 30, coolDownMinutes: 9 }, [4, 26, 60, 9, 4]],
    // Guide 1 p. 1-18: 5 minutes with the heat off, whatever is stated.
    [{ comeUpMinutes: 30, coolDownMinutes: 2 }, [4, 26, 60, 5, 4]],
  ])('a boiling-water canner with %j', (stated, expected) => {
    expect(load('canner', 'boiling-water', 60, stated)).toEqual(expected)
  })

  test.each<[Partial<MachineKind>, number[]]>([
    // 28 to come up, 4 of them hands; 100 - 4 - 24 - 20 - 4.
    [{}, [4, 24, 20, 48, 4]],
    [{ comeUpMinutes: 32, coolDownMinutes: 45 }, [4, 28, 20, 45, 4]],
    // Guide 1 p. 1-17: 10 of venting and 20 until it is opened at the least.
    [{ comeUpMinutes: 6, coolDownMinutes: 12 }, [4, 10, 20, 20, 4]],
  ])('a pressure canner with %j', (stated, expected) => {
    expect(load('pressure-canner', 'dial-gauge', 20, stated)).toEqual(expected)
  })
})

describe('machines that go on when the kitchen is closed, in hours of their own', () => {
  // A helper from some minute on: 15 minutes to load the trays, then nine hours of drying; the kitchen is open until 18:00.
  const drying = recipe(
    [step({ station: 'oven', work: 'pack', equipment: ['dehydrator'], minutes: { perRun: 15 }, waitMinutes: 540 })],
    { runs: [{ ...cannerLoad, unitsPerRun: 3, machineMinutes: { dehydrator: 540 }, work: { pack: 15 } }] },
  )

  function dried(from: number, hours?: MachineKind['hours']): { due: number | undefined; late: unknown[] } {
    const at = kitchen({ dehydrator: 1 }, [helper('a', { hours: [{ from, to: 1080 }] })])
    const machines = at.machines.map((one) => (hours === undefined ? one : { ...one, hours }))
    const { plan, table } = solved({ ...at, machines }, [batch(drying, 3)])
    const alone = plan.activities.find(({ activity }) => activity.id.endsWith('/alone'))?.activity
    return { due: alone?.due, late: table.late.map(({ activity, fits }) => [activity.split('/').at(-1), fits]) }
  }

  test('what is begun by closing may be over at any time if there are none', () => {
    expect(dried(900)).toEqual({ due: 1080 + 540, late: [] })
  })

  test('no later than they end otherwise', () => {
    const hours = [{ from: 360, to: 1320 }]
    // Begun at 12:15 it is over at 21:15; at 15:15 there is no room before 22:00.
    expect(dried(720, hours)).toEqual({ due: 1320, late: [] })
    expect(dried(900, hours)).toEqual({ due: 1320, late: [['alone', false]] })
    // Hours that are over before the kitchen closes give no time after it.
    expect(dried(480, [{ from: 360, to: 1050 }])).toEqual({ due: 1080, late: [] })
  })
})
