import { describe, expect, it } from 'vitest'
import { checkAllocation, type Limit, solveAllocation, worthOfSteps } from '../../../src/core/allocation/index.ts'
import { item, kitchen, larkriseWeekend, product } from './larkrise.ts'

// Cases small enough to be worked out on paper; the working is beside each.

describe('divisions worked out by hand', () => {
  it('fills the canner with the load that is worth most a minute, and uses what is left of the day', async () => {
    // 100 minutes. Quarts: loads of 7 in 50 minutes, 300 each: 2,100 a load. Pints: loads of 9 in 30 minutes, 120 each:
    // 1,080 a load. Two quart loads: 4,200. One quart, one pint load (80 min): 3,180. Three pint loads: 3,240.
    // Produce is no limit (100 kg), nothing spoils. Best: 14 quarts, 4,200.
    const canner = (unitsPerRun: number, minutes: number) => [
      { name: 'canner load', unitsPerRun, fillAtLeast: 0.5, machineMinutes: { canner: minutes }, work: {} },
    ]
    const problem = kitchen({
      items: [item('damsons', 'damsons', 100)],
      machines: [{ id: 'canner', name: 'Canner', count: 1, minutesByDay: [100] }],
      products: [
        product('quarts', 'damsons', { runs: canner(7, 50) }),
        product('pints', 'damsons', {
          runs: canner(9, 30),
          wish: { atLeast: 0, about: 100, atMost: 100, worth: 120, worthBeyond: 120, shortfallWorth: 0 },
        }),
      ],
    })
    const result = await solveAllocation(problem)
    expect(checkAllocation(problem, result)).toEqual([])
    expect(result.objective).toBe(4200)
    expect(result.batches).toEqual([{ productId: 'quarts', day: 0, units: 14, grams: 14_000, runs: [2] }])
    expect(limitsOf(result, 'quarts')).toEqual([{ kind: 'machine', machineId: 'canner', days: [0] }])
    // With 60 minutes more (160): three quart loads (150) are 6,300; two of quarts and two of pints (160) are 6,360.
    // The step is worth 2,160: 18 pints.
    expect(await worthOfSteps(problem, result)).toEqual([
      {
        step: { kind: 'machine', machineId: 'canner', day: 0, minutes: 60 },
        gain: 2160,
        unitsChanged: [{ productId: 'pints', units: 18 }],
      },
    ])
  })

  it('does not open a dozen of jars for two', async () => {
    // 10 jars there, 12 jars of fruit. Two more jars bring 600, a dozen costs 700: ten jars, 3,000; 2 kg to compost at 0.
    const problem = kitchen({
      items: [item('damsons', 'damsons', 12)],
      products: [product('jam', 'damsons', { supplies: { jars: 1 } })],
      supplies: [{ id: 'jars', name: 'Jars', unit: 'jar', onHand: 10, packSize: 12, packPrice: 700, packsAtMost: 5 }],
      outlets: [
        {
          id: 'heap',
          name: 'Heap',
          capacityGrams: null,
          worthPerKg: 0,
          takesProduce: { crops: [], classes: ['ripe'] },
          takesMaterials: [],
        },
      ],
    })
    const result = await solveAllocation(problem)
    expect(result.objective).toBe(3000)
    expect(result.purchases).toEqual([])
    expect(result.leftovers).toEqual([
      { from: { itemId: 'damsons' }, grams: 2000, to: { outletId: 'heap' }, actBy: '2026-09-06' },
    ])
    expect(limitsOf(result, 'jam')).toEqual([{ kind: 'worth' }])
    // At 500 a dozen it pays: 3,600 - 500.
    const [jars] = problem.supplies
    const cheaper = { ...problem, supplies: jars ? [{ ...jars, packPrice: 500 }] : [] }
    expect((await solveAllocation(cheaper)).objective).toBe(3100)
  })

  it('makes juice on the first day for jelly on the second', async () => {
    // Jelly: 300 g of juice each, at most 5: 1,500 g of juice, ready after a day, so at least 3 kg are pressed on day 0
    // at 500 g of juice a kg. The other 2 kg, left alone, are lost at 50 a kg: 2,000 - 100. Pressed as well they
    // are 1 kg of juice that is lost at 50, which is less: 2,000 - 50 = 1,950.
    const problem = kitchen({
      days: ['2026-09-04', '2026-09-05'],
      items: [item('damsons', 'damsons', 5, { classByDay: ['ripe', 'ripe'] })],
      materials: [{ id: 'juice', name: 'Juice', kind: 'intermediate', readyAfterDays: 1, keepsDays: 2 }],
      products: [
        product('pressing', 'damsons', {
          makes: [{ materialId: 'juice', gramsPerUnit: 500 }],
          wish: { atLeast: 0, about: 0, atMost: 5, worth: 0, worthBeyond: 0, shortfallWorth: 0 },
        }),
        product('jelly', 'damsons', {
          gramsPerUnit: 300,
          inputs: [{ from: { materialId: 'juice' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }],
          wish: { atLeast: 0, about: 5, atMost: 5, worth: 400, worthBeyond: 0, shortfallWorth: 0 },
        }),
      ],
      spoilagePerKg: 50,
    })
    const result = await solveAllocation(problem)
    expect(checkAllocation(problem, result)).toEqual([])
    expect(result.objective).toBe(1950)
    expect(result.batches.find(({ productId }) => productId === 'jelly')).toEqual({
      productId: 'jelly',
      day: 1,
      units: 5,
      grams: 1500,
      runs: [],
    })
    expect(result.materialUses).toEqual([{ materialId: 'juice', madeOn: 0, productId: 'jelly', day: 1, grams: 1500 }])
  })

  it('counts hands by who can do what', async () => {
    // Rings need 10 minutes of cutting each, jam 10 at the stove. Ada (stove and cut) has 60 minutes, Ben (cut) 30.
    // Cutting and stove together at most 90 minutes, stove at most 60. Jam 300, rings 200: six jams by Ada, three
    // rings by Ben: 2,400. Nine of anything is the most there can be, and no more than six of them jam.
    const problem = kitchen({
      items: [item('apples', 'apples', 50)],
      workers: [
        { id: 'ada', name: 'Ada Quill', skills: ['stove', 'cut'], minutesByDay: [60] },
        { id: 'ben', name: 'Ben Ashlock', skills: ['cut'], minutesByDay: [30] },
      ],
      products: [
        product('jam', 'apples', { workPerUnit: { stove: 10 } }),
        product('rings', 'apples', {
          workPerUnit: { cut: 10 },
          wish: { atLeast: 0, about: 90, atMost: 90, worth: 200, worthBeyond: 200, shortfallWorth: 0 },
        }),
      ],
    })
    const result = await solveAllocation(problem)
    expect(result.objective).toBe(2400)
    expect(result.batches.map(({ productId, units }) => [productId, units])).toEqual([
      ['jam', 6],
      ['rings', 3],
    ])
    expect(limitsOf(result, 'jam')).toEqual([
      { kind: 'work', skills: ['stove'], days: [0] },
      { kind: 'work', skills: ['cut', 'stove'], days: [0] },
    ])
  })

  it('fills the outlets in their order and loses only what none can take', async () => {
    // 10 kg, nothing to make. Goats take 4 kg at 10, hens 3 kg at 5; 3 kg are lost at 20: 40 + 15 - 60 = -5.
    const takes = { crops: [], classes: ['ripe' as const] }
    const problem = kitchen({
      items: [item('apples', 'apples', 10)],
      outlets: [
        { id: 'goats', name: 'Goats', capacityGrams: 4000, worthPerKg: 10, takesProduce: takes, takesMaterials: [] },
        { id: 'hens', name: 'Hens', capacityGrams: 3000, worthPerKg: 5, takesProduce: takes, takesMaterials: [] },
      ],
      spoilagePerKg: 20,
    })
    const result = await solveAllocation(problem)
    expect(result.objective).toBe(-5)
    expect(result.leftovers.map(({ to, grams }) => [to, grams])).toEqual([
      [{ outletId: 'goats' }, 4000],
      [{ outletId: 'hens' }, 3000],
      ['lost', 3000],
    ])
    expect(result.status).toBe('proved')
  })

  it('says what is short when a wish is not met, and takes the better-suited fruit', async () => {
    // 2 kg ripe (suit 1), 3 kg soft (suit 0.5), jars of 1 kg, wished at least 6: all five are made; each soft one is
    // worth half. 2 x 300 + 3 x 150 - 1 missing x 40 = 1,010.
    const problem = kitchen({
      items: [item('a', 'damsons', 2), item('b', 'damsons', 3, { classByDay: ['soft'] })],
      products: [
        product('jam', 'damsons', {
          inputs: [{ from: { crop: 'damsons' }, suits: { ripe: 1, soft: 0.5 }, share: { min: 1, max: 1 }, trim: [] }],
          wish: { atLeast: 6, about: 8, atMost: 8, worth: 300, worthBeyond: 0, shortfallWorth: 40 },
        }),
      ],
    })
    const result = await solveAllocation(problem)
    expect(result.objective).toBe(1010)
    expect(result.shortfalls).toEqual([{ productId: 'jam', units: 1 }])
    expect(limitsOf(result, 'jam')).toEqual([{ kind: 'produce', crops: ['damsons'] }])
  })

  it('explains the weekend at Larkrise Lane in words a cook knows', async () => {
    const result = await solveAllocation(larkriseWeekend())
    expect(limitsOf(result, 'rings')).toEqual([{ kind: 'room', roomId: 'freezer' }])
    expect(limitsOf(result, 'vinegar')).toEqual([{ kind: 'wish' }])
    expect(limitsOf(result, 'butter')).toContainEqual({ kind: 'budget' })
    // Jelly cannot be made on the first day at all, so that day says nothing.
    expect(limitsOf(result, 'jelly').flatMap((limit) => ('days' in limit ? limit.days : []))).not.toContain(0)
  })

  it('finds that more freezer is worth what it frees, and says nothing of limits that do not bind', async () => {
    const problem = larkriseWeekend()
    const result = await solveAllocation(problem)
    const steps = await worthOfSteps(problem, result)
    expect(steps.length).toBeGreaterThan(0)
    expect(steps.length).toBeLessThanOrEqual(4)
    for (const { step, gain } of steps) {
      expect(gain).toBeGreaterThan(0)
      expect(step.kind === 'work' && step.skill === 'wash').toBe(false)
    }
    expect(steps.map(({ gain }) => gain)).toEqual(steps.map(({ gain }) => gain).sort((a, b) => b - a))
  })
})

function limitsOf(result: { reasons: { productId: string; limits: Limit[] }[] }, id: string): Limit[] {
  return result.reasons.find(({ productId }) => productId === id)?.limits ?? []
}
