import type { AllocationProblem, Item, Product, Run } from '../../src/core/allocation/index.ts'
import { chance, pick, type Size } from './plain-glut.ts'

/**
 * A glut with all that a division knows, richer than the plain one: several runs for a product (a pot, then a canner
 * load), juice from one batch for another, peels that become something, products of two crops in free shares, lots that
 * ripen at their own pace, and three groups of helpers with different skills. Otherwise as the plain one.
 */
export function richGlut(size: Size, seed: number): AllocationProblem {
  const random = chance(seed * 7919 + size.lots * 31 + size.products)
  const between = (low: number, high: number) => low + (high - low) * random()
  const whole = (low: number, high: number) => Math.floor(between(low, high + 1))
  const days = Array.from({ length: size.days }, (_, day) =>
    new Date(Date.UTC(2026, 8, 4 + day)).toISOString().slice(0, 10),
  )
  const crops = Array.from(
    { length: Math.max(2, Math.round(size.products / 5)) },
    (_, c) => `crop-${String(c).padStart(2, '0')}`,
  )
  const items: Item[] = []
  for (let lot = 0; lot < size.lots; lot++) {
    const crop = pick(crops, lot % crops.length)
    const grams = whole(12_000, 35_000)
    const firm = between(0.2, 0.5)
    const ripe = between(0.2, 0.4)
    const parts = { firm: Math.round(grams * firm), ripe: Math.round(grams * ripe) }
    const dwell = whole(1, 3)
    items.push(itemOf(lot, crop, 'firm', parts.firm, dwell, days))
    items.push(itemOf(lot, crop, 'ripe', parts.ripe, dwell, days))
    items.push(itemOf(lot, crop, 'soft', grams - parts.firm - parts.ripe, dwell, days))
  }
  const totalKg = items.reduce((kg, item) => kg + item.grams / 1000, 0)
  const products = Array.from({ length: size.products }, (_, p) => {
    const crop = pick(crops, Math.floor(p / 5) % crops.length)
    const other = pick(crops, (Math.floor(p / 5) + 1) % crops.length)
    return productOf(p, crop, other, totalKg / size.products, between, whole)
  })
  const perDay = totalKg / size.days
  const minutes = (each: number, spread = 0.25) =>
    days.map(() => Math.round((each * between(1 - spread, 1 + spread)) / 5) * 5)
  return {
    days,
    items,
    materials: [
      { id: 'juice', name: 'Juice', kind: 'intermediate', keepsDays: 3, readyAfterDays: 1 },
      { id: 'peels', name: 'Peels and cores', kind: 'trim', keepsDays: 1, readyAfterDays: 0 },
    ],
    products,
    machines: [
      { id: 'canner', name: 'Canner', count: 1, minutesByDay: minutes(perDay * 5 * size.ease) },
      { id: 'burner', name: 'Burner', count: 4, minutesByDay: minutes(perDay * 12 * size.ease) },
      { id: 'oven', name: 'Oven', count: 1, minutesByDay: minutes(perDay * 8 * size.ease) },
    ],
    workers: [
      {
        id: 'adults',
        name: 'Adults',
        skills: ['wash', 'cut', 'stove', 'fill'],
        minutesByDay: minutes(perDay * 6 * size.ease),
      },
      { id: 'teens', name: 'Teens', skills: ['wash', 'cut'], minutesByDay: minutes(perDay * 3 * size.ease) },
      { id: 'children', name: 'Children', skills: ['wash'], minutesByDay: minutes(perDay * 1.5 * size.ease) },
    ],
    rooms: [{ id: 'freezer', name: 'Freezer', ml: Math.round(totalKg * 180) }],
    supplies: [
      {
        id: 'jars-quart',
        name: 'Quart jars',
        unit: 'jar',
        onHand: whole(5, 20),
        packSize: 12,
        packPrice: 1400,
        packsAtMost: Math.ceil(totalKg / 40),
      },
      {
        id: 'jars-pint',
        name: 'Pint jars',
        unit: 'jar',
        onHand: whole(5, 30),
        packSize: 12,
        packPrice: 1100,
        packsAtMost: Math.ceil(totalKg / 20),
      },
      {
        id: 'lids',
        name: 'Lids',
        unit: 'lid',
        onHand: whole(10, 40),
        packSize: 12,
        packPrice: 350,
        packsAtMost: Math.ceil(totalKg / 12),
      },
      {
        id: 'sugar',
        name: 'Sugar',
        unit: 'g',
        onHand: 2000,
        packSize: 5000,
        packPrice: 600,
        packsAtMost: Math.ceil(totalKg / 50),
      },
    ],
    outlets: [
      {
        id: 'feed',
        name: 'Feed',
        capacityGrams: Math.round(totalKg * 80),
        worthPerKg: 8,
        takesProduce: { crops: [], classes: ['firm', 'ripe', 'soft'] },
        takesMaterials: ['peels'],
      },
      {
        id: 'compost',
        name: 'Compost',
        capacityGrams: null,
        worthPerKg: 1,
        takesProduce: { crops: [], classes: ['soft', 'damaged'] },
        takesMaterials: ['peels'],
      },
    ],
    budget: null,
    spoilagePerKg: 60,
  }
}

type Class = 'firm' | 'ripe' | 'soft'

