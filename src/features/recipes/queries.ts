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
/** Who made which version when; a recipe that was there before versions were kept has one that is "not noted". */
export type RecipeVersionNote = { version: number; name: string; method: Method; changedBy: string; at: Date }
/** A recipe as it stood at one version. */
export type KeptRecipeVersion = RecipeVersionNote & { id: string; definition: RecipeDefinition }

/** All recipes, retired ones among them, by name. Throws an error that names a recipe whose document no longer fits. */
export async function listRecipes(prisma: TransactionClient, asking: Asking): Promise<KeptRecipe[]> {
  const rows = await prisma.recipe.findMany({ where: { coopId: asking.coopId } })
  return rows.map(fromRow).sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findRecipe(prisma: TransactionClient, asking: Asking, id: string): Promise<KeptRecipe> {
  return fromRow(await storedRecipe(prisma, asking, id))
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

/** All versions of a recipe, the one in force first. */
export async function listRecipeVersions(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
): Promise<RecipeVersionNote[]> {
  const recipe = await storedRecipe(prisma, asking, id)
  const rows = await prisma.recipeVersion.findMany({
    where: { coopId: asking.coopId, recipeId: id },
    orderBy: { version: 'desc' },
    omit: { definition: true },
  })
  const notes = rows.map(({ version, name, method, changedBy, at }) => ({
    version,
    name,
    method: storedAs(methods, method),
    changedBy,
    at,
  }))
  return notes[0]?.version === recipe.version ? notes : [noteOf(recipe), ...notes]
}

/** A recipe as it stood at one version; the newest is there too. */
export async function findRecipeVersion(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
  version: number,
): Promise<KeptRecipeVersion> {
  const { coopId } = asking
  const recipe = await storedRecipe(prisma, asking, id)
  const kept = await prisma.recipeVersion.findUnique({
    where: { coopId_recipeId_version: { coopId, recipeId: id, version } },
  })
  if (kept !== null) {
    const { name, method, definition, changedBy, at } = kept
    return {
      id,
      version,
      name,
      method: storedAs(methods, method),
      definition: readDefinition(name, definition),
      changedBy,
      at,
    }
  }
  if (recipe.version !== version) throw notFound('such version of this recipe')
  return { ...noteOf(recipe), id, definition: fromRow(recipe).definition }
}

/** Refuses a name that is taken. */
export async function addRecipe(writing: Writing, values: RecipeValues): Promise<KeptRecipe> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await orNameTaken(transaction.recipe.create({ data: { coopId: asking.coopId, id, ...values } }))
  await noteChange(writing, 'recipes', id, `${values.name} added`)
  return keepVersion(writing, await findRecipe(transaction, asking, id))
}

/** Refuses a name that is taken and the loss of a pack that a plan wishes for; `conflict` for an older version. */
export async function changeRecipe(
  writing: Writing,
  id: string,
  version: number,
  values: RecipeValues,
): Promise<KeptRecipe> {
  const { transaction, asking } = writing
  await keepStanding(writing, id)
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
  return keepVersion(writing, now)
}

/** Takes a recipe out of use for new wishes, or back; what is wished for or was divided stays as it is. */
export async function retireRecipe(writing: Writing, id: string, retired: boolean): Promise<KeptRecipe> {
  const { transaction, asking } = writing
  const before = await findRecipe(transaction, asking, id)
  if (before.retired === retired) return before
  await keepStanding(writing, id)
  await transaction.recipe.update({
    where: { coopId_id: { coopId: asking.coopId, id } },
    data: { retired, version: { increment: 1 } },
  })
  await noteChange(writing, 'recipes', id, `${before.name} ${retired ? 'retired' : 'taken back into use'}`)
  return keepVersion(writing, await findRecipe(transaction, asking, id))
}

/** Keeps the version that a write has just made, beside the older ones. */
async function keepVersion({ transaction, asking, now }: Writing, recipe: KeptRecipe): Promise<KeptRecipe> {
  const { id, version, name, method, definition } = recipe
  await transaction.recipeVersion.create({
    data: { coopId: asking.coopId, recipeId: id, version, name, method, definition, changedBy: asking.name, at: now },
  })
  return recipe
}

/** Keeps the version in force where it was written without one: it would be lost with the next. */
async function keepStanding({ transaction, asking }: Writing, id: string): Promise<void> {
  const { coopId } = asking
  const standing = await storedRecipe(transaction, asking, id)
  const where = { coopId_recipeId_version: { coopId, recipeId: id, version: standing.version } }
  if ((await transaction.recipeVersion.findUnique({ where, select: { version: true } })) !== null) return
  const { definition } = fromRow(standing)
  // two who change it at the same moment keep it once
  await transaction.recipeVersion.createMany({
    data: [{ coopId, recipeId: id, definition, ...noteOf(standing) }],
    skipDuplicates: true,
  })
}

async function storedRecipe(prisma: TransactionClient, asking: Asking, id: string) {
  const row = await prisma.recipe.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } } })
  if (row === null) throw notFound('such recipe')
  return row
}

function noteOf({
  version,
  name,
  method,
  createdAt,
}: Omit<Row, 'definition'> & { createdAt: Date }): RecipeVersionNote {
  return { version, name, method: storedAs(methods, method), changedBy: 'not noted', at: createdAt }
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
