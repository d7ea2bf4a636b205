import { type Belief, type Learnt, learn, likelyShare, type Observation } from '../../core/learning/index.ts'
import type { Pack } from '../../core/recipes/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { recipePath } from '../recipes/paths.ts'
import type { KeptRecipe } from '../recipes/queries.ts'

/** Every recipe of which a batch was finished: what it says, what is expected now, and between what the next will lie. */
export function yieldsPage(recipes: readonly KeptRecipe[], observations: readonly Observation[], coop: CoopWays) {
  const format = formatFor(coop)
  const made = new Set(observations.map(({ recipeId }) => recipeId))
  const rows = recipes
    .filter(({ id }) => made.has(id))
    .map((recipe) => ({ recipe, learnt: learn(recipe, observations) }))
    .map(({ recipe, learnt }) => ({
      name: recipe.name,
      href: recipePath(recipe.id),
      packs: recipe.definition.packs.flatMap((pack) => yieldRow(pack, learnt, format)),
      trim: factorWords(learnt.trim, format, 'more trim', 'less trim'),
      minutes: factorWords(learnt.minutes, format, 'more minutes of hands', 'fewer minutes of hands'),
    }))
  return {
    title: 'What batches taught',
    place: 'coop' as const,
    share: format.percent(likelyShare),
    rows,
  }
}

function yieldRow(pack: Pack, { yieldByPack }: Learnt, format: Formatter) {
  const belief = yieldByPack[pack.key]
  if (belief === undefined || belief.batches === 0) return []
  // Ten kilograms, so that whole jars can be compared.
  const said = 10_000 / pack.gramsPerUnit
  return {
    pack: pack.units,
    batches: format.count(belief.batches, 'batch', 'batches'),
    said: format.number(said, 1),
    expected: format.number(said * belief.factor, 1),
    likely: `${format.number(said * belief.low, 1)} to ${format.number(said * belief.high, 1)}`,
  }
}

function factorWords(belief: Belief, format: Formatter, more: string, less: string): string {
  if (belief.batches === 0) return ''
  const difference = Math.abs(belief.factor - 1)
  const of = format.count(belief.batches, 'batch', 'batches')
  if (difference < 0.005) return `as the recipe says, after ${of}`
  return `${format.percent(difference)} ${belief.factor > 1 ? more : less} than the recipe says, after ${of}`
}

/** "likely 33 to 41, after 5 batches"; empty for what was never made. */
export function likelyWords(units: number, belief: Belief | undefined, format: Formatter): string {
  if (belief === undefined || belief.batches === 0 || units === 0) return ''
  const around = (factor: number) => format.number(Math.round((units * factor) / belief.factor))
  const [low, high] = [around(belief.low), around(belief.high)]
  return `likely ${low} to ${high}, after ${format.count(belief.batches, 'batch', 'batches')}`
}
