import type { Observation } from '../../core/learning/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking } from '../../web/asking.ts'
import { listRecipes } from '../recipes/queries.ts'

/** Of all batches so many of the newest are learnt from: what was long ago was another kitchen. Our choice. */
const newestBatches = 2000

/**
 * What the newest batches gave, beside what was expected of them when they were finished. Trim is compared where the
 * recipe has not changed since, as only units and minutes are kept with the batch.
 */
export async function listObservations(prisma: TransactionClient, asking: Asking): Promise<Observation[]> {
  const rows = await prisma.batch.findMany({
    where: { coopId: asking.coopId, expectedUnits: { not: null } },
    orderBy: [{ madeOn: 'desc' }, { number: 'desc' }],
    take: newestBatches,
    select: {
      recipeId: true,
      recipeVersion: true,
      pack: true,
      inGrams: true,
      units: true,
      unsealed: true,
      handMinutes: true,
      expectedUnits: true,
      expectedHandMinutes: true,
      trim: { select: { grams: true } },
    },
  })
  if (rows.length === 0) return []
  const recipes = new Map((await listRecipes(prisma, asking)).map((recipe) => [recipe.id, recipe]))
  return rows.map((row): Observation => {
    const recipe = recipes.get(row.recipeId)
    const trimShare =
      recipe?.version === row.recipeVersion
        ? recipe.definition.inputs.reduce(
            (sum, { share, trim }) =>
              sum + ((share.min + share.max) / 2) * trim.reduce((all, one) => all + one.share, 0),
            0,
          )
        : 0
    return {
      recipeId: row.recipeId,
      pack: row.pack,
      inGrams: row.inGrams,
      units: row.units + row.unsealed,
      trimGrams: row.trim.length === 0 ? null : row.trim.reduce((sum, { grams }) => sum + grams, 0),
      handMinutes: row.handMinutes,
      expected: {
        units: row.expectedUnits ?? 0,
        trimGrams: trimShare * row.inGrams,
        handMinutes: row.expectedHandMinutes ?? 0,
      },
    }
  })
}
