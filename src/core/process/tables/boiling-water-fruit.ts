import { seen } from '../sources.ts'
import { boilingWater, pints, quarts } from './rows.ts'

/** Fruit, juice and purees in a boiling-water canner. */
export const boilingWaterFruit = [
  ...boilingWater({
    product: 'plums',
    form: 'halved or whole',
    headspaceIn: 0.5,
    source: seen('usda-2015', 'Guide 2 p. 2-21, 2-22'),
    rows: [
      { pack: 'hot', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'hot', jars: quarts, minutes: [25, 30, 35, 40] },
      { pack: 'raw', jars: pints, minutes: [20, 25, 30, 35] },
      { pack: 'raw', jars: quarts, minutes: [25, 30, 35, 40] },
    ],
  }),
]
