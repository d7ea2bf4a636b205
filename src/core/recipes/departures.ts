import type { Citation } from '../process/sources.ts'
import { cupWeight } from '../units/densities.ts'
import { formatMass, formatVolume, mlPer } from '../units/format.ts'
import type { Ingredient, IngredientKind } from './recipe.ts'
import type { Departure, DepartureKind } from './verdict-types.ts'

/** One difference. `at` is a place in the definition, "" for the kitchen. */
export function departure(kind: DepartureKind, at: string, says: string, source: Citation | null): Departure {
  return { kind, says, at, source }
}

/** An amount of an ingredient in grams; infinite for pieces, whose weight nobody has said. */
export function gramsOf({ unit, kind }: Pick<Ingredient, 'unit' | 'kind'>, amount: number): number {
  if (unit === 'g' || amount === 0) return amount
  return unit === 'ml' ? amount * density(kind) : Number.POSITIVE_INFINITY
}

/** An amount of an ingredient in millilitres; nothing for pieces, so that too little is never taken for enough. */
export function mlOf({ unit, kind }: Pick<Ingredient, 'unit' | 'kind'>, amount: number): number {
  if (unit === 'piece') return 0
  return unit === 'ml' ? amount : amount / density(kind)
}

/** Grams of a millilitre; water's where nothing else is known. */
function density(kind: IngredientKind): number {
  return (cupWeight(kind)?.gramsPerCup ?? mlPer.cup) / mlPer.cup
}

/** "1.25 kg", "30 ml": figures of a departure, in metric units. */
export function grams(amount: number): string {
  return Number.isFinite(amount)
    ? formatMass(amount < 10 ? Number(amount.toFixed(1)) : amount, 'metric')
    : 'an amount by the piece'
}

export function millilitres(amount: number): string {
  return formatVolume(amount, 'metric')
}

/** "30 minutes", "1 minute" */
export function minutes(many: number): string {
  return `${many} ${many === 1 ? 'minute' : 'minutes'}`
}
