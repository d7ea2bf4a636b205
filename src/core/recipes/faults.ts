/** Why a definition cannot stand. The list is closed: whoever words it for people covers all of it. */
export const recipeFaults = [
  'no-input',
  'same-input-twice',
  'unknown-crop',
  'no-class',
  'class-of-material',
  'suit-out-of-range',
  'share-out-of-range',
  'shares-below-whole',
  'shares-above-whole',
  'trim-above-whole',
  'no-pack',
  'pack-key-twice',
  'weight-not-positive',
  'worth-negative',
  'run-holds-nothing',
  'fill-out-of-range',
  'minutes-not-possible',
  'supply-not-positive',
  'freezer-not-possible',
  'makes-nothing',
  'makes-more-than-goes-in',
  'keeps-shorter-than-it-waits',
  'ingredient-without-name',
  'ingredient-not-positive',
  'ingredient-for-no-pack',
  'unit-of-another-kind',
  'claim-without-product',
  'claim-on-uncanned',
  'claimed-minutes-not-possible',
  'claimed-headspace-not-possible',
  'heated-without-claim',
  'step-without-words',
  'hands-not-possible',
  'hands-without-work',
  'wait-not-possible',
] as const
export type RecipeFault = (typeof recipeFaults)[number]

/** A fault and where it is: "inputs.0.suits", "packs.1.runs.0.unitsPerRun", "inputs" for all of them. */
export type RecipeProblem = { at: string; fault: RecipeFault }

export function problem(at: string, fault: RecipeFault): RecipeProblem {
  return { at, fault }
}
