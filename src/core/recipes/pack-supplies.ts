import type { Ingredient, Pack, RecipeDefinition } from './recipe.ts'

/** What one unit of a pack takes of an ingredient, in the ingredient's own unit: by weight and by the jar together. */
export function ingredientPerUnit(ingredient: Ingredient, pack: Pick<Pack, 'key' | 'gramsPerUnit'>): number {
  return ingredient.perKg * (pack.gramsPerUnit / 1000) + (ingredient.perUnit[pack.key] ?? 0)
}

/**
 * Supplies for one unit of a pack, by key and in the supply's own unit: what it is put up in, and what goes in beside
 * produce. Water comes from the tap and is no supply.
 */
export function packSupplies(definition: Pick<RecipeDefinition, 'ingredients'>, pack: Pack): Record<string, number> {
  const total = new Map(Object.entries(pack.supplies))
  for (const ingredient of definition.ingredients) {
    if (ingredient.kind === 'water' || ingredient.supply === '') continue
    const amount = ingredientPerUnit(ingredient, pack)
    if (amount > 0) total.set(ingredient.supply, (total.get(ingredient.supply) ?? 0) + amount)
  }
  return Object.fromEntries(total)
}
