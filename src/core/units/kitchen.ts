import { cupWeight } from './densities.ts'
import { formatMass, formatVolume, mlPer } from './format.ts'
import { gramsPerOunce, gramsPerPound } from './mass.ts'
import type { UnitSystem } from './readings.ts'

/** An amount that a kitchen can measure, in the unit that was asked in, and how it is said: "1 1/2 cups". */
export type KitchenAmount = { amount: number; words: string }

export type KitchenOptions = {
  /** What it is, for turning weight to spoons and cups: a key of `cupWeights`. Anything else is weighed. */
  substance?: string | undefined
  system: UnitSystem
  /** Never less than what was asked: for acid, and for what must be enough. */
  up?: boolean | undefined
}

/**
 * Rounds an amount to what spoons, cups and scales can measure. Takes grams, millilitres or pieces, from 0.
 *
 * US: spoons, cups and quarts with kitchen fractions (1/8, 1/4, 1/3, 1/2, 2/3, 3/4), solids from a gallon up and what
 * has no cup weight in ounces and pounds. Metric: grams and millilitres in steps that grow with the amount.
 * To the nearest, it is never off by more than 8 % from a teaspoon up (7.5 g of anything), nor by more than 16 % from a
 * quarter of one. With `up` it is never below (30 ml are two label tablespoons: see `inLabelSpoons`), and above by 16 %
 * and 34 % at most. Below that the smallest measure is taken. Pieces are halves below ten and whole from there.
 *
 * @throws RangeError for an amount below 0 or none at all
 */
export function kitchenAmount(amount: number, unit: 'g' | 'ml' | 'piece', options: KitchenOptions): KitchenAmount {
  if (!(amount >= 0 && Number.isFinite(amount))) throw new RangeError('an amount is from 0 up')
  if (amount === 0) return { amount: 0, words: 'none' }
  const up = options.up ?? false
  if (unit === 'piece') return pieces(amount, up)
  if (options.system === 'metric') return inSteps(amount, unit, up)
  const weight = cupWeight(options.substance)
  if (unit === 'ml') return inLabelSpoons(amount) ?? byVolume(amount, 1, up)
  if (weight === null || (!weight.liquid && amount >= 16 * weight.gramsPerCup)) return onAmericanScales(amount, up)
  return byVolume(amount, weight.gramsPerCup / mlPer.cup, up)
}

/** "1 1/2", "1/3", "3". Takes a whole number and one of the kitchen fractions, or halves. */
function mixed(whole: number, part: string): string {
  return part === '' ? String(whole) : whole === 0 ? part : `${whole} ${part}`
}

const fractions: readonly { value: number; words: string }[] = [
  { value: 0, words: '' },
  { value: 1 / 8, words: '1/8' },
  { value: 1 / 4, words: '1/4' },
  { value: 1 / 3, words: '1/3' },
  { value: 1 / 2, words: '1/2' },
  { value: 2 / 3, words: '2/3' },
  { value: 3 / 4, words: '3/4' },
]
const quarters = fractions.filter(({ value }) => (value * 4) % 1 === 0)

/** A way of measuring that comes near, and what it costs: how far it is off, and how awkward it is. */
type Candidate = { ml: number; words: string; awkward: number }

/** A nearer measure is worth an awkward one when it is nearer by so much. Our choice. */
const twoSpoonsCost = 0.02
/** Eights, and more spoons than a cook likes to count. Our choice. */
const fiddlyCost = 0.01

function byVolume(amount: number, gramsPerMl: number, up: boolean): KitchenAmount {
  const ml = amount / gramsPerMl
  let best: { candidate: Candidate; cost: number } | null = null
  for (const candidate of candidatesNear(ml)) {
    if (up && candidate.ml < ml * (1 - 1e-9)) continue
    const cost = Math.abs(candidate.ml - ml) / ml + candidate.awkward
    if (best === null || cost < best.cost) best = { candidate, cost }
  }
  if (best === null) throw new Error(`no measure for ${ml} ml`)
  const exact = Math.abs(best.candidate.ml - ml) <= ml * 1e-9
  return { amount: exact ? amount : best.candidate.ml * gramsPerMl, words: best.candidate.words }
}

/**
 * Whole spoons of 5 and 15 ml up to a cup of 240 ml, as US labels count them (21 CFR 101.9(b)(5)(viii), memory): who
 * writes 30 ml for two tablespoons means two tablespoons, though spoons by the gallon hold 1.4 % less. Null for any other
 * amount.
 */
function inLabelSpoons(ml: number): KitchenAmount | null {
  if (ml > 240 || ml % 5 !== 0) return null
  const { amount, words } = byVolume((ml / 5) * mlPer.tsp, 1, false)
  return Math.abs(amount - (ml / 5) * mlPer.tsp) < 1e-6 ? { amount: ml, words } : null
}

function candidatesNear(ml: number): Candidate[] {
  return [
    ...measures(ml, mlPer.tsp, 'tsp', 'tsp', fractions, 6),
    ...[1 / 4, 1 / 2, 3 / 4].map((part) => twoTeaspoons(part)),
    ...measures(ml, mlPer.tbsp, 'tbsp', 'tbsp', [0, 1 / 2].map(fractionOf), 16, 'tsp'),
    ...measures(ml, mlPer.cup, 'cup', 'cups', fractions, 8, 'tbsp'),
    ...measures(ml, mlPer.quart, 'quart', 'quarts', quarters, Number.POSITIVE_INFINITY, 'cup'),
  ]
}

