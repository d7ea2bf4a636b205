import { z } from 'zod'
import { type Starter, starters } from '../../core/recipes/starters/index.ts'
import { notFound, refused } from '../../errors.ts'
import type { Writing } from '../changes/index.ts'
import { keyText } from './document.ts'
import { addRecipe, type KeptRecipe, listRecipes } from './queries.ts'

/** Which starter an address means. */
export const starterParams = z.object({ key: keyText })

/** What the co-op has already: ids by name. */
export type Taken = ReadonlyMap<string, string>

export function takenBy(recipes: readonly { id: string; name: string }[]): Taken {
  return new Map(recipes.map(({ id, name }) => [name, id]))
}

/** `notFound` for a key that no starter has. */
export function starterOf(key: string): Starter {
  const starter = starters.find((one) => one.key === key)
  if (starter === undefined) throw notFound('such recipe in the library')
  return starter
}

/** Copies a starter into the co-op's recipes; refused where one of its name is there already. */
export async function takeStarter(writing: Writing, { name, method, definition }: Starter): Promise<KeptRecipe> {
  if (takenBy(await listRecipes(writing.transaction, writing.asking)).has(name)) {
    throw refused(`There is a recipe called “${name}” already: give that one another name first, or keep it.`)
  }
  return addRecipe(writing, { name, method, definition })
}
