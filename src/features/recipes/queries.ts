import { type Method, methods } from '../../core/produce/vocabulary.ts'
import type { Recipe, RecipeDefinition } from '../../core/recipes/index.ts'
import { isUniqueViolation } from '../../db/errors.ts'
import { storedAs } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { readDefinition } from './document.ts'

export type KeptRecipe = Recipe & { version: number; retired: boolean }
export type RecipeValues = { name: string; method: Method; definition: RecipeDefinition }

/** All recipes, retired ones among them, by name. Throws an error that names a recipe whose document no longer fits. */
export async function listRecipes(prisma: TransactionClient, asking: Asking): Promise<KeptRecipe[]> {
  const rows = await prisma.recipe.findMany({ where: { coopId: asking.coopId } })
  return rows.map(fromRow).sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findRecipe(prisma: TransactionClient, asking: Asking, id: string): Promise<KeptRecipe> {
  const row = await prisma.recipe.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } } })
  if (row === null) throw notFound('such recipe')
  return fromRow(row)
}

/** What the co-op's recipes make for one another, by key and name; retired recipes make nothing. */
export async function listMaterials(
  prisma: TransactionClient,
  asking: Asking,
): Promise<{ key: string; name: string }[]> {
  const made = new Map<string, string>()
  for (const { retired, definition } of await listRecipes(prisma, asking)) {
    for (const { makes } of retired ? [] : definition.packs) if (makes !== null) made.set(makes.material, makes.name)
  }
  return [...made].map(([key, name]) => ({ key, name }))
}

/** Refuses a name that is taken. */
export async function addRecipe(writing: Writing, values: RecipeValues): Promise<KeptRecipe> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await orNameTaken(transaction.recipe.create({ data: { coopId: asking.coopId, id, ...values } }))
  await noteChange(writing, 'recipes', id, `${values.name} added`)
  return findRecipe(transaction, asking, id)
}

/** Refuses a name that is taken and the loss of a pack that a plan wishes for; `conflict` for an older version. */
export async function changeRecipe(
  writing: Writing,
  id: string,
  version: number,
  values: RecipeValues,
): Promise<KeptRecipe> {
  const { transaction, asking } = writing
  const { count } = await orNameTaken(
    transaction.recipe.updateMany({
      where: { coopId: asking.coopId, id, version },
      data: { ...values, version: { increment: 1 } },
    }),
  )
  const now = await findRecipe(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this recipe')
  await refuseLostPack(writing, id, values.definition)
  await noteChange(writing, 'recipes', id, `${values.name} changed`)
  return now
}

/** Takes a recipe out of use for new wishes, or back; what is wished for or was divided stays as it is. */
export async function retireRecipe(writing: Writing, id: string, retired: boolean): Promise<KeptRecipe> {
  const { transaction, asking } = writing
  const before = await findRecipe(transaction, asking, id)
  if (before.retired === retired) return before
  await transaction.recipe.update({
    where: { coopId_id: { coopId: asking.coopId, id } },
    data: { retired, version: { increment: 1 } },
  })
  await noteChange(writing, 'recipes', id, `${before.name} ${retired ? 'retired' : 'taken back into use'}`)
  return findRecipe(transaction, asking, id)
}

async function refuseLostPack(
  { transaction, asking }: Writing,
  id: string,
  { packs }: RecipeDefinition,
): Promise<void> {
  const lost = await transaction.wish.findFirst({
    where: { coopId: asking.coopId, recipeId: id, pack: { notIn: packs.map((pack) => pack.key) } },
    select: { pack: true, plan: { select: { name: true } } },
  })
  if (lost === null) return
  const words = `The plan “${lost.plan.name}” wishes for “${lost.pack}”: keep a size with that short name`
  throw refused(words, { 'packs.0.key': words })
}

async function orNameTaken<T>(write: Promise<T>): Promise<T> {
  try {
    return await write
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = 'There is a recipe of this name already: choose another'
    throw refused(words, { name: words })
  }
}

type Row = { id: string; name: string; method: string; definition: unknown; version: number; retired: boolean }

function fromRow({ id, name, method, definition, version, retired }: Row): KeptRecipe {
  return { id, name, method: storedAs(methods, method), definition: readDefinition(name, definition), version, retired }
}