/** Between a quarter and a whole teaspoon an eighth more helps, with a spoon of its own. */
function twoTeaspoons(part: number): Candidate {
  const words = `${fractionOf(part).words} tsp and 1/8 tsp`
  return { ml: (part + 1 / 8) * mlPer.tsp, words, awkward: twoSpoonsCost }
}

function fractionOf(value: number): { value: number; words: string } {
  return fractions.find((one) => one.value === value) ?? { value: 0, words: '' }
}

/** How many of a smaller measure are added to a larger one. */
const addedOf = { tsp: [1 / 2, 1, 2], tbsp: [1, 2, 3], cup: [1, 2, 3] } as const

/** Whole numbers of a measure just below and above, with fractions, and with one to three of the next smaller. */
function measures(
  ml: number,
  size: number,
  one: string,
  many: string,
  parts: readonly { value: number; words: string }[],
  most: number,
  smaller?: 'tsp' | 'tbsp' | 'cup',
): Candidate[] {
  const found: Candidate[] = []
  const floor = Math.floor(ml / size + 1e-9)
  for (const whole of floor === 0 ? [0, 1] : [floor, floor + 1]) {
    if (whole > most) continue
    for (const { value, words } of parts) {
      const count = whole + value
      if (count === 0 || count > most) continue
      const name = count > 1 ? many : one
      const said = `${mixed(whole, words)} ${name}`
      const base = { ml: count * size, words: said, awkward: awkwardness(count, value, one) }
      found.push(base)
      if (smaller === undefined) continue
      for (const more of addedOf[smaller]) {
        const part = more < 1 ? (fractions.find((of) => of.value === more)?.words ?? '') : String(more)
        const plus = `${part} ${smaller === 'cup' && more > 1 ? 'cups' : smaller}`
        found.push({
          ml: base.ml + more * mlPer[smaller],
          words: `${said} and ${plus}`,
          awkward: base.awkward + twoSpoonsCost,
        })
      }
    }
  }
  return found
}

/** Nobody counts out sixteen spoons, or measures a cup of an eighth where two spoons do. */
function awkwardness(count: number, fraction: number, unit: string): number {
  const counted =
    unit === 'tsp' && count >= 3 ? fiddlyCost * count : unit === 'tbsp' && count >= 4 ? fiddlyCost * count : 0
  const tooSmall = (unit === 'cup' && count < 1 / 4) || (unit === 'quart' && count < 2) ? 5 * fiddlyCost : 0
  const manyCups = unit === 'cup' && count > 4 ? fiddlyCost : 0
  return counted + tooSmall + manyCups + (fraction === 1 / 8 ? fiddlyCost : 0)
}

/** Grams below an ounce, as small weights are; then ounces by eighths, quarters and whole; pounds by quarters from two up. */
function onAmericanScales(grams: number, up: boolean): KitchenAmount {
  if (grams < gramsPerOunce) return inSteps(grams, 'g', up)
  if (grams < 2 * gramsPerPound) {
    const step = grams < 2 * gramsPerOunce ? 1 / 8 : grams < 8 * gramsPerOunce ? 1 / 4 : 1
    return onScale(grams, gramsPerOunce, step, 'oz', up)
  }
  return onScale(grams, gramsPerPound, grams < 25 * gramsPerPound ? 1 / 4 : 1, 'lb', up)
}

function onScale(grams: number, unitGrams: number, step: number, unit: string, up: boolean): KitchenAmount {
  const steps = Math.max(1, rounded(grams / unitGrams / step, up))
  const value = steps * step
  const whole = Math.floor(value)
  const pounds = unit === 'oz' && value >= 16 ? `${Math.floor(whole / 16)} lb${whole % 16 === 0 ? '' : ' '}` : ''
  const rest =
    pounds !== '' && whole % 16 === 0
      ? ''
      : `${mixed(pounds === '' ? whole : whole % 16, eighth(value - whole))} ${unit}`
  return { amount: value * unitGrams, words: pounds + rest }
}

function eighth(part: number): string {
  return ['', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'][Math.round(part * 8)] ?? ''
}

/** From which amount on, grams or millilitres, which step is taken. At most 5 % to the nearest from 1 up. */
const steps: readonly [from: number, step: number][] = [
  [0, 0.1],
  [5, 0.5],
  [10, 1],
  [100, 5],
  [1000, 10],
  [10_000, 100],
  [100_000, 1000],
]

function inSteps(amount: number, unit: 'g' | 'ml', up: boolean): KitchenAmount {
  const step = steps.findLast(([from]) => amount >= from)?.[1] ?? 0.1
  const value = Number((Math.max(1, rounded(amount / step, up)) * step).toFixed(1))
  if (value < 10) return { amount: value, words: `${value} ${unit}` }
  return { amount: value, words: unit === 'g' ? formatMass(value, 'metric') : formatVolume(value, 'metric') }
}

function pieces(amount: number, up: boolean): KitchenAmount {
  const step = amount < 10 ? 1 / 2 : 1
  const value = Math.max(1, rounded(amount / step, up)) * step
  const whole = Math.floor(value)
  return { amount: value, words: mixed(whole, value > whole ? '1/2' : '') }
}

/** Up without a step more for the last bit of a sum of fractions. */
function rounded(value: number, up: boolean): number {
  return up ? Math.ceil(value - 1e-9 * Math.max(1, value)) : Math.round(value)
}
