import { type KitchenAmount, kitchenAmount } from '../units/kitchen.ts'
import type { UnitSystem } from '../units/readings.ts'
import { unitsOfALoad } from './for-units.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import type { Ingredient, IngredientKind, Pack, RecipeDefinition, RecipeInput } from './recipe.ts'

/** What a recipe is scaled by: raw weight in grams, units of the pack, or whole loads. */
export type ScaleBy = { grams: number } | { units: number } | { loads: number }

/** Amounts are in the ingredient's own unit; `words` are for the person's measures. */
export type ScaledIngredient = {
  supply: string
  name: string
  kind: IngredientKind
  unit: Ingredient['unit']
  /** For all units together, as the recipe says it. */
  exact: number
  /** For all units together, as it is measured out. */
  amount: number
  words: string
  /** The part that is measured into each jar; null: all goes by weight. */
  eachUnit: ({ exact: number } & KitchenAmount) | null
  /** The part that goes by weight, for all of it; null: all is measured into the jars. */
  together: ({ exact: number } & KitchenAmount) | null
}

export type ScaledRecipe = {
  pack: string
  units: number
  /** Of each run, how often it is started and what the last one holds. */
  loads: { name: string; many: number; unitsPerRun: number; lastHolds: number }[]
  /** Raw weight, grams: what goes in and, when scaled by weight, what is left over. */
  usedGrams: number
  leftGrams: number
  inputs: { from: RecipeInput['from']; leastGrams: number; mostGrams: number }[]
  ingredients: ScaledIngredient[]
  /** Jars, lids and all else it is put up in. */
  putUpIn: Record<string, number>
  /** Everything it takes from the supplies, as measured out: for the shopping list. */
  supplies: Record<string, number>
}

/** What is never rounded down: too little of it is a different recipe. */
const acids: readonly IngredientKind[] = ['bottled-lemon-juice', 'citric-acid', 'vinegar-5', 'vinegar-unmeasured']
/** Above any kitchen: a slip of the hand. */
const mostUnits = 100_000

/**
 * A recipe for so much raw weight, so many units or so many loads. By weight, as many whole units as it gives, perhaps
 * none; the rest is left over. Acid is never rounded down, neither in the jar nor together.
 *
 * @throws RangeError for a weight that is not above 0, for units and loads that are not whole and at least 1, and for
 *   more than 100,000 units
 */
export function scaleRecipe(definition: RecipeDefinition, pack: Pack, by: ScaleBy, system: UnitSystem): ScaledRecipe {
  const units = unitsOf(pack, by)
  const usedGrams = units * pack.gramsPerUnit
  const ingredients = units === 0 ? [] : definition.ingredients.map((one) => scaled(one, pack, units, system))
  const putUpIn = Object.fromEntries(Object.entries(pack.supplies).map(([key, amount]) => [key, amount * units]))
  return {
    pack: pack.key,
    units,
    loads: pack.runs.map(({ name, unitsPerRun }) => {
      const many = Math.ceil(units / unitsPerRun)
      return { name, many, unitsPerRun, lastHolds: many === 0 ? 0 : units - (many - 1) * unitsPerRun }
    }),
    usedGrams,
    leftGrams: 'grams' in by ? by.grams - usedGrams : 0,
    inputs: definition.inputs.map(({ from, share }) => ({
      from,
      leastGrams: usedGrams * share.min,
      mostGrams: usedGrams * share.max,
    })),
    ingredients: ingredients.filter(({ exact }) => exact > 0),
    putUpIn,
    supplies: suppliesOf(putUpIn, ingredients),
  }
}

function unitsOf(pack: Pack, by: ScaleBy): number {
  const units =
    'grams' in by
      ? Math.floor(positive(by.grams) / positive(pack.gramsPerUnit))
      : 'units' in by
        ? whole(by.units)
        : whole(by.loads) * unitsOfALoad(pack)
  if (units > mostUnits) throw new RangeError(`${units} units are more than a kitchen makes`)
  return units
}

function positive(grams: number): number {
  if (!(grams > 0 && Number.isFinite(grams))) throw new RangeError('a weight is above 0')
  return grams
}

function whole(many: number): number {
  if (!Number.isSafeInteger(many) || many < 1) throw new RangeError('units and loads are whole numbers of at least 1')
  return many
}

function scaled(ingredient: Ingredient, pack: Pack, units: number, system: UnitSystem): ScaledIngredient {
  const { supply, name, kind, unit } = ingredient
  const up = acids.includes(kind)
  const measure = (exact: number) =>
    exact > 0 ? { exact, ...kitchenAmount(exact, unit, { substance: kind, system, up }) } : null
  const eachUnit = measure(ingredient.perUnit[pack.key] ?? 0)
  const together = measure((ingredient.perKg * units * pack.gramsPerUnit) / 1000)
  const amount = (eachUnit?.amount ?? 0) * units + (together?.amount ?? 0)
  return {
    supply,
    name,
    kind,
    unit,
    exact: ingredientPerUnit(ingredient, pack) * units,
    amount,
    words:
      eachUnit === null
        ? (together?.words ?? 'none')
        : kitchenAmount(amount, unit, { substance: kind, system, up }).words,
    eachUnit,
    together,
  }
}

function suppliesOf(putUpIn: Record<string, number>, ingredients: ScaledIngredient[]): Record<string, number> {
  const total = { ...putUpIn }
  for (const { supply, kind, amount } of ingredients) {
    if (kind === 'water' || supply === '' || amount === 0) continue
    total[supply] = (total[supply] ?? 0) + amount
  }
  return total
}
