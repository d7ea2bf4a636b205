import type { Item } from '../allocation/index.ts'
import type { RipenessClass } from '../produce/vocabulary.ts'
import { countedSupplies } from '../recipes/pack-supplies.ts'
import type { Pack, Recipe, RecipeInput } from '../recipes/recipe.ts'
import { askDivision, productId } from './ask.ts'
import type { Question, WishFor } from './question.ts'

/** Portions (runs, or a few kilograms) that are proposed of one product at most: beyond them it is a matter of taste. Our choice. */
const portionsAtMost = 3
/** Raw weight of a portion of what is not made in runs, grams. Our choice. */
const portionGrams = 4_000

/** A recipe and what it lacks: crops and materials that nothing chosen can give; an empty list: it can be made. */
export type Fit = { recipe: Recipe; lacks: ({ crop: string } | { material: string })[] }

/**
 * Which recipes the chosen lots can feed, in the order of the recipes: those that can be made first. A recipe can be
 * made when each input that it must have comes from a lot or from another recipe that can be made (trim counts too).
 */
export function fitRecipes(lots: readonly { crop: string }[], recipes: readonly Recipe[]): Fit[] {
  const crops = new Set(lots.map((lot) => lot.crop))
  const materials = new Set<string>()
  const fits = recipes.map((recipe): Fit => ({ recipe, lacks: [] }))
  for (let before = -1; before < materials.size; ) {
    before = materials.size
    for (const fit of fits) {
      fit.lacks = lacking(fit.recipe, crops, materials)
      if (fit.lacks.length > 0) continue
      for (const given of materialsOf(fit.recipe)) materials.add(given)
    }
  }
  return [...fits.filter((fit) => fit.lacks.length === 0), ...fits.filter((fit) => fit.lacks.length > 0)]
}

/**
 * Proposes wishes for the lots of a question; its own wishes are not looked at. One pack of each recipe that can be
 * made, in portions of whole runs: by turns each recipe, the most worthwhile first, takes a portion of the produce that
 * still suits it on some work day. `about` is what the produce gave, `atMost` leaves room for as much again, nothing is
 * demanded (`atLeast` 0). Kitchen hours are not looked at: that is what the division is for.
 */
export function proposeWishes(question: Question): WishFor[] {
  const makeable = fitRecipes(question.lots, question.recipes).filter((fit) => fit.lacks.length === 0)
  const candidates = makeable.map(({ recipe }) => candidateOf(recipe, question))
  for (const candidate of candidates) candidate.rank = rankOf(candidate, candidates)
  candidates.sort((a, b) => b.rank - a.rank)
  const pantry = pantryOf(question)
  for (let round = 0; round < portionsAtMost; round++) {
    for (const candidate of candidates) {
      if (candidate.portions === round && takePortion(pantry, candidate)) candidate.portions++
    }
  }
  return candidates
    .filter((candidate) => candidate.portions > 0)
    .map(({ recipe, pack, unitsPerPortion, portions }) => ({
      recipeId: recipe.id,
      pack: pack.key,
      atLeast: 0,
      about: portions * unitsPerPortion,
      atMost: 2 * portions * unitsPerPortion,
      matters: 2,
    }))
}

type Candidate = { recipe: Recipe; pack: Pack; unitsPerPortion: number; rank: number; portions: number }
type Pantry = { items: { item: Item; left: number }[]; materials: Map<string, number> }

function candidateOf(recipe: Recipe, question: Question): Candidate {
  const pack = choosePack(recipe, question)
  const largestRun = Math.max(0, ...pack.runs.map((run) => run.unitsPerRun))
  const unitsPerPortion = largestRun > 0 ? largestRun : Math.max(1, Math.round(portionGrams / pack.gramsPerUnit))
  return { recipe, pack, unitsPerPortion, rank: 0, portions: 0 }
}

/** The pack worth most for its weight among those whose supplies can be had; among all where none can. */
function choosePack(recipe: Recipe, question: Question): Pack {
  const reach = (key: string) => {
    const supply = question.supplies.find((one) => one.key === key)
    return supply ? supply.onHand + supply.packSize * supply.packsAtMost : 0
  }
  const kept = new Set(question.supplies.map(({ key }) => key))
  const hadAtAll = recipe.definition.packs.filter((pack) =>
    Object.entries(countedSupplies(recipe.definition, pack, kept)).every(([key, amount]) => reach(key) >= amount),
  )
  const [first, ...others] = hadAtAll.length > 0 ? hadAtAll : recipe.definition.packs
  if (!first) throw new RangeError(`recipe ${recipe.name} has no pack`)
  const worth = (pack: Pack) => pack.worthMinor / pack.gramsPerUnit
  return others.reduce((best, pack) => (worth(pack) > worth(best) ? pack : best), first)
}

