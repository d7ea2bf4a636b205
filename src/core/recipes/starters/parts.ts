import type { JarSize } from '../../process/types.ts'
import { crop } from '../../produce/crops.ts'
import type { EquipmentKind, Station, WorkKind } from '../../produce/vocabulary.ts'
import { gramsPerPound } from '../../units/mass.ts'
import type { Ingredient, IngredientKind, RecipeInput, Step } from '../recipe.ts'
import type { PackDraft, RunDraft } from './build.ts'

// Short words in which the starters are written.

type Suits = RecipeInput['suits']
type Trim = RecipeInput['trim']

/**
 * A crop as an input. Without trim of its own it loses the share that the crop's figures give, and a seventh of the
 * whole more where it is damaged (common practice, no source). @throws RangeError for a crop that is not known.
 */
export function of(key: string, suits: Suits, trim?: Trim, share: number | RecipeInput['share'] = 1): RecipeInput {
  const known = crop(key)
  if (known === undefined) throw new RangeError(`no crop is called ${key}`)
  const usual: Trim = [
    {
      kind: known.trim.kind,
      share: known.trim.share,
      ...(suits.damaged === undefined ? {} : { shareByClass: { damaged: Math.min(0.8, known.trim.share + 0.14) } }),
    },
  ]
  return {
    from: { crop: key },
    suits,
    trim: trim ?? usual,
    share: typeof share === 'number' ? { min: share, max: share } : share,
  }
}

/** What another recipe or the trimming gives. */
export function material(name: string, trim: Trim = []): RecipeInput {
  return { from: { material: name }, suits: {}, share: { min: 1, max: 1 }, trim }
}

export function peels(share: number, damaged = share): Trim {
  return [{ kind: 'peels-cores', share, ...(damaged === share ? {} : { shareByClass: { damaged } }) }]
}

export function stones(share: number, damaged = share): Trim {
  return [{ kind: 'stones-stems', share, ...(damaged === share ? {} : { shareByClass: { damaged } }) }]
}

export function pomace(share: number): Trim {
  return [{ kind: 'pomace', share }]
}

/** A published batch: what of each crop goes in, grams as bought, and what comes of it. */
export type Batch = {
  inputs: RecipeInput[]
  grams: number
  /** Raw weight for one of so many units. */
  each: (units: number) => number
  /** So much for the batch, as an amount for each kilogram of it; a tenth is rounded up, so that acid is never less. */
  per: (amount: number) => number
}

export function batch(
  ...produce: readonly (readonly [key: string, suits: Suits, grams: number, trim?: Trim])[]
): Batch {
  const grams = produce.reduce((sum, [, , many]) => sum + many, 0)
  return {
    inputs: produce.map(([key, suits, many, trim]) => of(key, suits, trim, many / grams)),
    grams,
    each: (units) => Math.round(grams / units),
    per: (amount) => Math.ceil((amount / grams) * 10_000 - 1e-6) / 10,
  }
}

/** Raw weight for one jar where so many pounds fill so many. */
export function pounds(lb: number, jars: number): number {
  return Math.round((lb * gramsPerPound) / jars)
}

type JarName = Extract<JarSize, 'half-pint' | 'pint' | 'quart'>
type Filled = Pick<PackDraft, 'gramsPerUnit' | 'worthMinor'> & Partial<PackDraft>

/** A jar with its lid. */
export function jar(size: JarName, gramsPerUnit: number, worthMinor: number, runs: RunDraft[] = []): PackDraft {
  return {
    key: size,
    unit: size,
    units: `${size}s`,
    jar: size,
    gramsPerUnit,
    worthMinor,
    runs,
    machineMinutesPerUnit: {},
    supplies: { [`jar-${size}`]: 1, lid: 1 },
    freezerMl: 0,
    makes: null,
  }
}

/** What is not closed in a jar: a bag, a tray, a crock, a box. */
export function bag(key: string, unit: string, units: string, filled: Filled): PackDraft {
  return {
    key,
    unit,
    units,
    jar: null,
    runs: [],
    machineMinutesPerUnit: {},
    supplies: {},
    freezerMl: 0,
    makes: null,
    ...filled,
  }
}

/** A freezer bag of so many grams ready to freeze. */
export function freezerBag(grams: 500 | 1000, gramsPerUnit: number, worthMinor: number, freezerMl: number): PackDraft {
  const [key, unit] = grams === 1000 ? ['bag-1kg', 'one-kilo bag'] : ['bag-500g', 'half-kilo bag']
  return bag(key, unit, `${unit}s`, { gramsPerUnit, worthMinor, freezerMl, supplies: { 'freezer-bag': 1 } })
}

/** Jars in a load: 7 quarts or 9 pints (Guide 1 p. 1-17); half-pints in one layer 8 to 12 (handbooks, memory). */
const inALoad = { quart: 7, pint: 9, 'half-pint': 12 } as const
/** Heating up 20 to 30 minutes, 5 to settle (Guide 1 p. 1-17, 1-18), 5 to take the jars out (common practice). */
export const besideBoilingWater = 35
/** Heating 12 to 15 minutes, venting 10, 5 to come to pressure, 35 to cool (Guide 1 p. 1-17, 1-20, 1-22). */
export const besidePressure = 65

/** One load of a boiling-water canner, on its burner all the time; the tested minutes come on top. */
export function cannerLoad(size: JarName): RunDraft {
  return {
    name: 'canner load',
    unitsPerRun: inALoad[size],
    fillAtLeast: 0.5,
    machineMinutes: { canner: besideBoilingWater, burner: besideBoilingWater },
    process: true,
  }
}

/** One load of a pressure canner; half-pints are counted like pints. */
export function pressureLoad(size: JarName): RunDraft {
  return {
    name: 'pressure canner load',
    unitsPerRun: size === 'quart' ? 7 : 9,
    fillAtLeast: 0.5,
    machineMinutes: { 'pressure-canner': besidePressure, burner: besidePressure },
    process: true,
  }
}

/** One pot on one burner. */
export function pot(unitsPerRun: number, minutes: number): RunDraft {
  return { name: 'pot', unitsPerRun, fillAtLeast: 0.5, machineMinutes: { burner: minutes }, process: false }
}

/** Trays of a dehydrator or an oven for so many hours. */
export function trays(unitsPerRun: number, hours: number, machine: 'dehydrator' | 'oven' = 'dehydrator'): RunDraft {
  return {
    name: `${machine} of trays`,
    unitsPerRun,
    fillAtLeast: machine === 'oven' ? 0.6 : 0.3,
    machineMinutes: { [machine]: hours * 60 },
    process: false,
  }
}

type Times = { perKg?: number; perUnit?: number; perRun?: number; wait?: number; hands?: number; atOnce?: boolean }

/** One step; times that are not given are none. */
export function step(
  station: Station,
  work: WorkKind | null,
  says: string,
  { perKg = 0, perUnit = 0, perRun = 0, wait = 0, hands = 1, atOnce = false }: Times = {},
  equipment: EquipmentKind[] = [],
): Step {
  return {
    says,
    station,
    work,
    hands,
    minutes: { perKg, perUnit, perRun },
    waitMinutes: wait,
    equipment,
    thenAtOnce: atOnce,
  }
}

/** An ingredient by the kilogram of raw weight, by the jar, or both. */
export function ingredient(
  supply: string,
  name: string,
  kind: IngredientKind,
  unit: Ingredient['unit'],
  perKg: number,
  perUnit: Record<string, number> = {},
): Ingredient {
  return { supply, name, kind, unit, perKg, perUnit }
}
