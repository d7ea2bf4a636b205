import type { ApportionmentMethod } from '../../core/shares/index.ts'

/** Each way to deal with jars that do not divide evenly, by its usual name and in a cook's words. */
export const methodWords: Record<ApportionmentMethod, { name: string; says: string }> = {
  'largest-remainder': {
    name: 'Largest remainder',
    says: 'Everybody gets the whole jars of their part; the jars left over go one each to those with the largest piece of a jar left.',
  },
  webster: {
    name: 'Webster (Sainte-Laguë)',
    says: 'Each part is divided by one number for all and rounded at the half. It leans neither to large nor to small parts.',
  },
  'huntington-hill': {
    name: 'Huntington-Hill',
    says: 'As Webster, but rounded up a little earlier for small parts: everybody with a part gets at least one jar of a kind, where there are enough.',
  },
  jefferson: {
    name: 'Jefferson (D’Hondt)',
    says: 'Each part is divided by one number for all and rounded down. It leans to those with large parts.',
  },
}
export const stateWords = { proposed: 'proposed', 'handed-out': 'handed out', dropped: 'dropped' } as const
