import { gramsPerPound } from '../../units/mass.ts'

// US measures of published recipes, as grams as bought and millilitres.

export function pounds(lb: number): number {
  return Math.round(lb * gramsPerPound)
}

/** Millilitres of a liquid: a US cup is 236.588 ml. */
export function cupsOfLiquid(cups: number): number {
  return Math.round(cups * 236.588)
}

export function tablespoons(many: number): number {
  return Math.round(many * 147.868) / 10
}

/** Granulated sugar, 200 g a cup (USDA FoodData Central, memory). */
export function cupsOfSugar(cups: number): number {
  return Math.round(cups * 200)
}

/** Brown sugar, packed, 220 g a cup (USDA FoodData Central, memory). */
export function cupsOfBrownSugar(cups: number): number {
  return Math.round(cups * 220)
}

/**
 * Cook-type modified starch: about 130 g a cup (common figure, memory). Copies run from 112 g (a metric one of the peach
 * filling, seen) to 227 g (2 cups a pound, a sheet of Clemson, seen), and it is an upper limit: the low end is the stricter.
 */
export function cupsOfStarch(cups: number): number {
  return Math.round(cups * 130)
}

/**
 * Grams of a prepared cup and the part of the bought weight that it is: University of Georgia Extension for fruit
 * (seen), USDA FoodData Central portions for the rest (memory); edible parts as in the figures of the crops.
 */
const cupsPrepared = {
  apple: [113, 0.76],
  'apple-chopped': [125, 0.76],
  pear: [181, 0.78],
  peach: [181, 0.76],
  plum: [165, 0.94],
  blueberry: [151, 0.92],
  raspberry: [151, 0.96],
  'cherry-sour': [151, 0.87],
  strawberry: [166, 0.87],
  cranberry: [104, 1],
  tomato: [180, 0.91],
  'green-tomato': [180, 0.91],
  onion: [160, 0.88],
  'sweet-pepper': [149, 0.8],
  'hot-pepper': [150, 0.85],
  cucumber: [133, 0.97],
  zucchini: [113, 0.95],
  cabbage: [89, 0.79],
  'sweet-corn': [154, 0.33],
  'snap-bean': [125, 0.88],
  carrot: [128, 0.82],
  celery: [101, 0.89],
  cauliflower: [107, 0.6],
  jicama: [130, 0.9],
} as const satisfies Record<string, readonly [gramsPerCup: number, edible: number]>

/** Grams as bought of so many cups, sliced or chopped as recipes measure it. */
export function cupsOf(what: keyof typeof cupsPrepared, cups: number): number {
  const [gramsPerCup, edible] = cupsPrepared[what]
  return Math.round((cups * gramsPerCup) / edible)
}

/** A jalapeño of about 14 g and a long green chile of about 45 g, as bought (FoodData Central, memory); garlic 3 g a clove. */
export const one = { jalapeno: 14, 'long chile': 45, clove: 3, 'large Serrano': 8 } as const
