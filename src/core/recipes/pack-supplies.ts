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

/**
 * As `packSupplies`, with only what the kitchen keeps count of: what it is put up in always, an ingredient where its
 * supply is among `kept`. A kitchen that does not count its salt is not stopped by it; `uncountedPerUnit` names the rest.
 */
export function countedSupplies(
  definition: Pick<RecipeDefinition, 'ingredients'>,
  pack: Pack,
  kept: ReadonlySet<string>,
): Record<string, number> {
  const counted = Object.entries(packSupplies(definition, pack)).filter(
    ([key]) => key in pack.supplies || kept.has(key),
  )
  return Object.fromEntries(counted)
}

/** What one unit of a pack takes of ingredients that the kitchen keeps no count of; water apart. */
export function uncountedPerUnit(
  definition: Pick<RecipeDefinition, 'ingredients'>,
  pack: Pick<Pack, 'key' | 'gramsPerUnit' | 'supplies'>,
  kept: ReadonlySet<string>,
): { name: string; unit: Ingredient['unit']; amount: number }[] {
  return definition.ingredients.flatMap((one) => {
    const amount = ingredientPerUnit(one, pack)
    const counted = kept.has(one.supply) || one.supply in pack.supplies
    return one.kind === 'water' || counted || amount === 0 ? [] : [{ name: one.name, unit: one.unit, amount }]
  })
}
