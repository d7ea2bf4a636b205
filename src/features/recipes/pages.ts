import { type Method, methods, ripenessClasses } from '../../core/produce/vocabulary.ts'
import {
  type Ingredient,
  type KitchenPlace,
  type Pack,
  type RecipeInput,
  type RecipeVerdict,
  verdictOn,
} from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { processesPath } from '../processes/index.ts'
import { ownCautions, stepsPart } from './card-page.ts'
import { type Names, packPart } from './pack-part.ts'
import {
  editRecipePath,
  newRecipePath,
  recipeAmountsPath,
  recipeCardPath,
  recipePath,
  recipeRetirementPath,
  recipesPath,
  recipeVersionsPath,
  startersPath,
} from './paths.ts'
import type { KeptRecipe } from './queries.ts'
import { type RecipeToShow, standingNote, verdictPart } from './verdict-part.ts'
import { capital, inputName, methodWords, trimWords } from './words.ts'

/** All recipes by method, each with its standing. */
export function recipesPage(recipes: KeptRecipe[], place: KitchenPlace) {
  const entryOf = (recipe: KeptRecipe) => entry(recipe, verdictOn(recipe, place))
  const used = recipes.filter((recipe) => !recipe.retired)
  return {
    title: 'Recipes',
    place: 'coop' as const,
    sentence: recipesSentence(recipes),
    add: newRecipePath(),
    starters: startersPath(),
    lookUp: processesPath(),
    groups: methods.flatMap((method) => {
      const ofMethod = used.filter((recipe) => recipe.method === method)
      return ofMethod.length === 0 ? [] : [{ heading: capital(methodWords[method]), recipes: ofMethod.map(entryOf) }]
    }),
    retired: recipes.filter((recipe) => recipe.retired).map(entryOf),
  }
}

/** "22 recipes: 11 water-bath canned, 4 frozen, ..." */
export function recipesSentence(recipes: readonly { method: Method; retired: boolean }[]): string {
  const used = recipes.filter((recipe) => !recipe.retired)
  const parts = methods.flatMap((method) => {
    const many = used.filter((recipe) => recipe.method === method).length
    return many === 0 ? [] : [`${many} ${methodWords[method]}`]
  })
  return parts.length === 0 ? '' : `${used.length} ${used.length === 1 ? 'recipe' : 'recipes'}: ${parts.join(', ')}`
}

/** A recipe with its verdict and all that can be done with it. */
export function recipePage(recipe: KeptRecipe, names: Names, verdict: RecipeVerdict, coop: CoopWays) {
  const { id, retired } = recipe
  return {
    ...recipeParts(recipe, names, verdict, coop),
    retired,
    edit: editRecipePath(id),
    amounts: recipeAmountsPath(id),
    card: recipeCardPath(id),
    versions: recipeVersionsPath(id),
    retirement: {
      action: recipeRetirementPath(id),
      value: retired ? 'no' : 'yes',
      button: retired ? 'Take back into use' : 'Retire',
    },
    back: recipesPath(),
  }
}

/** What a recipe says by itself, whether it is in force, an older version or not taken yet. */
export function recipeParts(recipe: RecipeToShow, names: Names, verdict: RecipeVerdict, coop: CoopWays) {
  const { name, method, definition } = recipe
  const format = formatFor(coop)
  const part = verdictPart(recipe, verdict, coop)
  return {
    title: name,
    place: 'coop' as const,
    sentence: `${capital(methodWords[method])}, from ${listOf(definition.inputs.map(({ from }) => nameOf(from, names)))}.`,
    verdict: part,
    ingredients: definition.ingredients.map((one) => ingredientLine(one, definition.packs, format)),
    making: stepsPart(recipe, coop),
    inputs: definition.inputs.map((input) => inputRow(input, names, format)),
    packs: definition.packs.map((pack, number) => packPart(definition, pack, verdict.packs[number], names, format)),
    cautions: ownCautions(definition, part.caution).join(' '),
    source: definition.source,
  }
}

function entry({ id, name, definition }: KeptRecipe, verdict: RecipeVerdict) {
  const packs = definition.packs.map((pack) => pack.units)
  return {
    name,
    href: recipePath(id),
    says: `${listOf(definition.inputs.map(({ from }) => inputName(from)))}, in ${listOf(packs)}`,
    standing: verdict.standing === 'not-canned' ? '' : standingNote(verdict),
    refused: verdict.standing === 'departs' || verdict.standing === 'unknown',
  }
}

function inputRow({ from, suits, share, trim }: RecipeInput, names: Names, format: Formatter) {
  const accepted = ripenessClasses.flatMap((name) => {
    const suit = suits[name]
    return suit === undefined ? [] : [`${name} ${format.percent(suit)}`]
  })
  return {
    name: capital(nameOf(from, names)),
    share:
      share.min === share.max
        ? format.percent(share.min)
        : `${format.percent(share.min)} to ${format.percent(share.max)}`,
    suits: accepted.join(', '),
    trim: trim.map((part) => {
      const others = ripenessClasses.flatMap((name) => {
        const other = part.shareByClass?.[name]
        return other === undefined ? [] : [`${name} ${format.percent(other)}`]
      })
      return `${trimWords[part.kind]} ${format.percent(part.share)}${others.length === 0 ? '' : ` (${others.join(', ')})`}`
    }),
  }
}

/** "Sugar: 110 g for each kilogram; 30 ml into each quart" */
function ingredientLine({ name, unit, perKg, perUnit }: Ingredient, packs: readonly Pack[], format: Formatter) {
  const amount = (many: number) => `${format.number(many, many < 10 ? 2 : 1)}${unit === 'piece' ? '' : ` ${unit}`}`
  const parts = [
    ...(perKg > 0 ? [`${amount(perKg)} for each kilogram`] : []),
    ...packs.flatMap((pack) => {
      const many = perUnit[pack.key] ?? 0
      return many > 0 ? [`${amount(many)} into each ${pack.unit}`] : []
    }),
  ]
  return { name: capital(name), says: parts.join('; ') }
}

function nameOf(from: RecipeInput['from'], names: Names): string {
  return 'material' in from ? (names.materials.get(from.material) ?? inputName(from)) : inputName(from)
}

export function listOf(words: string[]): string {
  return words.length < 2 ? (words[0] ?? 'nothing') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
