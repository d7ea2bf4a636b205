import type { Method } from '../produce/vocabulary.ts'
import { isCanned } from './canned.ts'
import { problem, type RecipeProblem } from './faults.ts'
import type { Ingredient, IngredientKind, ProcessClaim, RecipeDefinition, Step } from './recipe.ts'

/** No step takes or waits longer than four weeks: sauerkraut is done in less. Our choice. */
const longestWait = 28 * 24 * 60
const longestStep = 7 * 24 * 60
/** Nobody has more people at one step. A slip of the hand. */
const mostHands = 50
/** Longer than any published time (a weighted gauge has none above two hours). A slip of the hand. */
const longestProcess = 600
const deepestHeadspaceMm = 200

/** What is wrong with how a recipe is made: its ingredients, its claim, its runs that are heated and its steps. */
export function checkMaking(definition: RecipeDefinition, method: Method | undefined): RecipeProblem[] {
  const keys = definition.packs.map(({ key }) => key)
  return [
    ...definition.ingredients.flatMap((one, number) => checkIngredient(one, `ingredients.${number}`, keys)),
    ...checkClaim(definition.process, method),
    ...checkHeated(definition),
    ...definition.steps.flatMap((step, number) => checkStep(step, `steps.${number}`)),
  ]
}

function checkIngredient(ingredient: Ingredient, at: string, keys: readonly string[]): RecipeProblem[] {
  const { name, kind, unit, perKg, perUnit } = ingredient
  const problems: RecipeProblem[] = []
  const amounts = Object.values(perUnit)
  if (name.trim() === '') problems.push(problem(`${at}.name`, 'ingredient-without-name'))
  const none = perKg === 0 && amounts.length === 0
  if (!(perKg >= 0 && Number.isFinite(perKg)) || none) problems.push(problem(`${at}.perKg`, 'ingredient-not-positive'))
  if (amounts.some((amount) => !(amount > 0 && Number.isFinite(amount)))) {
    problems.push(problem(`${at}.perUnit`, 'ingredient-not-positive'))
  }
  if (Object.keys(perUnit).some((key) => !keys.includes(key))) {
    problems.push(problem(`${at}.perUnit`, 'ingredient-for-no-pack'))
  }
  if (!(unitsOf[kind] ?? anyUnit).includes(unit)) problems.push(problem(`${at}.unit`, 'unit-of-another-kind'))
  return problems
}

const anyUnit: readonly Ingredient['unit'][] = ['g', 'ml', 'piece']
const measured: readonly Ingredient['unit'][] = ['g', 'ml']
const weighed: readonly Ingredient['unit'][] = ['g']

/** Units in which a kind can be compared with a published amount; any where none is compared. */
const unitsOf: Partial<Record<IngredientKind, readonly Ingredient['unit'][]>> = {
  water: measured,
  juice: measured,
  'bottled-lemon-juice': measured,
  'fresh-citrus-juice': measured,
  'vinegar-5': measured,
  'vinegar-unmeasured': measured,
  'citric-acid': measured,
  oil: measured,
  alcohol: measured,
  honey: measured,
  salt: measured,
  sugar: weighed,
  'ascorbic-acid': weighed,
  'modified-starch': weighed,
  starch: weighed,
  'low-acid-vegetable': weighed,
  'acid-fruit': weighed,
  'dried-fruit': weighed,
}

function checkClaim(claim: ProcessClaim | null, method: Method | undefined): RecipeProblem[] {
  if (claim === null) return []
  const { product, local, minutes, headspaceMm } = claim
  const problems: RecipeProblem[] = []
  if (method !== undefined && !isCanned(method)) problems.push(problem('process', 'claim-on-uncanned'))
  if (product.trim() === '' && local === null) problems.push(problem('process.product', 'claim-without-product'))
  if (minutes !== null && !(minutes > 0 && minutes <= longestProcess)) {
    problems.push(problem('process.minutes', 'claimed-minutes-not-possible'))
  }
  if (headspaceMm !== null && !(headspaceMm > 0 && headspaceMm <= deepestHeadspaceMm)) {
    problems.push(problem('process.headspaceMm', 'claimed-headspace-not-possible'))
  }
  return problems
}

/** A run that is heated takes its minutes from the process, so there must be one. */
function checkHeated({ packs, process }: RecipeDefinition): RecipeProblem[] {
  if (process !== null) return []
  return packs.flatMap((pack, p) =>
    pack.runs.flatMap((run, r) =>
      run.process ? [problem(`packs.${p}.runs.${r}.process`, 'heated-without-claim')] : [],
    ),
  )
}

function checkStep(step: Step, at: string): RecipeProblem[] {
  const { says, work, hands, minutes, waitMinutes } = step
  const problems: RecipeProblem[] = []
  if (says.trim() === '') problems.push(problem(`${at}.says`, 'step-without-words'))
  if (!(Number.isSafeInteger(hands) && hands >= (work === null ? 0 : 1) && hands <= mostHands)) {
    problems.push(problem(`${at}.hands`, 'hands-not-possible'))
  }
  const each = [minutes.perKg, minutes.perUnit, minutes.perRun]
  if (!each.every((many) => many >= 0 && many <= longestStep)) {
    problems.push(problem(`${at}.minutes`, 'minutes-not-possible'))
  } else if (work === null && each.some((many) => many > 0)) {
    problems.push(problem(`${at}.minutes`, 'hands-without-work'))
  }
  if (!(waitMinutes >= 0 && waitMinutes <= longestWait))
    problems.push(problem(`${at}.waitMinutes`, 'wait-not-possible'))
  return problems
}
