import { toCelsius, toFahrenheit } from '../../core/process/atmosphere.ts'
import { crop } from '../../core/produce/index.ts'
import { kitchenAmount } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'

/** The figure in the units that the co-op reads, the other beside it. */
export function inBoth({ units }: Pick<CoopWays, 'units'>, metric: string, us: string): string {
  return units === 'metric' ? `${metric} (${us})` : `${us} (${metric})`
}

/** "97.9 °C (208 °F)": tenths of a degree Celsius, whole degrees Fahrenheit, as kitchens read them. */
export function temperatureText(celsius: number, coop: CoopWays): string {
  const { number } = formatFor(coop)
  return inBoth(coop, `${number(celsius, 1)} °C`, `${number(toFahrenheit(celsius))} °F`)
}

/** "93.9 kPa" */
export function kPaText(kPa: number, coop: CoopWays): string {
  return `${formatFor(coop).number(kPa, 1)} kPa`
}

/** "640 m (2,100 ft)": nothing rounded but to whole metres and feet. */
export function altitudeText(metres: number, coop: CoopWays): string {
  const { number } = formatFor(coop)
  return inBoth(coop, `${number(metres)} m`, `${number(metres / 0.3048)} ft`)
}

/** "13 mm (1/2 inch)" */
export function inchesText(inches: number, coop: CoopWays): string {
  const { number } = formatFor(coop)
  return inBoth(coop, `${number(inches * 25.4)} mm`, `${fractionText(inches)} ${inches > 1 ? 'inches' : 'inch'}`)
}

/** "25 mm (1 inch)", for lengths that nobody published in inches: to a tenth of an inch. */
export function lengthText(mm: number, coop: CoopWays): string {
  const { number } = formatFor(coop)
  return inBoth(coop, `${number(mm)} mm`, `${number(mm / 25.4, 1)} in`)
}

/** "3", "3 to 4" */
export function rangeText([low, high]: readonly [number, number], digits = 1): string {
  const text = (value: number) => String(Number(value.toFixed(digits)))
  return low === high ? text(low) : `${text(low)} to ${text(high)}`
}

/** "5 1/4", "2/3"; what is no kitchen fraction to two decimals. */
export function fractionText(value: number): string {
  const whole = Math.floor(value + 1e-9)
  const rest = value - whole
  if (rest < 1e-9) return String(whole)
  const known = fractions.find(([part]) => Math.abs(part - rest) < 1e-6)
  if (known === undefined) return String(Number(value.toFixed(2)))
  return whole === 0 ? known[1] : `${whole} ${known[1]}`
}

const fractions: readonly (readonly [number, string])[] = [1, 2, 3, 4, 5, 6, 7]
  .map((n) => [n / 8, ['1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'][n - 1] ?? ''] as const)
  .concat([
    [1 / 3, '1/3'],
    [2 / 3, '2/3'],
    [1 / 16, '1/16'],
  ])

/** "5 1/4 cups", "1 cup" */
export function cupsText(cups: number): string {
  return `${fractionText(cups)} ${cups > 1 ? 'cups' : 'cup'}`
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

/** The plural by which a crop's key is known, else the name itself. */
export function cropName(key: string): string {
  return capital(crop(key)?.plural ?? key)
}

export function cropNames(keys: readonly string[]): string {
  return capital(keys.map((key) => crop(key)?.plural ?? key).join(', '))
}

/** "8 to 12 months", "1 month" */
export function monthsText(months: readonly [number, number]): string {
  return `${rangeText(months, 0)} ${months[1] === 1 ? 'month' : 'months'}`
}

/**
 * "16 to 27 °C (60 to 80 °F)", for published temperatures: they are printed in steps of five degrees Fahrenheit, so
 * that whole degrees Celsius lead back to the printed figure.
 */
export function temperaturesText([low, high]: readonly [number, number], coop: CoopWays): string {
  return inBoth(coop, `${rangeText([low, high], 0)} °C`, `${rangeText([printedF(low), printedF(high)], 0)} °F`)
}

function printedF(celsius: number): number {
  const step = Math.round(toFahrenheit(celsius) / 5) * 5
  return Math.round(toCelsius(step)) === Math.round(celsius) ? step : toFahrenheit(celsius)
}

/** A liquid in both systems, rounded to what a kitchen measures. */
export function waterText(ml: number, coop: CoopWays): string {
  const [metric, us] = (['metric', 'us'] as const).map((system) => kitchenAmount(ml, 'ml', { system }).words)
  return inBoth(coop, metric ?? '', us ?? '')
}

/** As `waterText`, for sugar. */
export function sugarText(grams: number, coop: CoopWays): string {
  const [metric, us] = (['metric', 'us'] as const).map(
    (system) => kitchenAmount(grams, 'g', { system, substance: 'sugar' }).words,
  )
  return inBoth(coop, metric ?? '', us ?? '')
}
