import { type Method, methods } from '../../core/produce/vocabulary.ts'
import type { Pack, RecipeDefinition } from '../../core/recipes/index.ts'
import type { KeptRecipe } from './queries.ts'
import { methodWords } from './words.ts'

/** The method of an address; null when it names none. */
export function methodNamed(text: string | undefined): Method | null {
  return methods.find((one) => one === text) ?? null
}

/**
 * A recipe to begin another from, kept another way: without a process, without canner loads, and with room in the
 * freezer where it is to be frozen. Nothing of it is saved; a cook goes over it.
 */
export function keptOtherwise(recipe: KeptRecipe, method: Method): KeptRecipe {
  const canned = method === 'water-bath-canned' || method === 'pressure-canned'
  const { definition } = recipe
  const changed: RecipeDefinition = canned
    ? definition
    : { ...definition, process: null, packs: definition.packs.map((pack) => outOfTheCanner(pack, method)) }
  return {
    ...recipe,
    name: `${recipe.name}, ${methodWords[method]}`.slice(0, 80),
    method,
    definition: changed,
    version: 0,
  }
}

function outOfTheCanner(pack: Pack, method: Method): Pack {
  const freezerMl =
    method === 'frozen' && pack.freezerMl === 0 ? Math.round(pack.gramsPerUnit * mlPerGram) : pack.freezerMl
  return { ...pack, jar: null, runs: pack.runs.filter((run) => !run.process), freezerMl }
}

/** A first guess for the form, a little more than water takes, so that packages have air between them. Our choice. */
const mlPerGram = 1.1
