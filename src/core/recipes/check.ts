import { crop } from '../produce/crops.ts'
import type { Method } from '../produce/vocabulary.ts'
import { checkMaking } from './check-making.ts'
import { problem, type RecipeProblem } from './faults.ts'
import type { Pack, RecipeDefinition, RecipeInput } from './recipe.ts'

/**
 * Looks at a definition and names all that keeps it from being divided with; an empty list: it can be. Whole numbers
 * are asked of grams, millilitres, money and units; minutes, supplies and ingredients may be fractions. With the method
 * it also says whether a claim of a process belongs there.
 */
export function checkRecipe(definition: RecipeDefinition, method?: Method): RecipeProblem[] {
  const { inputs, packs, workPerKg } = definition
  return [
    ...(inputs.length === 0 ? [problem('inputs', 'no-input')] : []),
    ...inputs.flatMap((input, number) => checkInput(input, `inputs.${number}`, inputs.slice(0, number))),
    ...(inputs.length > 0 ? checkShares(inputs) : []),
    ...(packs.length === 0 ? [problem('packs', 'no-pack')] : []),
    ...packs.flatMap((pack, number) => checkPack(pack, `packs.${number}`, packs.slice(0, number))),
    ...checkMinutes(workPerKg, 'workPerKg'),
    ...checkMaking(definition, method),
  ]
}

/** Shares are typed in percent: thirds may miss the whole by so much. */
const shareTolerance = 1e-3

function checkInput(input: RecipeInput, at: string, before: RecipeInput[]): RecipeProblem[] {
  const problems: RecipeProblem[] = []
  if (before.some((other) => sameSource(other, input))) problems.push(problem(`${at}.from`, 'same-input-twice'))
  const suits = Object.values(input.suits)
  if ('crop' in input.from) {
    if (crop(input.from.crop) === undefined) problems.push(problem(`${at}.from`, 'unknown-crop'))
    if (suits.length === 0) problems.push(problem(`${at}.suits`, 'no-class'))
  } else if (suits.length > 0) problems.push(problem(`${at}.suits`, 'class-of-material'))
  if (suits.some((suit) => !(suit > 0 && suit <= 1))) problems.push(problem(`${at}.suits`, 'suit-out-of-range'))
  const { min, max } = input.share
  if (!(min >= 0 && max > 0 && min <= max && max <= 1)) problems.push(problem(`${at}.share`, 'share-out-of-range'))
  if (!trimFits(input)) problems.push(problem(`${at}.trim`, 'trim-above-whole'))
  return problems
}

function sameSource(one: RecipeInput, other: RecipeInput): boolean {
  if ('crop' in one.from) return 'crop' in other.from && one.from.crop === other.from.crop
  return 'material' in other.from && one.from.material === other.from.material
}

/** Every share is from 0 to 1, and in no class does more leave as trim than comes in. */
function trimFits({ trim }: RecipeInput): boolean {
  const byClass = (['firm', 'ripe', 'soft', 'damaged'] as const).map((name) =>
    trim.map((part) => part.shareByClass?.[name] ?? part.share),
  )
  return [trim.map((part) => part.share), ...byClass].every(
    (shares) => shares.every((share) => share >= 0 && share <= 1) && sum(shares) <= 1 + 1e-9,
  )
}

function checkShares(inputs: RecipeInput[]): RecipeProblem[] {
  const problems: RecipeProblem[] = []
  if (sum(inputs.map(({ share }) => share.max)) < 1 - shareTolerance) {
    problems.push(problem('inputs', 'shares-below-whole'))
  }
  if (sum(inputs.map(({ share }) => share.min)) > 1 + shareTolerance) {
    problems.push(problem('inputs', 'shares-above-whole'))
  }
  return problems
}

function checkPack(pack: Pack, at: string, before: Pack[]): RecipeProblem[] {
  const problems: RecipeProblem[] = []
  if (before.some((other) => other.key === pack.key)) problems.push(problem(`${at}.key`, 'pack-key-twice'))
  if (!isWhole(pack.gramsPerUnit, 1)) problems.push(problem(`${at}.gramsPerUnit`, 'weight-not-positive'))
  if (!isWhole(pack.worthMinor, 0)) problems.push(problem(`${at}.worthMinor`, 'worth-negative'))
  if (!isWhole(pack.freezerMl, 0)) problems.push(problem(`${at}.freezerMl`, 'freezer-not-possible'))
  problems.push(
    ...checkMinutes(pack.workPerUnit, `${at}.workPerUnit`),
    ...checkMinutes(pack.machineMinutesPerUnit, `${at}.machineMinutesPerUnit`),
  )
  if (Object.values(pack.supplies).some((amount) => !(amount > 0 && Number.isFinite(amount)))) {
    problems.push(problem(`${at}.supplies`, 'supply-not-positive'))
  }
  for (const [number, run] of pack.runs.entries()) {
    const here = `${at}.runs.${number}`
    if (!isWhole(run.unitsPerRun, 1)) problems.push(problem(`${here}.unitsPerRun`, 'run-holds-nothing'))
    if (!(run.fillAtLeast >= 0 && run.fillAtLeast <= 1)) {
      problems.push(problem(`${here}.fillAtLeast`, 'fill-out-of-range'))
    }
    problems.push(
      ...checkMinutes(run.machineMinutes, `${here}.machineMinutes`),
      ...checkMinutes(run.work, `${here}.work`),
    )
  }
  return [...problems, ...checkMakes(pack, at)]
}

function checkMakes({ makes, gramsPerUnit }: Pack, at: string): RecipeProblem[] {
  if (makes === null) return []
  const problems: RecipeProblem[] = []
  if (!isWhole(makes.gramsPerUnit, 1)) problems.push(problem(`${at}.makes.gramsPerUnit`, 'makes-nothing'))
  if (makes.gramsPerUnit > gramsPerUnit) problems.push(problem(`${at}.makes.gramsPerUnit`, 'makes-more-than-goes-in'))
  if (makes.readyAfterDays > makes.keepsDays) {
    problems.push(problem(`${at}.makes.keepsDays`, 'keeps-shorter-than-it-waits'))
  }
  return problems
}

/** No step takes longer than a week, and none a negative time. */
function checkMinutes(minutes: Partial<Record<string, number>>, at: string): RecipeProblem[] {
  const possible = Object.values(minutes).every((many) => many !== undefined && many >= 0 && many <= 7 * 24 * 60)
  return possible ? [] : [problem(at, 'minutes-not-possible')]
}

function isWhole(value: number, least: number): boolean {
  return Number.isSafeInteger(value) && value >= least
}

function sum(values: number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
