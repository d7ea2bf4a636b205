import type { RecipeDefinition } from '../../../src/core/recipes/index.ts'

/** What is typed has so many digits: shares 4 of a percent, minutes 4 after the point, amounts a thousandth. */
export function asDigits(definition: RecipeDefinition): RecipeDefinition {
  const round = (digits: number) => (_: string, value: unknown) =>
    typeof value === 'number' ? Number(value.toFixed(digits)) : value
  const rounded = <T>(value: T, digits: number): T => JSON.parse(JSON.stringify(value, round(digits)))
  return {
    ...rounded(definition, 4),
    inputs: rounded(definition.inputs, 6),
    ingredients: rounded(definition.ingredients, 3),
  }
}

/** Recipes as a cook types them into the form. */

/** Plums, halved or whole: 14 lb for 7 quarts (USDA 2015, Guide 2 p. 2-21), so 2 lb a quart. */
export const plums = {
  name: 'Plums in syrup',
  method: 'water-bath-canned',
  source: 'USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-21',
  cautions: 'Boiling syrup burns.',
  'inputs.0.from': 'crop:plum',
  'inputs.0.suits': 'firm 90, ripe 100',
  'ingredients.0.name': 'sugar',
  'ingredients.0.kind': 'sugar',
  'ingredients.0.perUnit': 'quart 65 g',
  'process.product': 'plums',
  'process.form': 'halved or whole',
  'process.pack': 'hot',
  'packs.0.unit': 'quart',
  'packs.0.jar': 'quart',
  'packs.0.gramsPerUnit': '2 lb',
  'packs.0.worthMinor': '6.40',
  'packs.0.supplies.0.key': 'jar-quart',
  'packs.0.supplies.0.amount': '1',
  'packs.0.supplies.1.key': 'lid',
  'packs.0.supplies.1.amount': '1',
  'packs.0.runs.0.name': 'canner load',
  'packs.0.runs.0.unitsPerRun': '7',
  'packs.0.runs.0.fillAtLeast': '50',
  'packs.0.runs.0.machineMinutes': 'canner 35, burner 35',
  'packs.0.runs.0.process': 'yes',
  'steps.0.says': 'Prick the plums on two sides',
  'steps.0.station': 'cut',
  'steps.0.work': 'cut',
  'steps.0.perKg': '2',
  'steps.1.says': 'Boil the canner load for the tested time',
  'steps.1.station': 'canner',
  'steps.1.work': 'stove',
  'steps.1.perRun': '8',
  'steps.1.equipment': 'canner, burner',
}

/** Figs, whole: 2 tablespoons of bottled lemon juice a quart (Guide 2 p. 2-14); 16 lb for 7 quarts. */
export const figs = {
  ...plums,
  name: 'Figs in syrup',
  'inputs.0.from': 'crop:fig',
  'ingredients.1.name': 'bottled lemon juice',
  'ingredients.1.kind': 'bottled-lemon-juice',
  'ingredients.1.perUnit': 'quart 2 tbsp',
  'process.product': 'figs',
  'process.form': 'whole, acidified',
  'packs.0.gramsPerUnit': '2 1/4 lb',
}

/** A filling as many families make it: thickened with flour. */
export const flourFilling = {
  name: 'Grandmother’s peach filling',
  method: 'water-bath-canned',
  source: 'our own',
  'inputs.0.from': 'crop:peach',
  'inputs.0.suits': 'ripe 100',
  'ingredients.0.name': 'flour',
  'ingredients.0.kind': 'starch',
  'ingredients.0.perKg': '60 g',
  'ingredients.1.name': 'sugar',
  'ingredients.1.kind': 'sugar',
  'ingredients.1.perKg': '200 g',
  'process.product': 'peach pie filling',
  'process.pack': 'hot',
  'packs.0.unit': 'quart',
  'packs.0.jar': 'quart',
  'packs.0.gramsPerUnit': '900 g',
  'packs.0.worthMinor': '6.50',
  'packs.0.runs.0.name': 'canner load',
  'packs.0.runs.0.unitsPerRun': '7',
  'packs.0.runs.0.machineMinutes': 'canner 35, burner 35',
  'packs.0.runs.0.process': 'yes',
}

/** The same plums in a jar for which no time was tested. */
export const inHalfGallons = {
  'packs.1.unit': 'half-gallon',
  'packs.1.jar': 'half-gallon',
  'packs.1.gramsPerUnit': '4 lb',
  'packs.1.worthMinor': '12',
}