/** Worth of a kilogram; what is made only to be used by others comes just before the best of them. */
function rankOf({ pack }: Candidate, all: Candidate[]): number {
  const own = pack.worthMinor / pack.gramsPerUnit
  if (!pack.makes) return own
  const { material } = pack.makes
  const users = all.filter(({ recipe }) =>
    recipe.definition.inputs.some(({ from }) => 'material' in from && from.material === material),
  )
  return Math.max(own, ...users.map((user) => user.pack.worthMinor / user.pack.gramsPerUnit + 1e-9))
}

function pantryOf(question: Question): Pantry {
  const { items } = askDivision({ ...question, wishes: [] })
  return { items: items.map((item) => ({ item, left: item.grams })), materials: new Map() }
}

/** Takes a portion's inputs out of the pantry and puts in what it gives; leaves it untouched and says false if it lacks. */
function takePortion(pantry: Pantry, { recipe, pack, unitsPerPortion }: Candidate): boolean {
  const grams = unitsPerPortion * pack.gramsPerUnit
  const { inputs } = recipe.definition
  const shares = sharesOf(inputs, pantry)
  const enough = inputs.every((input, number) => availableTo(pantry, input) >= grams * (shares[number] ?? 0))
  if (!enough) return false
  for (const [number, input] of inputs.entries()) {
    const wanted = Math.ceil(grams * (shares[number] ?? 0))
    take(pantry, input, wanted)
    for (const { kind, share } of input.trim) add(pantry, kind, wanted * share)
  }
  if (pack.makes) add(pantry, pack.makes.material, pack.makes.gramsPerUnit * unitsPerPortion)
  return true
}

/** Shares between least and most, moved together until they come to one; what is not there and need not be is left out. */
function sharesOf(inputs: readonly RecipeInput[], pantry: Pantry): number[] {
  const ranges = inputs.map((input) =>
    input.share.min === 0 && availableTo(pantry, input) <= 0 ? { min: 0, max: 0 } : input.share,
  )
  const least = ranges.reduce((total, { min }) => total + min, 0)
  const most = ranges.reduce((total, { max }) => total + max, 0)
  const along = most > least ? Math.min(1, Math.max(0, (1 - least) / (most - least))) : 0
  return ranges.map(({ min, max }) => min + along * (max - min))
}

function availableTo({ items, materials }: Pantry, { from, suits }: RecipeInput): number {
  if ('material' in from) return materials.get(from.material) ?? 0
  return items.reduce((sum, { item, left }) => sum + (suitsSomeDay(item, from.crop, suits) ? left : 0), 0)
}

/** Takes what spoils first first. */
function take({ items, materials }: Pantry, { from, suits }: RecipeInput, grams: number): void {
  if ('material' in from) {
    materials.set(from.material, (materials.get(from.material) ?? 0) - grams)
    return
  }
  const suited = items
    .filter(({ item }) => suitsSomeDay(item, from.crop, suits))
    .sort((a, b) => (a.item.usableUntil < b.item.usableUntil ? -1 : a.item.usableUntil > b.item.usableUntil ? 1 : 0))
  let wanted = grams
  for (const place of suited) {
    const taken = Math.min(place.left, wanted)
    place.left -= taken
    wanted -= taken
  }
}

function add({ materials }: Pantry, material: string, grams: number): void {
  materials.set(material, (materials.get(material) ?? 0) + Math.floor(grams))
}

function suitsSomeDay(item: Item, crop: string, suits: Partial<Record<RipenessClass, number>>): boolean {
  return item.crop === crop && item.classByDay.some((ripeness) => ripeness !== null && (suits[ripeness] ?? 0) > 0)
}

function lacking(recipe: Recipe, crops: Set<string>, materials: Set<string>): Fit['lacks'] {
  const { inputs } = recipe.definition
  const has = ({ from }: RecipeInput) => ('crop' in from ? crops.has(from.crop) : materials.has(from.material))
  const needed = inputs.filter((input) => input.share.min > 0 && !has(input))
  if (needed.length > 0) return needed.map(({ from }) => from)
  // Free shares: what is there must be able to make up the whole.
  const reach = inputs.filter(has).reduce((total, { share }) => total + share.max, 0)
  return reach >= 1 - 1e-9 ? [] : inputs.filter((input) => !has(input)).map(({ from }) => from)
}

function materialsOf(recipe: Recipe): string[] {
  return [
    ...recipe.definition.inputs.flatMap(({ trim }) => trim.map(({ kind }) => kind)),
    ...recipe.definition.packs.flatMap(({ makes }) => (makes ? [makes.material] : [])),
  ]
}

/** The key by which a wish and a product are the same thing. */
export function wishKey(wish: Pick<WishFor, 'recipeId' | 'pack'>): string {
  return productId(wish.recipeId, wish.pack)
}
