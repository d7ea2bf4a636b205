import type { AcidChoice, TestedProcess } from '../process/types.ts'
import { departure, gramsOf, millilitres, mlOf } from './departures.ts'
import { ingredientPerUnit } from './pack-supplies.ts'
import type { Ingredient, Pack } from './recipe.ts'
import type { Departure } from './verdict-types.ts'

export const acidNames: Record<AcidChoice['acid'], string> = {
  'bottled-lemon-juice': 'bottled lemon juice',
  'citric-acid': 'citric acid',
  'vinegar-5': 'vinegar of 5 %',
}

/** So much may be missing: 30 ml are read for two tablespoons of 29.6, and 2.3 g for half a teaspoon of crystals. */
export const acidSlack = 0.01

/** Grams of a teaspoon of citric acid, about: 2.3 g in half a teaspoon (common figure, memory). */
const citricGramsPerTsp = 4.6

/**
 * What keeps a pack from having the acid that its tested row wants in every jar. Only what is measured into the jar
 * counts; any one of the published choices is enough, two halves of different ones are not.
 */
export function acidDepartures(tested: TestedProcess, ingredients: readonly Ingredient[], pack: Pack): Departure[] {
  if (tested.acid.length === 0) return []
  const has = tested.acid.map((choice) => ({ choice, part: partOf(choice, ingredients, pack) }))
  if (has.some(({ part }) => part >= 1 - acidSlack)) return []
  const wanted = tested.acid.map((choice) => inEachJar(choice, 1)).join(' or ')
  const best = has.reduce((one, other) => (other.part > one.part ? other : one))
  if (best.part > 0) {
    const at = ingredients.findIndex(({ kind }) => kind === best.choice.acid)
    const says = `Each ${pack.unit} gets ${inEachJar(best.choice, best.part)}; the tested one has ${wanted}.`
    return [departure('less-acid', place(at), says, tested.source)]
  }
  const fresh = ingredients.findIndex((one) => one.kind === 'fresh-citrus-juice' && ingredientPerUnit(one, pack) > 0)
  if (fresh >= 0) {
    const says = `Fresh juice varies in acid and does not count; the tested one has ${wanted} in each ${pack.unit}.`
    return [departure('fresh-citrus', place(fresh), says, tested.source)]
  }
  const byWeight = ingredients.findIndex(
    ({ kind, perKg }) => perKg > 0 && tested.acid.some(({ acid }) => acid === kind),
  )
  const says =
    byWeight < 0
      ? `No acid is measured into the jars; the tested one has ${wanted} in each ${pack.unit}.`
      : `Its acid goes by weight into the whole pot; the tested one has ${wanted} measured into each ${pack.unit}.`
  return [departure('no-acid', place(byWeight), says, tested.source)]
}

type Choice = TestedProcess['acid'][number]

/** How much of one choice is in each jar, as a part of what the row wants. */
function partOf(choice: Choice, ingredients: readonly Ingredient[], pack: Pack): number {
  return ingredients
    .filter(({ kind }) => kind === choice.acid)
    .reduce((total, one) => {
      const amount = one.perUnit[pack.key] ?? 0
      const byWeight = choice.acid === 'citric-acid' && one.unit !== 'ml'
      return (
        total + (byWeight ? gramsIn(one, amount) / (choice.amount * citricGramsPerTsp) : mlOf(one, amount) / choice.ml)
      )
    }, 0)
}

function gramsIn(ingredient: Ingredient, amount: number): number {
  return ingredient.unit === 'g' ? gramsOf(ingredient, amount) : 0
}

function inEachJar({ acid, amount, unit, ml }: Choice, part: number): string {
  const spoons = Number((amount * part).toFixed(2))
  return acid === 'citric-acid'
    ? `${spoons} tsp (${Number((amount * part * citricGramsPerTsp).toFixed(1))} g) of citric acid`
    : `${spoons} ${unit} (${millilitres(ml * part)}) of ${acidNames[acid]}`
}

function place(index: number): string {
  return index < 0 ? 'ingredients' : `ingredients.${index}`
}
