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
 * As `packSupplies`, with only what the kitchen keeps count of: an ingredient where its supply is among `kept`, what it
 * is put up in where anything of that kind is. A kitchen that counts quart jars has no pint jars if it lists none; one
 * that lists no jars at all does not count them. What is not counted stops nothing; `uncountedPerUnit` names it.
 */
export function countedSupplies(
  definition: Pick<RecipeDefinition, 'ingredients'>,
  pack: Pack,
  kept: ReadonlySet<string>,
): Record<string, number> {
  const counted = Object.entries(packSupplies(definition, pack)).filter(
    ([key]) => kept.has(key) || (key in pack.supplies && keepsKindOf(key, kept)),
  )
  return Object.fromEntries(counted)
}

/** Whether something of the same kind is counted: `jar-quart` for `jar-pint`. */
function keepsKindOf(key: string, kept: ReadonlySet<string>): boolean {
  const kind = key.split('-')[0]
  return [...kept].some((other) => other.split('-')[0] === kind)
}

/** `supply`: its key; '' where an ingredient has none. */
export type Uncounted = { supply: string; name: string; unit: Ingredient['unit']; amount: number }

/** What one unit of a pack takes of what the kitchen keeps no count of: ingredients but water, and what it is put up in. */
export function uncountedPerUnit(
  definition: Pick<RecipeDefinition, 'ingredients'>,
  pack: Pick<Pack, 'key' | 'gramsPerUnit' | 'supplies'>,
  kept: ReadonlySet<string>,
): Uncounted[] {
  const putUpIn = Object.entries(pack.supplies).flatMap(([key, amount]) =>
    amount === 0 || keepsKindOf(key, kept)
      ? []
      : [{ supply: key, name: key.replaceAll('-', ' '), unit: 'piece' as const, amount }],
  )
  const ingredients = definition.ingredients.flatMap((one) => {
    const amount = ingredientPerUnit(one, pack)
    const counted = kept.has(one.supply) || one.supply in pack.supplies
    return one.kind === 'water' || counted || amount === 0
      ? []
      : [{ supply: one.supply, name: one.name, unit: one.unit, amount }]
  })
  return [...putUpIn, ...ingredients]
}
