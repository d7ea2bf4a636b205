import type { CannedBatch } from '../../core/batches/index.ts'
import { type TrimKind, trimKinds } from '../../core/produce/index.ts'
import { forUnits, isCanned, type Pack, type PackVerdict, packSupplies, verdictOn } from '../../core/recipes/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { readPlace } from '../processes/index.ts'
import { findRecipe, type KeptRecipe, listRecipes } from '../recipes/queries.ts'
import { type JarsOfMaterial, jarsOfProducts } from './queries.ts'

/** A recipe in one of its packs, with what its process would be in this kitchen. */
export type Making = { recipe: KeptRecipe; pack: Pack; verdict: PackVerdict; canned: boolean }

/** not-found for a recipe of another co-op, or a pack that the recipe does not have. */
export async function readMaking(
  prisma: TransactionClient,
  asking: Asking,
  recipeId: string,
  packKey: string,
): Promise<Making> {
  const recipe = await findRecipe(prisma, asking, recipeId)
  const pack = recipe.definition.packs.find(({ key }) => key === packKey)
  const verdict = verdictOn(recipe, await readPlace(prisma, asking)).packs.find((one) => one.pack === packKey)
  if (pack === undefined || verdict === undefined) throw notFound('such size of that recipe')
  return { recipe, pack, verdict, canned: isCanned(recipe.method) }
}

/** What `judgeBatch` holds a process against. */
export function cannedBatch(
  { recipe, pack, verdict }: Making,
  facts: Pick<CannedBatch, 'altitudeM' | 'jarsIn' | 'notes'>,
): CannedBatch {
  const { id, version, definition } = recipe
  return { recipe: { id, version }, verdict, claim: definition.process, jar: pack.jar, ...facts }
}

/** Crops that the recipe takes. */
export function cropsOf({ recipe }: Pick<Making, 'recipe'>): string[] {
  return recipe.definition.inputs.flatMap(({ from }) => ('crop' in from ? [from.crop] : []))
}

/** Materials that the recipe takes: trim, of which no stock is kept, and what other recipes make. */
export function materialsOf({ recipe }: Pick<Making, 'recipe'>): { trim: TrimKind[]; made: string[] } {
  const keys = recipe.definition.inputs.flatMap(({ from }) => ('material' in from ? [from.material] : []))
  const trim = trimKinds.filter((kind) => keys.includes(kind))
  return { trim, made: keys.filter((key) => !trim.some((kind) => kind === key)) }
}

/** Trim that leaves it. */
export function trimOf({ recipe }: Pick<Making, 'recipe'>): TrimKind[] {
  const kinds = recipe.definition.inputs.flatMap(({ trim }) => trim.map(({ kind }) => kind))
  return trimKinds.filter((kind) => kinds.includes(kind))
}

/** Jars in stock of what the recipe takes from other recipes, with the grams that one of them is. */
export async function jarsFor(
  prisma: TransactionClient,
  asking: Asking,
  making: Making,
): Promise<(JarsOfMaterial & { gramsPerUnit: number })[]> {
  const { made } = materialsOf(making)
  if (made.length === 0) return []
  const products = await productsMaking(prisma, asking, made)
  return (
    await jarsOfProducts(
      prisma,
      asking,
      products.map(({ recipeId, pack }) => ({ recipeId, pack })),
    )
  ).map((jars) => ({ ...jars, gramsPerUnit: gramsOfOne(products, jars) ?? 0 }))
}

/** Recipes and packs that make any of these materials, and the grams that one unit is. */
export async function productsMaking(
  prisma: TransactionClient,
  asking: Asking,
  materials: readonly string[],
): Promise<{ recipeId: string; pack: string; gramsPerUnit: number }[]> {
  if (materials.length === 0) return []
  return (await listRecipes(prisma, asking)).flatMap(({ id: recipeId, definition }) =>
    definition.packs.flatMap(({ key, makes }) =>
      makes !== null && materials.includes(makes.material)
        ? [{ recipeId, pack: key, gramsPerUnit: makes.gramsPerUnit }]
        : [],
    ),
  )
}

/** Grams of one unit among products; null where it is none of them. */
export function gramsOfOne(
  products: readonly { recipeId: string; pack: string; gramsPerUnit: number }[],
  { recipeId, pack }: { recipeId: string; pack: string },
): number | null {
  return products.find((one) => one.recipeId === recipeId && one.pack === pack)?.gramsPerUnit ?? null
}

/** Minutes of all hands that so many units take by the recipe. */
export function handMinutesFor({ recipe, pack }: Making, units: number): number {
  const { handMinutes } = forUnits(recipe.definition, pack, Math.max(1, Math.round(units)))
  return Object.values(handMinutes).reduce((sum, minutes) => sum + minutes, 0)
}

/** What so many filled units take of each supply by the recipe, in whole numbers of the supply's unit. */
export function suppliesFor({ recipe, pack }: Making, units: number): Record<string, number> {
  const each = Object.entries(packSupplies(recipe.definition, pack))
  return Object.fromEntries(each.map(([key, amount]) => [key, Math.round(amount * units)]))
}
