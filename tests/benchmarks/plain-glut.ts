import type { AllocationProblem, Item, Product, Run } from '../../src/core/allocation/index.ts'

/** Size and scarcity of a made-up glut. */
export type Size = {
  name: string
  lots: number
  products: number
  days: number
  /** Machine and helper minutes against what the whole glut would need; 1: just about enough. */
  ease: number
}

export const sizes = {
  household: { name: 'household', lots: 4, products: 10, days: 3, ease: 0.8 },
  householdScarce: { name: 'household, scarce', lots: 4, products: 10, days: 3, ease: 0.45 },
  coop: { name: 'co-op', lots: 40, products: 40, days: 5, ease: 0.9 },
  coopScarce: { name: 'co-op, scarce', lots: 40, products: 40, days: 5, ease: 0.45 },
  stress: { name: 'stress', lots: 150, products: 80, days: 7, ease: 0.9 },
  stressScarce: { name: 'stress, scarce', lots: 150, products: 80, days: 7, ease: 0.45 },
} as const satisfies Record<string, Size>

/** Seeded chance (mulberry32): the same seed gives the same numbers on every machine. */
export function chance(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/**
 * A glut of this size, as plain as the figures it is compared with: lots of 12 to 35 kg in three classes that ripen from
 * day to day at their crop's pace, products of ten kinds of one crop each, made in loads of seven quarts or nine pints
 * of which the last of a day is at least half full, jars and lids by the dozen, sugar, worth that falls to 40 % beyond
 * what was wished about, canner, burner, oven and labour minutes by day, a freezer, and three outlets.
 * Worth and prices in minor units. Figures are plausible, not tested: they measure a solver, not a kitchen.
 */
export function plainGlut(size: Size, seed: number): AllocationProblem {
  const random = chance(seed * 7919 + size.lots * 31 + size.products)
  const between = (low: number, high: number) => low + (high - low) * random()
  const whole = (low: number, high: number) => Math.floor(between(low, high + 1))
  const days = Array.from({ length: size.days }, (_, day) =>
    new Date(Date.UTC(2026, 8, 4 + day)).toISOString().slice(0, 10),
  )
  const crops = Array.from({ length: Math.max(2, Math.round(size.products / 10)) }, (_, c) => ({
    name: `crop-${c}`,
    daysInClass: whole(1, 2),
  }))
  const items: Item[] = []
  for (let lot = 0; lot < size.lots; lot++) {
    const crop = pick(crops, lot % crops.length)
    const grams = whole(12_000, 35_000)
    const firm = Math.round(grams * between(0.2, 0.5))
    const ripe = Math.round(grams * between(0.2, 0.4))
    for (const [first, part] of [firm, ripe, grams - firm - ripe].entries()) {
      items.push(itemOf(lot, crop, first, part, days))
    }
  }
  const totalKg = items.reduce((kg, item) => kg + item.grams / 1000, 0)
  const minutes = (forEachKg: number) =>
    days.map(() => Math.round(((totalKg / size.days) * forEachKg * size.ease * between(0.75, 1.25)) / 5) * 5)
  const bought = (
    id: string,
    unit: string,
    onHand: number,
    packSize: number,
    packPrice: number,
    packsAtMost: number,
  ) => ({
    id,
    name: id,
    unit,
    onHand,
    packSize,
    packPrice,
    packsAtMost: Math.ceil(packsAtMost),
  })
  return {
    days,
    items,
    materials: [],
    products: Array.from({ length: size.products }, (_, p) =>
      productOf(p, pick(crops, Math.floor(p / 2) % crops.length).name, totalKg / size.products, between, whole),
    ),
    machines: [
      { id: 'canner', name: 'Canner', count: 1, minutesByDay: minutes(5) },
      { id: 'burner', name: 'Burner', count: 4, minutesByDay: minutes(12) },
      { id: 'oven', name: 'Oven', count: 1, minutesByDay: minutes(8) },
    ],
    workers: [{ id: 'helpers', name: 'Helpers', skills: ['labour'], minutesByDay: minutes(10) }],
    rooms: [{ id: 'freezer', name: 'Freezer', ml: Math.round(totalKg * 180) }],
    supplies: [
      bought('jars-quart', 'jar', whole(5, 20), 12, 1400, totalKg / 40),
      bought('jars-pint', 'jar', whole(5, 30), 12, 1100, totalKg / 20),
      bought('lids', 'lid', whole(10, 40), 12, 350, totalKg / 12),
      bought('sugar', 'g', 2000, 5000, 600, totalKg / 50),
    ],
    outlets: [
      outlet('shared', Math.round(totalKg * 50), 40, ['ripe']),
      outlet('feed', Math.round(totalKg * 80), 8, ['firm', 'ripe', 'soft']),
      outlet('compost', null, 1, ['soft']),
    ],
    budget: null,
    spoilagePerKg: 60,
  }
}

export function pick<T>(list: readonly T[], index: number): T {
  const value = list[index]
  if (value === undefined) throw new RangeError(`nothing at ${index}`)
  return value
}

const order = ['firm', 'ripe', 'soft'] as const
type Class = (typeof order)[number]

function itemOf(
  lot: number,
  crop: { name: string; daysInClass: number },
  first: number,
  grams: number,
  days: string[],
): Item {
  const usable = (order.length - first) * crop.daysInClass
  const lotId = `lot-${String(lot).padStart(3, '0')}`
  return {
    id: `${lotId}-${pick(order, first)}`,
    lotId,
    crop: crop.name,
    grams,
    classByDay: days.map((_, day) => order[first + Math.floor(day / crop.daysInClass)] ?? null),
    usableUntil: new Date(Date.parse(`${days[0]}T00:00:00Z`) + (usable - 1) * 86_400_000).toISOString().slice(0, 10),
    keepWorthPerKg: null,
  }
}

function outlet(id: string, capacityGrams: number | null, worthPerKg: number, classes: Class[]) {
  return { id, name: id, capacityGrams, worthPerKg, takesProduce: { crops: [], classes }, takesMaterials: [] }
}

/** Grams and worth of a unit, labour for a kilogram, and what a load takes, by kind of product. */
const kinds = [
  { unit: 'quart', grams: 1150, worth: 700, labour: 4, load: 'canner', minutes: 55, sugar: 90 },
  { unit: 'pint', grams: 650, worth: 420, labour: 5, load: 'canner', minutes: 40, sugar: 0 },
  { unit: 'pint', grams: 520, worth: 430, labour: 6, load: 'canner', minutes: 50, sugar: 280 },
  { unit: 'pint', grams: 600, worth: 460, labour: 5, load: 'canner', minutes: 45, sugar: 0 },
  { unit: 'pint', grams: 550, worth: 300, labour: 3, load: 'freezer', minutes: 15, sugar: 0 },
  { unit: 'quart', grams: 900, worth: 610, labour: 6, load: 'oven', minutes: 180, sugar: 0 },
  { unit: 'quart', grams: 1500, worth: 480, labour: 2, load: 'burner', minutes: 45, sugar: 0 },
  { unit: 'pint', grams: 450, worth: 390, labour: 6, load: 'canner', minutes: 30, sugar: 280 },
  { unit: 'quart', grams: 1050, worth: 650, labour: 5, load: 'canner', minutes: 60, sugar: 120 },
  { unit: 'pint', grams: 600, worth: 380, labour: 4, load: 'oven', minutes: 120, sugar: 0 },
] as const

function productOf(
  p: number,
  crop: string,
  kgEach: number,
  between: (low: number, high: number) => number,
  whole: (low: number, high: number) => number,
): Product {
  const kind = pick(kinds, p % 10)
  const gramsPerUnit = kind.grams + whole(-5, 5) * 10
  const about = Math.max(3, Math.round((between(0.5, 1.4) * kgEach * 1000) / gramsPerUnit))
  const worth = Math.round(kind.worth * between(0.8, 1.2))
  const inJars = kind.load === 'canner' || kind.load === 'burner'
  return {
    id: `p${String(p).padStart(2, '0')}`,
    name: `Product ${p}`,
    unit: kind.unit,
    gramsPerUnit,
    inputs: [{ from: { crop }, suits: suitsOf(p % 10), share: { min: 1, max: 1 }, trim: [] }],
    makes: [],
    runs: [runOf(kind.load, kind.unit === 'quart' ? 7 : 9, kind.minutes + whole(-1, 1) * 5)],
    workPerKg: { labour: Math.round((kind.labour + between(-1, 1)) * 10) / 10 },
    workPerUnit: { labour: 0.8 },
    machineMinutesPerUnit: {},
    supplies: {
      ...(inJars ? { [`jars-${kind.unit}`]: 1, lids: 1 } : {}),
      ...(kind.sugar > 0 ? { sugar: kind.sugar } : {}),
    },
    roomMlPerUnit: kind.load === 'freezer' ? { freezer: 550 } : {},
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

function suitsOf(kind: number): Partial<Record<Class, number>> {
  if (kind === 0 || kind === 5) return { firm: 0.85, ripe: 1 }
  if (kind === 4) return { firm: 0.9, ripe: 1, soft: 0.6 }
  return { firm: 0.7, ripe: 1, soft: 0.9 }
}

function runOf(load: (typeof kinds)[number]['load'], unitsPerRun: number, minutes: number): Run {
  const machineMinutes =
    load === 'canner'
      ? { canner: minutes, burner: minutes }
      : load === 'freezer'
        ? { burner: minutes }
        : { [load]: minutes }
  return {
    name: `${load} load`,
    unitsPerRun,
    fillAtLeast: 0.5,
    machineMinutes,
    work: { labour: load === 'oven' ? 5 : 12 },
  }
}
