import type { IngredientKind } from '../../recipes/recipe.ts'
import type { Citation } from '../sources.ts'
import type { JarSize } from '../types.ts'
import type { PublishedFormula } from './types.ts'

/** A published recipe as it is printed, grams as bought and millilitres: what a formula is added up from. */
export type PublishedBatch = {
  product: string
  form: string | null
  /** The crops it is printed for, where the product's recipes differ by crop; null: all others. */
  crops: readonly string[] | null
  /** Fruit and tomatoes by the crop's key. */
  fruit: Readonly<Record<string, number>>
  /** Low-acid vegetables by the crop's key, or by their name where they are no crop here. */
  vegetables: Readonly<Record<string, number>>
  vinegar: number
  lemon: number
  citric: number
  sugar: number
  sugarCounts: boolean
  modifiedStarch: number
  starch: number
  also: readonly IngredientKind[]
  yields: { jar: JarSize; least: number; most: number }
  source: Citation
}

type Draft = Pick<PublishedBatch, 'product' | 'yields' | 'source'> & Partial<PublishedBatch>

/** A batch of which only what is there is written down. */
export function published(draft: Draft): PublishedBatch {
  return {
    form: null,
    crops: null,
    fruit: {},
    vegetables: {},
    vinegar: 0,
    lemon: 0,
    citric: 0,
    sugar: 0,
    sugarCounts: false,
    modifiedStarch: 0,
    starch: 0,
    also: [],
    ...draft,
  }
}

export function formulaOf(batch: PublishedBatch): PublishedFormula {
  return {
    product: batch.product,
    form: batch.form,
    crops: batch.crops,
    acidProduceGrams: sum(batch.fruit),
    lowAcidGrams: sum(batch.vegetables),
    vinegarMl: batch.vinegar,
    bottledLemonMl: batch.lemon,
    citricAcidGrams: batch.citric,
    sugarGrams: batch.sugar,
    sugarCounts: batch.sugarCounts,
    modifiedStarchGrams: batch.modifiedStarch,
    otherStarchGrams: batch.starch,
    also: batch.also,
    yields: batch.yields,
    source: batch.source,
  }
}

function sum(parts: Readonly<Record<string, number>>): number {
  return Object.values(parts).reduce((total, grams) => total + grams, 0)
}
