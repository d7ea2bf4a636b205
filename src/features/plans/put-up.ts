import { productId, type Question } from '../../core/division/index.ts'
import { jarSizes } from '../../core/process/index.ts'
import { uncountedPerUnit } from '../../core/recipes/index.ts'
import { jarWords } from '../processes/index.ts'

/** What a pack is put up in, many of it, by the short name of the supply: "half-pint jars", "lids", "freezer bags" */
export function putUpWords(key: string): string {
  const size = jarSizes.find((one) => key === `jar-${one}`)
  if (size === undefined) return `${key.replaceAll('-', ' ')}s`
  const { one, more } = jarWords[size]
  return more.endsWith('jars') ? more : `${one} jars`
}

/** What the wishes of a question are put up in of which nothing alike is among the supplies, so that it is not counted. */
export function uncountedPutUp({
  recipes,
  supplies,
  wishes,
}: Pick<Question, 'recipes' | 'supplies' | 'wishes'>): string[] {
  const kept = new Set(supplies.map(({ key }) => key))
  const keys = recipes.flatMap(({ id, definition }) =>
    definition.packs
      .filter((pack) =>
        wishes.some((wish) => wish.atMost > 0 && productId(wish.recipeId, wish.pack) === productId(id, pack.key)),
      )
      .flatMap((pack) =>
        uncountedPerUnit(definition, pack, kept).flatMap(({ supply }) => (supply in pack.supplies ? [supply] : [])),
      ),
  )
  return [...new Set(keys)].map(putUpWords)
}
