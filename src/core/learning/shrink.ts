/**
 * What is believed of one figure of a recipe before and after batches were seen. Figures that cannot be negative and
 * whose errors are in proportion (grams a jar, minutes a kilogram) are compared by the natural logarithm of what came
 * over what the recipe says.
 */
export type Belief = {
  /** What to expect, as a factor of what the recipe says. */
  factor: number
  /** The next batch falls between these with a chance of `likelyShare`. */
  low: number
  high: number
  /** Batches seen. */
  batches: number
}

/** How wide a likely range is. Our choice: of five batches about four fall into it. */
export const likelyShare = 0.8
/** The standard normal's 90th percentile, so that 80 % lie between it and its opposite (table of the normal). */
const ninetieth = 1.2815515655446004

/** How strongly a recipe is believed, and how much one batch differs from the next. */
export type Strength = {
  /** So many batches weigh as much as the recipe's own figure. */
  batches: number
  /** Standard deviation of one batch around its recipe's mean, as a logarithm: 0.1 is about a tenth. */
  spread: number
}

/** Our choice: yields differ by about a tenth from batch to batch, minutes by about a quarter. */
export const strengths = {
  yield: { batches: 4, spread: 0.1 },
  trim: { batches: 4, spread: 0.15 },
  minutes: { batches: 3, spread: 0.25 },
} as const satisfies Record<string, Strength>

/**
 * Shrinks what batches gave towards what the recipe says: the mean of a normal distribution with known spread under a
 * normal prior (conjugate: any textbook of Bayesian statistics). With k for `strength.batches`, n batches of mean
 * logarithm m give the expectation m n / (n + k), and the next batch spreads around it by spread² (1 + 1 / (n + k)).
 * No batch leaves the recipe as it is; a great many leave their own mean.
 *
 * @param ratios what came over what the recipe says, each above 0
 * @throws RangeError for a ratio that is not above 0, and for a strength that is not
 */
export function believe(ratios: readonly number[], strength: Strength): Belief {
  const { batches: k, spread } = strength
  if (!(k > 0 && spread > 0 && Number.isFinite(k) && Number.isFinite(spread)))
    throw new RangeError('a strength is above 0')
  const wrong = ratios.find((ratio) => !(ratio > 0 && Number.isFinite(ratio)))
  if (wrong !== undefined) throw new RangeError(`${wrong} is no ratio of what came to what was expected`)
  const n = ratios.length
  const mean = ratios.reduce((sum, ratio) => sum + Math.log(ratio), 0) / (n + k)
  const reach = ninetieth * spread * Math.sqrt(1 + 1 / (n + k))
  return { factor: Math.exp(mean), low: Math.exp(mean - reach), high: Math.exp(mean + reach), batches: n }
}
