import { keepingIn } from '../../../core/batches/index.ts'
import type { Pack } from '../../../core/recipes/index.ts'
import type { Keeping } from '../../../core/shelf/index.ts'
import { fold } from '../../../core/units/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { date } from '../../../web/forms.ts'
import { insertBareBatches, nextNumbers } from '../../batches/queries.ts'
import type { Writing } from '../../changes/index.ts'
import { type KeptRecipe, listRecipes } from '../../recipes/queries.ts'
import type { Line } from './lines.ts'
import { byName, fault, type Step, type Stood } from './step.ts'

/** What a batch says that was made before the shelf was kept here. */
const openingNote = 'Brought in from a table. How it was processed is not noted here.'
const LONGEST_VARIETY = 80

/** Stock from before, as a line of a table tells it. */
export type Opening = {
  recipe: KeptRecipe
  pack: Pack
  keeping: Keeping
  variety: string | null
  madeOn: string
  bestBy: string | null
}

/**
 * Reads lines of stock that was there before: a recipe by its name, one of its packs, when it was made and is best by.
 *
 * @param needed false: no line has any, and the recipes are not read
 */
export async function openingReader(
  prisma: TransactionClient,
  asking: Asking,
  needed: boolean,
  today: string,
): Promise<(row: Line, stood: Stood) => { step: Step; opening: Opening | null }> {
  const recipes = byName(needed ? await listRecipes(prisma, asking) : [], ({ name }) => [name])
  const format = formatFor(asking.coop)
  return (row, stood) => {
    const read = readOpening(row, stood, recipes, today)
    return 'says' in read
      ? { step: fault(row.line, read.says), opening: null }
      : { step: openingStep(read, stood, format), opening: read }
  }
}

function readOpening(
  { cells }: Line,
  { units, place }: Stood,
  recipes: ReadonlyMap<string, KeptRecipe>,
  today: string,
): Opening | { says: string } {
  const cell = (name: string) => cells[name] ?? ''
  const recipe = recipes.get(fold(cell('product')))
  if (recipe === undefined)
    return { says: `No recipe here is called “${cell('product')}”: add it first, or give the batch’s code.` }
  const { packs } = recipe.definition
  const named = packs.filter(({ key, unit, units: more }) =>
    [key, unit, more].some((one) => fold(one) === fold(cell('pack'))),
  )
  const [pack, second] = cell('pack') === '' ? packs : named
  if (pack === undefined || second !== undefined)
    return { says: `Choose one of the packs of ${recipe.name}: ${packs.map(({ key }) => key).join(', ')}.` }
  // A date in the future would be a batch that nobody has made yet.
  const madeOn = date('').safeParse(cell('made on'))
  if (!madeOn.success || madeOn.data > today) return { says: 'Enter the day on which it was made, like 2025-09-14.' }
  const bestBy = cell('best by') === '' ? null : date('').safeParse(cell('best by'))
  if (bestBy !== null && !(bestBy.success && bestBy.data >= madeOn.data))
    return { says: 'Enter the day until which it is best like 2026-09-14, or leave it empty.' }
  if (units < 1) return { says: 'Enter how many there are, from 1.' }
  // Its process is nobody's knowledge here: that it may stand on a shelf is on the word of whoever brings it in.
  const keeping = keepingIn(recipe.method, true, place.kind)
  if (keeping === null) return { says: `${recipe.name} cannot be kept in ${place.name}: name another place.` }
  const variety = cell('variety')
  if (variety.length > LONGEST_VARIETY) return { says: `Use ${LONGEST_VARIETY} characters or fewer for the variety.` }
  return { recipe, pack, keeping, variety: variety || null, madeOn: madeOn.data, bestBy: bestBy?.data ?? null }
}

function openingStep(opening: Opening, stood: Stood, format: Formatter): Step {
  const { recipe, pack, madeOn, bestBy } = opening
  const { line, units, place, household } = stood
  return {
    line,
    kind: 'change',
    says: `Puts ${format.count(units, pack.unit, pack.units)} of ${recipe.name} in ${place.name}, ${
      household === null ? 'shared' : `of ${household.name}`
    }: a batch of its own, made on ${format.date(madeOn)}${bestBy === null ? '' : `, best by ${format.date(bestBy)}`}.`,
  }
}

/** Adds a batch for each, without jars; their ids in the same order. */
export async function insertOpenings(
  writing: Writing,
  openings: readonly { opening: Opening; stood: Stood }[],
): Promise<string[]> {
  if (openings.length === 0) return []
  const numbers = await nextNumbers(writing, openings.length)
  const batches = openings.flatMap(({ opening: { recipe, pack, keeping, variety, madeOn, bestBy }, stood }, at) => {
    const numbered = numbers[at]
    if (numbered === undefined) return []
    return [
      {
        ...numbered,
        recipeId: recipe.id,
        recipeVersion: recipe.version,
        pack: pack.key,
        product: recipe.name,
        variety,
        method: recipe.method,
        unit: pack.unit,
        unitsName: pack.units,
        jar: pack.jar,
        keeping,
        madeOn,
        bestBy,
        planId: null,
        planned: null,
        inGrams: 0,
        units: stood.units,
        unsealed: 0,
        handMinutes: null,
        expectedUnits: null,
        expectedHandMinutes: null,
        process: null,
        allergens: [],
        worthMinor: pack.worthMinor,
        note: openingNote,
      },
    ]
  })
  return insertBareBatches(writing, batches)
}
