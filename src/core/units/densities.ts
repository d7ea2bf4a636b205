/** Grams of one US cup, with where the figure comes from. */
type CupWeight = { gramsPerCup: number; liquid: boolean; source: string }

/** What can be measured by the cup as well as by weight. Keys are kinds of ingredients and the commonest supplies. */
export const cupWeights = {
  water: { gramsPerCup: 236.6, liquid: true, source: 'a gram a millilitre, by definition (236.6 ml a US cup)' },
  juice: { gramsPerCup: 248, liquid: true, source: 'USDA FoodData Central, apple juice (memory)' },
  sugar: { gramsPerCup: 200, liquid: false, source: 'USDA FoodData Central, granulated sugar (memory)' },
  'brown-sugar': { gramsPerCup: 220, liquid: false, source: 'USDA FoodData Central, brown sugar, packed (memory)' },
  honey: { gramsPerCup: 339, liquid: true, source: 'USDA FoodData Central (memory)' },
  salt: { gramsPerCup: 290, liquid: false, source: 'canning salt: handbooks give 273 to 307 g (memory)' },
  'bottled-lemon-juice': { gramsPerCup: 244, liquid: true, source: 'USDA FoodData Central, lemon juice (memory)' },
  'fresh-citrus-juice': { gramsPerCup: 244, liquid: true, source: 'USDA FoodData Central, lemon juice (memory)' },
  'vinegar-5': { gramsPerCup: 239, liquid: true, source: 'USDA FoodData Central, cider vinegar (memory)' },
  'vinegar-unmeasured': { gramsPerCup: 239, liquid: true, source: 'USDA FoodData Central, cider vinegar (memory)' },
  'citric-acid': {
    gramsPerCup: 220.8,
    liquid: false,
    source: 'about 2.3 g in half a teaspoon: 4.6 g a teaspoon (common figure, memory)',
  },
  'ascorbic-acid': {
    gramsPerCup: 144,
    liquid: false,
    source: 'crystals: 3 g in a teaspoon, as USDA freezing directions count (memory)',
  },
  oil: { gramsPerCup: 218, liquid: true, source: 'USDA FoodData Central, vegetable oil (memory)' },
} as const satisfies Record<string, CupWeight>

export type MeasuredSubstance = keyof typeof cupWeights

/** Grams and state of a cup of it; null: it is only weighed. */
export function cupWeight(substance: string | undefined): { gramsPerCup: number; liquid: boolean } | null {
  return Object.entries(cupWeights).find(([key]) => key === substance)?.[1] ?? null
}
