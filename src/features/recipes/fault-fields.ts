import type { RecipeDefinition } from '../../core/recipes/index.ts'
import {
  MOST_INGREDIENTS,
  MOST_INPUTS,
  MOST_PACKS,
  MOST_RUNS,
  MOST_STEPS,
  MOST_SUPPLIES,
  recipeDocument,
} from './document.ts'

/** Numbers of the form's rows that are filled in: those of the form have gaps, those of the definition have not. */
export type FilledRows = {
  inputs: number[]
  packs: number[]
  ingredients: number[]
  steps: number[]
  /** For each pack. */
  runs: number[][]
  supplies: number[][]
}

/** More rows than a recipe can hold, in words at the first one too many. */
export function tooManyRows(rows: FilledRows): Record<string, string> {
  const found: Record<string, string> = {}
  const atMost = (filled: readonly number[], most: number, field: (row: number) => string, what: string) => {
    const row = filled[most]
    if (row !== undefined) found[field(row)] = `A recipe holds ${most} ${what} at most: leave the rest out`
  }
  atMost(rows.inputs, MOST_INPUTS, (row) => `inputs.${row}.from`, 'crops and materials')
  atMost(rows.ingredients, MOST_INGREDIENTS, (row) => `ingredients.${row}.name`, 'ingredients')
  atMost(rows.steps, MOST_STEPS, (row) => `steps.${row}.says`, 'steps')
  atMost(rows.packs, MOST_PACKS, (row) => `packs.${row}.unit`, 'sizes')
  for (const [index, pack] of rows.packs.entries()) {
    atMost(rows.runs[index] ?? [], MOST_RUNS, (row) => `packs.${pack}.runs.${row}.name`, 'loads of one size')
    atMost(
      rows.supplies[index] ?? [],
      MOST_SUPPLIES,
      (row) => `packs.${pack}.supplies.${row}.key`,
      'supplies of one size',
    )
  }
  return found
}

/** What the stored document cannot hold though each field could be read: a name of signs only, tons in a jar. */
export function documentFaults(definition: RecipeDefinition): Record<string, string> {
  const read = recipeDocument.safeParse(definition)
  if (read.success) return {}
  return Object.fromEntries(
    read.error.issues.map(({ path }) => [
      path.join('.'),
      path.at(-1) === 'key' || path.at(-1) === 'material' || path.at(-1) === 'supply'
        ? 'Use letters or digits in the name'
        : 'This is more than a recipe can hold: enter less',
    ]),
  )
}

/** The field at which a fault of the definition is shown: "packs.1.runs.0.unitsPerRun", "inputs" for all of them. */
export function fieldOf(at: string, rows: FilledRows): string {
  const [list = '', number, part = '', ...rest] = at.split('.')
  const index = Number(number)
  if (list === 'cautions' || list === 'workPerKg') return list
  if (list === 'process') return `process.${number ?? 'product'}`
  if (list === 'inputs') {
    if (number === undefined) return `inputs.${rows.inputs[0] ?? 0}.${rows.inputs.length === 0 ? 'from' : 'share'}`
    return `inputs.${rows.inputs[index] ?? index}.${part === 'trim' ? 'trim.0.share' : part}`
  }
  if (list === 'ingredients') return `ingredients.${rows.ingredients[index] ?? index}.${ingredientField(part)}`
  if (list === 'steps') {
    return `steps.${rows.steps[index] ?? index}.${part === 'minutes' ? (rest[0] ?? 'perKg') : part || 'says'}`
  }
  if (list !== 'packs') return at
  if (number === undefined) return 'packs.0.unit'
  const pack = `packs.${rows.packs[index] ?? index}`
  if (part === 'supplies') return `${pack}.supplies.${rows.supplies[index]?.[0] ?? 0}.amount`
  if (part === 'makes') return `${pack}.makes.${rest[0] === 'material' ? 'name' : (rest[0] ?? 'name')}`
  if (part !== 'runs') return `${pack}.${part}`
  const run = Number(rest[0])
  return `${pack}.runs.${rows.runs[index]?.[run] ?? run}.${rest[1] ?? 'name'}`
}

/** A fault of an ingredient as a whole stands at its amount. */
function ingredientField(part: string): string {
  return part === 'name' || part === 'kind' || part === 'perUnit' || part === 'supply' ? part : 'perKg'
}
