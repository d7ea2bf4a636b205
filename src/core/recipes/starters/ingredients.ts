import type { Ingredient } from '../recipe.ts'
import { ingredient } from './parts.ts'

// Spices, and salt that is only for taste, stand in the steps: no kitchen should be held up for want of a teaspoon.

/** Tomatoes and figs: 2 tablespoons a quart, 1 a pint (Guide 3 p. 3-5, Guide 2 p. 2-14), never rounded down. */
export const lemonByTheJar = lemonJuice(0, { quart: 30, pint: 15, 'half-pint': 8 })

/** Light syrup, about a fifth sugar: 2 1/4 cups for 7 quarts, 1 1/2 cups for 9 pints at 200 g (Guide 2 p. 2-5). */
export const lightSyrup = sugar(0, { quart: 65, pint: 34 })
/** Medium syrup, about three tenths sugar: 3 3/4 and 2 1/4 cups (Guide 2 p. 2-5). */
export const mediumSyrup = sugar(0, { quart: 108, pint: 50 })

export function sugar(perKg: number, perUnit: Record<string, number> = {}): Ingredient {
  return ingredient('sugar', 'sugar', 'sugar', 'g', perKg, perUnit)
}

export function salt(perKg: number, perUnit: Record<string, number> = {}): Ingredient {
  return ingredient('salt', 'canning salt', 'salt', 'g', perKg, perUnit)
}

export function vinegar(perKg: number, perUnit: Record<string, number> = {}): Ingredient {
  return ingredient('vinegar', 'white vinegar, 5 %', 'vinegar-5', 'ml', perKg, perUnit)
}

export function ciderVinegar(perKg: number, perUnit: Record<string, number> = {}): Ingredient {
  return ingredient('cider-vinegar', 'cider vinegar, 5 %', 'vinegar-5', 'ml', perKg, perUnit)
}

export function lemonJuice(perKg: number, perUnit: Record<string, number> = {}): Ingredient {
  return ingredient('lemon-juice', 'bottled lemon juice', 'bottled-lemon-juice', 'ml', perKg, perUnit)
}

/** Cook-type starch, the only one tested in fillings (Guide 2 p. 2-25). */
export function modifiedStarch(perKg: number): Ingredient {
  return ingredient('cook-type-starch', 'modified starch for canning', 'modified-starch', 'g', perKg)
}

export function pectin(perKg: number, kind: 'powdered' | 'liquid' = 'powdered'): Ingredient {
  return kind === 'powdered'
    ? ingredient('pectin', 'powdered pectin', 'pectin', 'g', perKg)
    : ingredient('liquid-pectin', 'liquid pectin', 'pectin', 'ml', perKg)
}

/** Against browning: 3 g in a gallon of water (Guide 1 p. 1-11), half a gallon for a kilogram of fruit (our measure). */
export const ascorbicAcid = ingredient('ascorbic-acid', 'ascorbic acid', 'ascorbic-acid', 'g', 1.5)
