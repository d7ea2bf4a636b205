import type { Station, WorkKind } from '../../core/produce/vocabulary.ts'
import type { IngredientKind } from '../../core/recipes/index.ts'
import type { Formatter } from '../../web/format.ts'

export const ingredientKindWords: Record<IngredientKind, string> = {
  water: 'water',
  juice: 'juice',
  sugar: 'sugar',
  honey: 'honey or syrup',
  salt: 'salt',
  spice: 'spice or dried herb',
  pectin: 'pectin',
  'ascorbic-acid': 'ascorbic acid (vitamin C)',
  'bottled-lemon-juice': 'bottled lemon or lime juice',
  'citric-acid': 'citric acid',
  'vinegar-5': 'bought vinegar of 5 % or more',
  'vinegar-unmeasured': 'vinegar of unknown strength, home-made',
  'fresh-citrus-juice': 'lemon or lime juice, fresh',
  'modified-starch': 'cook-type modified starch',
  starch: 'flour, other starch, rice, noodles',
  'low-acid-vegetable': 'onion, pepper, garlic, herb or other vegetable',
  'acid-fruit': 'other fruit',
  'dried-fruit': 'dried fruit',
  oil: 'oil or fat',
  dairy: 'butter, milk, cream',
  egg: 'egg',
  meat: 'meat or fish',
  nuts: 'nuts or seeds',
  alcohol: 'wine or spirits',
  lime: 'pickling lime or other alkali',
  other: 'something else',
}

export const stationWords: Record<Station, string> = {
  wash: 'washing',
  cut: 'peeling and cutting',
  press: 'the press',
  stove: 'the stove',
  fill: 'filling',
  canner: 'the canner',
  oven: 'the oven or dehydrator',
  freezer: 'the freezer',
  label: 'labels',
}

export const workWords: Record<WorkKind, string> = {
  wash: 'washing',
  cut: 'cutting',
  stove: 'the stove',
  fill: 'hot filling',
  pack: 'packing',
}

/** "14", "1.15 kg", "460 ml", "12.5" */
export function supplyAmount(many: number, unit: string, format: Formatter): string {
  if (unit === 'g' && many >= 10) return format.weight(many)
  if (unit === 'ml' && many >= 10) return format.volume(many)
  return `${format.number(many, many < 10 ? 1 : 0)}${unit === 'g' || unit === 'ml' ? ` ${unit}` : ''}`
}
