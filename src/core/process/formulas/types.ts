import type { IngredientKind } from '../../recipes/recipe.ts'
import type { Citation } from '../sources.ts'
import type { JarSize } from '../types.ts'

/**
 * What a published recipe holds, as far as its process depends on it. A row marked `asPublished` holds only for these
 * proportions: acid not less, low-acid vegetables and starch not more.
 */
export type PublishedFormula = {
  /** As in the process table. */
  product: string
  /** null: the same for all its forms. */
  form: string | null
  /** The crops it is printed for, where the product's recipes differ by crop; null: all that have none of their own. */
  crops: readonly string[] | null
  /** Fruit and tomatoes as bought, grams. */
  acidProduceGrams: number
  /** Onions, peppers, cucumbers and other low-acid vegetables as bought, grams. */
  lowAcidGrams: number
  /** Vinegar of 5 %. */
  vinegarMl: number
  bottledLemonMl: number
  citricAcidGrams: number
  sugarGrams: number
  /** Sugar is what makes it keep (jam and jelly without added pectin): it may not be less. */
  sugarCounts: boolean
  /** Cook-type modified starch, and any other that the published recipe names. */
  modifiedStarchGrams: number
  otherStarchGrams: number
  /** Kinds of ingredients that the published recipe has beside those above, sugar, salt, spice and water. */
  also: readonly IngredientKind[]
  yields: { jar: JarSize; least: number; most: number }
  source: Citation
}
