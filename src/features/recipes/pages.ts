import { type Method, methods, ripenessClasses, type WorkKind, workKinds } from '../../core/produce/vocabulary.ts'
import {
  forUnits,
  type Ingredient,
  type KitchenPlace,
  type Pack,
  type RecipeDefinition,
  type RecipeInput,
  type RecipeVerdict,
  unitsOfALoad,
  verdictOn,
} from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { processesPath } from '../processes/index.ts'
import { stepsPart } from './card-page.ts'
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
import { standingNote, verdictPart } from './verdict-part.ts'
import { capital, inputName, materialName, methodWords, trimWords } from './words.ts'

/** What a recipe's figures are called by: supplies with their units and what other recipes make, by key. */
export type Names = { supplies: Map<string, { name: string; unit: string }>; materials: Map<string, string> }

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

/** A recipe with its verdict. `old` is said of a version that is no longer in force. */
export function recipePage(recipe: KeptRecipe, names: Names, verdict: RecipeVerdict, coop: CoopWays) {
  const { id, name, method, definition, retired } = recipe
  const format = formatFor(coop)
  return {
    title: name,
    place: 'coop' as const,
    sentence: `${capital(methodWords[method])}, from ${listOf(definition.inputs.map(({ from }) => nameOf(from, names)))}.`,
    retired,
    old: '',
    verdict: verdictPart(recipe, verdict, coop),
    ingredients: definition.ingredients.map((one) => ingredientLine(one, format)),
    making: stepsPart(recipe, coop),
    inputs: definition.inputs.map((input) => inputRow(input, names, format)),
    packs: definition.packs.map((pack) => packPart(definition, pack, names, format)),
    cautions: definition.cautions.join(' '),
    source: definition.source,
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

function packPart(definition: RecipeDefinition, pack: Pack, names: Names, format: Formatter) {
  const load = forUnits(definition, pack, unitsOfALoad(pack))
  const supplies = Object.entries(pack.supplies).map(([key, amount]) => {
    const known = names.supplies.get(key)
    const unit = known?.unit === 'g' || known?.unit === 'ml' ? ` ${known.unit}` : ''
    const name = known?.name ?? `${materialName(key)} (not among the supplies)`
    return `${name} ${format.number(amount, 2)}${unit}`
  })
  return {
    heading: capital(pack.unit),
    facts: [
      { name: 'Raw weight for one', says: format.weight(pack.gramsPerUnit) },
      { name: 'Worth of one', says: format.money(pack.worthMinor) },
      ...(supplies.length > 0 ? [{ name: 'Supplies for one', says: supplies.join(', ') }] : []),
      ...(pack.freezerMl > 0 ? [{ name: 'Room in the freezer', says: format.volume(pack.freezerMl) }] : []),
      ...(pack.makes === null ? [] : [{ name: 'One gives', says: makesText(pack.makes, format) }]),
      ...pack.runs.map((run) => ({
        name: capital(run.name),
        says: `holds ${format.count(run.unitsPerRun, pack.unit, pack.units)}, the last one at least ${format.percent(run.fillAtLeast)} full`,
      })),
    ],
    load: `${format.count(load.units, pack.unit, pack.units)} ${load.units === 1 ? 'takes' : 'take'} ${format.weight(load.rawGrams)}`,
    minutes: [
      { who: 'Hands', ...minutesOf(load.handMinutes, format) },
      ...Object.entries(load.machineMinutes).map(([kind, minutes]) => ({
        who: capital(kind),
        total: format.duration(Math.round(minutes)),
        parts: '',
      })),
    ],
  }
}

/** "Sugar: 110 g for each kilogram; 30 ml into each quart" */
function ingredientLine({ name, unit, perKg, perUnit }: Ingredient, format: Formatter) {
  const amount = (many: number) => `${format.number(many, many < 10 ? 2 : 0)}${unit === 'piece' ? '' : ` ${unit}`}`
  const parts = [
    ...(perKg > 0 ? [`${amount(perKg)} for each kilogram`] : []),
    ...Object.entries(perUnit).map(([key, many]) => `${amount(many)} into each ${key.replaceAll('-', ' ')}`),
  ]
  return { name: capital(name), says: parts.join('; ') }
}

function minutesOf(minutes: Partial<Record<WorkKind, number>>, format: Formatter) {
  const parts = workKinds.map((kind) => ({ kind, many: minutes[kind] ?? 0 })).filter(({ many }) => many > 0)
  return {
    total: format.duration(Math.round(parts.reduce((sum, { many }) => sum + many, 0))),
    parts: parts.map(({ kind, many }) => `${kind} ${format.duration(Math.max(1, Math.round(many)))}`).join(', '),
  }
}

function makesText(makes: NonNullable<Pack['makes']>, format: Formatter): string {
  const { name, gramsPerUnit, readyAfterDays, keepsDays } = makes
  const ready = readyAfterDays === 0 ? 'at once' : `after ${format.count(readyAfterDays, 'day')}`
  return `${format.weight(gramsPerUnit)} of ${name}, to be used ${ready} and within ${format.count(keepsDays, 'day')}`
}

function nameOf(from: RecipeInput['from'], names: Names): string {
  return 'material' in from ? (names.materials.get(from.material) ?? inputName(from)) : inputName(from)
}

function listOf(words: string[]): string {
  return words.length < 2 ? (words[0] ?? 'nothing') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
