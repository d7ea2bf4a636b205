import type { DivisionSummary, Question } from '../../core/division/index.ts'
import { productId } from '../../core/division/index.ts'
import type { Pack } from '../../core/recipes/recipe.ts'
import type { Headline } from './documents.ts'

/** The figures of a division's sentence: what came in, what is counted together (most first), what is left over and does not keep. */
export function headlineFor(question: Question, summary: DivisionSummary): Headline {
  const counts: Headline['counts'] = []
  for (const { recipe, pack } of packsOf(question)) {
    const made = summary.products.find((product) => product.productId === productId(recipe.id, pack.key))
    // What only passes on (juice for jelly) is counted where it ends.
    if (!made || made.units === 0 || pack.makes) continue
    const words = countedAs(pack)
    const same = counts.find((count) => count.units === words.units)
    if (same) same.many += made.units
    else counts.push({ ...words, many: made.units })
  }
  counts.sort((a, b) => b.many - a.many)
  return {
    cameInGrams: summary.cameInGrams,
    counts,
    leftOverGrams: summary.ends.reduce((sum, end) => sum + (end.to === 'kept' ? 0 : end.fromLotsGrams), 0),
  }
}

/** Every wished recipe and pack of a question, in its order. */
export function packsOf(question: Question): { recipe: Question['recipes'][number]; pack: Pack }[] {
  return question.wishes.flatMap((wish) => {
    const recipe = question.recipes.find(({ id }) => id === wish.recipeId)
    const pack = recipe?.definition.packs.find(({ key }) => key === wish.pack)
    return recipe && pack ? [{ recipe, pack }] : []
  })
}

/** Jars of any size are jars, bags of any size bags; everything else goes by its own name. */
export function countedAs(pack: Pick<Pack, 'unit' | 'units' | 'supplies'>): { unit: string; units: string } {
  const supplies = Object.keys(pack.supplies)
  if (supplies.some((key) => /^jar\b/.test(key))) return { unit: 'jar', units: 'jars' }
  if (/\bbag$/.test(pack.unit)) return { unit: 'bag', units: 'bags' }
  return { unit: pack.unit, units: pack.units }
}
