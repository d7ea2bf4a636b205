import { gramsPerOunce, gramsPerPound } from './mass.ts'
import type { UnitSystem } from './readings.ts'

/**
 * A weight for eyes. Metric: "800 g", "1.25 kg", "25.4 kg", "250 kg". US: "5 oz", "3 lb 4 oz", "25.5 lb", "250 lb".
 * Takes grams, not below 0. From 10,000 up thousands are grouped with a comma. What it writes `parseMass` reads
 * again, to within the last shown digit (zero apart, which is no weight to take in).
 */
export function formatMass(grams: number, system: UnitSystem): string {
  return system === 'metric' ? metricMass(grams) : usMass(grams)
}

/** Millilitres for eyes: "350 ml", "1.5 l"; US: "2 tbsp", "1.5 cups", "7 qt", "3 gal". Takes millilitres, not below 0. */
export function formatVolume(ml: number, system: UnitSystem): string {
  if (system === 'metric') return ml < 999.5 ? `${Math.round(ml)} ml` : `${decimals(ml / 1000, 2)} l`
  if (ml < mlPer.cup / 4)
    return ml < mlPer.tbsp ? `${decimals(ml / mlPer.tsp, 2)} tsp` : `${decimals(ml / mlPer.tbsp, 1)} tbsp`
  if (ml < mlPer.quart) return `${decimals(ml / mlPer.cup, 2)} cups`
  if (ml < mlPer.gallon * 2) return `${decimals(ml / mlPer.quart, 2)} qt`
  return `${decimals(ml / mlPer.gallon, 1)} gal`
}

/** Whole degrees: "82 °C" or "180 °F". Takes degrees Celsius. */
export function formatTemperature(celsius: number, system: UnitSystem): string {
  return system === 'metric' ? `${decimals(celsius, 0)} °C` : `${decimals(celsius * 1.8 + 32, 0)} °F`
}

/** An altitude: "640 m" or "2,100 ft". Takes metres. */
export function formatAltitude(metres: number, system: UnitSystem): string {
  return system === 'metric' ? `${decimals(metres, 0)} m` : `${grouped(Math.round(metres / metresPerFoot), 1000)} ft`
}

/** "40 %", with one decimal where it says something. Takes a share from 0 to 1. */
export function formatPercent(share: number): string {
  return `${decimals(share * 100, 1)} %`
}

/**
 * Millilitres in US measures: the gallon is 231 cubic inches (NIST Handbook 44, Appendix C; memory), the others follow.
 */
export const mlPer = {
  tsp: 3785.411784 / 768,
  tbsp: 3785.411784 / 256,
  fluidOunce: 3785.411784 / 128,
  cup: 3785.411784 / 16,
  pint: 3785.411784 / 8,
  quart: 3785.411784 / 4,
  gallon: 3785.411784,
} as const

/** Exact by definition (International Yard and Pound Agreement, 1959). */
export const metresPerFoot = 0.3048
export const mmPerInch = 25.4

function metricMass(grams: number): string {
  if (grams < 999.5) return `${Math.round(grams)} g`
  const kg = grams / 1000
  if (kg < 9.995) return `${decimals(kg, 2)} kg`
  return `${kg < 99.95 ? decimals(kg, 1) : grouped(Math.round(kg), 10_000)} kg`
}

function usMass(grams: number): string {
  const ounces = grams / gramsPerOunce
  if (ounces < 15.95) return `${decimals(ounces, ounces < 0.995 ? 2 : 1)} oz`
  const pounds = grams / gramsPerPound
  if (pounds < 9.96) {
    const whole = Math.round(ounces)
    const rest = whole % 16
    return rest === 0 ? `${whole / 16} lb` : `${Math.floor(whole / 16)} lb ${rest} oz`
  }
  return `${pounds < 99.95 ? decimals(pounds, 1) : grouped(Math.round(pounds), 10_000)} lb`
}

/** At most so many decimals, and never "-0". */
function decimals(value: number, digits: number): string {
  return String(Number(value.toFixed(digits)) + 0)
}

function grouped(value: number, from: number): string {
  return Math.abs(value) < from ? String(value) : String(value).replace(/\B(?=(\d{3})+$)/g, ',')
}