function itemOf(lot: number, crop: string, start: Class, grams: number, dwell: number, days: string[]): Item {
  const order: Class[] = ['firm', 'ripe', 'soft']
  const first = order.indexOf(start)
  const classByDay = days.map((_, day) => order[first + Math.floor(day / dwell)] ?? null)
  const usable = (order.length - first) * dwell
  const lotId = `lot-${String(lot).padStart(3, '0')}`
  return {
    id: `${lotId}-${start}`,
    lotId,
    crop,
    grams,
    classByDay,
    usableUntil: new Date(Date.parse(`${days[0]}T00:00:00Z`) + (usable - 1) * 86_400_000).toISOString().slice(0, 10),
    keepWorthPerKg: usable > days.length + 1 ? 40 : null,
  }
}

/** One of ten kinds of product, with figures scattered a little around the kind's own. */
function productOf(
  p: number,
  crop: string,
  other: string,
  kgEach: number,
  between: (low: number, high: number) => number,
  whole: (low: number, high: number) => number,
): Product {
  const kind = p % 10
  const gramsPerUnit = pick([1150, 650, 520, 600, 1000, 900, 1500, 450, 700, 800], kind) + whole(-5, 5) * 10
  const about = Math.max(3, Math.round((between(0.5, 1.4) * kgEach * 1000) / gramsPerUnit))
  const worth = Math.round(pick([700, 420, 430, 460, 520, 610, 480, 390, 470, 180], kind) * between(0.8, 1.2))
  const peels = { materialId: 'peels', share: pick([0.16, 0.14, 0.1, 0.18, 0.12, 0.15, 0.3, 0, 0.14, 0], kind) }
  const trim = peels.share > 0 ? [peels] : []
  const suits: Product['inputs'][number]['suits'] =
    kind === 0 || kind === 5
      ? { ripe: 1, firm: 0.85 }
      : kind === 4
        ? { ripe: 1, firm: 0.9, soft: 0.6 }
        : { firm: 0.7, ripe: 1, soft: 0.9 }
  const all = { min: 1, max: 1 }
  const inputs: Product['inputs'] =
    kind === 7
      ? [{ from: { materialId: 'juice' }, suits: {}, share: all, trim: [] }]
      : kind === 9
        ? [{ from: { materialId: 'peels' }, suits: {}, share: all, trim: [] }]
        : kind === 8
          ? [
              { from: { crop }, suits, share: { min: 0.5, max: 0.8 }, trim },
              { from: { crop: other }, suits, share: { min: 0.2, max: 0.5 }, trim },
            ]
          : [{ from: { crop }, suits, share: all, trim }]
  return {
    id: `p${String(p).padStart(2, '0')}`,
    name: `Product ${p}`,
    unit: kind === 0 ? 'quart' : 'pint',
    gramsPerUnit,
    inputs,
    makes: kind === 6 ? [{ materialId: 'juice', gramsPerUnit: Math.round(gramsPerUnit * 0.25) }] : [],
    runs: runsOf(kind, whole),
    workPerKg: workOf(kind, between),
    workPerUnit: { fill: kind === 9 ? 0.5 : 0.8 },
    machineMinutesPerUnit: kind === 3 ? { oven: 6 } : {},
    supplies: suppliesOf(kind),
    roomMlPerUnit: kind === 4 ? { freezer: 1100 } : {},
    onDays: null,
    wish: {
      atLeast: p % 3 === 0 ? Math.floor(about / 3) : 0,
      about,
      atMost: about * 2,
      worth,
      worthBeyond: Math.round(worth * 0.4),
      shortfallWorth: Math.round(worth * 0.6),
    },
  }
}

function runsOf(kind: number, whole: (low: number, high: number) => number): Run[] {
  const canner = (unitsPerRun: number, minutes: number): Run => ({
    name: 'canner load',
    unitsPerRun,
    fillAtLeast: 0.5,
    machineMinutes: { canner: minutes, burner: minutes },
    work: { stove: 12 },
  })
  const pot = (unitsPerRun: number, minutes: number): Run => ({
    name: 'pot',
    unitsPerRun,
    fillAtLeast: 0.5,
    machineMinutes: { burner: minutes },
    work: { stove: Math.round(minutes / 2) },
  })
  switch (kind) {
    case 0:
      return [canner(7, whole(10, 12) * 5)]
    case 1:
    case 8:
      return [canner(9, whole(7, 9) * 5), pot(9, 30)]
    case 2:
    case 7:
      return [pot(6, whole(7, 9) * 5), canner(9, 30)]
    case 3:
      return [canner(9, whole(7, 9) * 5)]
    case 5:
      return [{ name: 'oven of trays', unitsPerRun: 4, fillAtLeast: 0.5, machineMinutes: { oven: 180 }, work: {} }]
    case 6:
      return [pot(8, 45)]
    default:
      return []
  }
}

function workOf(kind: number, between: (low: number, high: number) => number): Record<string, number> {
  if (kind === 7 || kind === 9) return { stove: 1 }
  return { wash: 1.2, cut: Math.round(between(2, 5) * 10) / 10 }
}

function suppliesOf(kind: number): Record<string, number> {
  if (kind === 0) return { 'jars-quart': 1, lids: 1, sugar: 90 }
  if (kind === 4 || kind === 5) return {}
  return { 'jars-pint': 1, lids: 1, ...(kind === 2 || kind === 7 ? { sugar: 280 } : {}) }
}
