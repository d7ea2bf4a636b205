import type { AllocationProblem, Product } from '../../../src/core/allocation/index.ts'

/** A product with nothing but one crop, to be changed where a case needs more. Worth in pence. */
export function product(id: string, crop: string, change: Partial<Product> = {}): Product {
  return {
    id,
    name: id,
    unit: 'jar',
    gramsPerUnit: 1000,
    inputs: [{ from: { crop }, suits: { firm: 1, ripe: 1, soft: 1 }, share: { min: 1, max: 1 }, trim: [] }],
    makes: [],
    runs: [],
    workPerKg: {},
    workPerUnit: {},
    machineMinutesPerUnit: {},
    supplies: {},
    roomMlPerUnit: {},
    onDays: null,
    wish: { atLeast: 0, about: 100, atMost: 100, worth: 300, worthBeyond: 300, shortfallWorth: 0 },
    ...change,
  }
}

/** A kitchen with one day and nothing in it. */
export function kitchen(change: Partial<AllocationProblem>): AllocationProblem {
  return {
    days: ['2026-09-04'],
    items: [],
    materials: [],
    products: [],
    machines: [],
    workers: [],
    rooms: [],
    supplies: [],
    outlets: [],
    budget: null,
    spoilagePerKg: 0,
    ...change,
  }
}

export function item(id: string, crop: string, kg: number, change: Partial<AllocationProblem['items'][number]> = {}) {
  return {
    id,
    lotId: `${id}-lot`,
    crop,
    grams: kg * 1000,
    classByDay: ['ripe' as const],
    usableUntil: '2026-09-06',
    keepWorthPerKg: null,
    ...change,
  }
}

/**
 * Two days at Larkrise Lane Kitchen with everything at once: damsons and apples; jam by the pot, apple rings, jelly
 * from yesterday's juice, vinegar from peels; a canner, two helpers, a freezer, jars by the dozen, a budget, three outlets.
 */
export function larkriseWeekend(): AllocationProblem {
  return kitchen({
    days: ['2026-09-04', '2026-09-05'],
    items: [
      item('damsons-ripe', 'damsons', 18, { classByDay: ['ripe', 'soft'] }),
      item('damsons-soft', 'damsons', 9, { classByDay: ['soft', null], usableUntil: '2026-09-04' }),
      item('apples-firm', 'apples', 30, {
        classByDay: ['firm', 'ripe'],
        usableUntil: '2026-09-20',
        keepWorthPerKg: 20,
      }),
      item('apples-soft', 'apples', 12, { classByDay: ['soft', 'soft'] }),
    ],
    materials: [
      { id: 'juice', name: 'Damson juice', kind: 'intermediate', readyAfterDays: 1, keepsDays: 2 },
      { id: 'peels', name: 'Peels and cores', kind: 'trim', readyAfterDays: 0, keepsDays: 1 },
    ],
    products: [
      product('jam', 'damsons', {
        gramsPerUnit: 600,
        inputs: [{ from: { crop: 'damsons' }, suits: { ripe: 1, soft: 0.8 }, share: { min: 1, max: 1 }, trim: [] }],
        runs: [{ name: 'pot', unitsPerRun: 6, fillAtLeast: 0.5, machineMinutes: { burner: 45 }, work: { stove: 30 } }],
        supplies: { jars: 1 },
        wish: { atLeast: 10, about: 12, atMost: 18, worth: 420, worthBeyond: 200, shortfallWorth: 100 },
      }),
      product('juicing', 'damsons', {
        gramsPerUnit: 1000,
        makes: [{ materialId: 'juice', gramsPerUnit: 600 }],
        workPerKg: { wash: 2 },
        wish: { atLeast: 0, about: 0, atMost: 12, worth: 0, worthBeyond: 0, shortfallWorth: 0 },
      }),
      product('jelly', 'damsons', {
        gramsPerUnit: 300,
        inputs: [{ from: { materialId: 'juice' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }],
        runs: [{ name: 'pot', unitsPerRun: 5, fillAtLeast: 0.5, machineMinutes: { burner: 40 }, work: { stove: 25 } }],
        supplies: { jars: 1 },
        wish: { atLeast: 0, about: 10, atMost: 14, worth: 380, worthBeyond: 150, shortfallWorth: 0 },
      }),
      product('rings', 'apples', {
        gramsPerUnit: 900,
        inputs: [
          {
            from: { crop: 'apples' },
            suits: { firm: 0.9, ripe: 1 },
            share: { min: 1, max: 1 },
            trim: [{ materialId: 'peels', share: 0.25, shareByClass: { firm: 0.2 } }],
          },
        ],
        roomMlPerUnit: { freezer: 1200 },
        workPerUnit: { cut: 6 },
        wish: { atLeast: 20, about: 14, atMost: 22, worth: 350, worthBeyond: 140, shortfallWorth: 60 },
      }),
      product('butter', 'apples', {
        gramsPerUnit: 800,
        inputs: [
          {
            from: { crop: 'apples' },
            suits: { ripe: 0.9, soft: 1 },
            share: { min: 0.6, max: 0.8 },
            trim: [{ materialId: 'peels', share: 0.2 }],
          },
          { from: { crop: 'damsons' }, suits: { ripe: 1, soft: 1 }, share: { min: 0.2, max: 0.4 }, trim: [] },
        ],
        supplies: { jars: 1 },
        machineMinutesPerUnit: { burner: 4 },
        onDays: [1],
        wish: { atLeast: 0, about: 8, atMost: 10, worth: 390, worthBeyond: 100, shortfallWorth: 0 },
      }),
      product('vinegar', 'apples', {
        gramsPerUnit: 700,
        inputs: [{ from: { materialId: 'peels' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }],
        wish: { atLeast: 0, about: 3, atMost: 5, worth: 160, worthBeyond: 60, shortfallWorth: 0 },
      }),
    ],
    machines: [{ id: 'burner', name: 'Burner', count: 2, minutesByDay: [150, 180] }],
    workers: [
      { id: 'ada', name: 'Ada Quill', skills: ['stove', 'cut', 'wash'], minutesByDay: [120, 120] },
      { id: 'ben', name: 'Ben Ashlock', skills: ['cut', 'wash'], minutesByDay: [60, 60] },
    ],
    rooms: [{ id: 'freezer', name: 'Freezer', ml: 20_000 }],
    supplies: [{ id: 'jars', name: 'Jars', unit: 'jar', onHand: 8, packSize: 12, packPrice: 900, packsAtMost: 3 }],
    outlets: [
      {
        id: 'goats',
        name: 'The goats',
        capacityGrams: 4000,
        worthPerKg: 10,
        takesProduce: { crops: ['apples'], classes: ['firm', 'ripe', 'soft'] },
        takesMaterials: ['peels'],
      },
      {
        id: 'hens',
        name: 'The hens',
        capacityGrams: 2000,
        worthPerKg: 6,
        takesProduce: { crops: [], classes: ['soft'] },
        takesMaterials: ['peels'],
      },
      {
        id: 'heap',
        name: 'The heap',
        capacityGrams: null,
        worthPerKg: 1,
        takesProduce: { crops: [], classes: ['soft'] },
        takesMaterials: [],
      },
    ],
    budget: 2000,
    spoilagePerKg: 80,
  })
}
