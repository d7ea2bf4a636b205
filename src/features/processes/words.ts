import {
  type Citation,
  type JarSize,
  type PackStyle,
  type ProcessMethod,
  processSources,
  type TestedProcess,
} from '../../core/process/index.ts'
import type { Formatter } from '../../web/format.ts'

export const processMethodWords: Record<ProcessMethod, string> = {
  'boiling-water': 'boiling-water canner',
  steam: 'steam canner',
  'dial-gauge': 'pressure canner with a dial gauge',
  'weighted-gauge': 'pressure canner with a weighted gauge',
}

export const packWords: Record<PackStyle, string> = { hot: 'hot pack', raw: 'raw pack' }

export const jarWords: Record<JarSize, { one: string; more: string }> = {
  'half-pint': { one: 'half-pint', more: 'half-pints' },
  '12-ounce': { one: '12-ounce jar', more: '12-ounce jars' },
  pint: { one: 'pint', more: 'pints' },
  '1.5-pint': { one: 'pint-and-a-half jar', more: 'pint-and-a-half jars' },
  quart: { one: 'quart', more: 'quarts' },
  'half-gallon': { one: 'half-gallon', more: 'half-gallons' },
}

const acidWords = {
  'bottled-lemon-juice': 'bottled lemon juice',
  'citric-acid': 'citric acid',
  'vinegar-5': 'vinegar of 5 %',
} as const

/** "25 minutes", "1 h 15 min" stays minutes: a cook sets a timer by them. */
export function minutesText(minutes: number): string {
  return `${minutes} ${minutes === 1 ? 'minute' : 'minutes'}`
}

/** "7 psi (48 kPa)" */
export function pressureText({ psi, kPa }: Pick<TestedProcess, 'psi' | 'kPa'>): string {
  return psi === null || kPa === null ? '' : `${psi} psi (${Math.round(kPa)} kPa)`
}

/** "1/2 inch (13 mm)" */
export function headspaceText(inches: number | null): string {
  if (inches === null) return ''
  return `${inchText(inches)} (${Math.round(inches * 25.4)} mm)`
}

/** "2 tablespoons of bottled lemon juice, or 1/2 teaspoon of citric acid" for one jar; '' where none is asked for. */
export function acidText(acid: TestedProcess['acid']): string {
  return acid
    .map(({ acid: kind, amount, unit }) => {
      const name = unit === 'tbsp' ? 'tablespoon' : 'teaspoon'
      return `${fractionText(amount)} ${name}${amount > 1 ? 's' : ''} of ${acidWords[kind]}`
    })
    .join(', or ')
}

/** "1,001 to 3,000 ft", "above 6,000 ft" */
export function bandText({ fromFt, toFt }: { fromFt: number; toFt: number | null }, format: Formatter): string {
  if (toFt === null) return `above ${format.number(fromFt - 1)} ft`
  return fromFt === 0 ? `up to ${format.number(toFt)} ft` : `${format.number(fromFt)} to ${format.number(toFt)} ft`
}

/** Document, edition and place, and how well the figure is known. */
export function sourceText({ document, section, confidence, note }: Citation): string {
  const { document: title, edition } = processSources[document]
  const where = confidence === 'practice' ? 'Common practice, no published source' : `${title}, ${edition}`
  const place = section === undefined ? '' : `, ${section}`
  const known = confidence === 'memory' ? '. From memory: check it in an edition at hand before you rely on it' : ''
  return `${where}${place}${known}${note === undefined ? '' : ` (${note})`}`
}

/** What stands beside every process, by what is dangerous in it. */
export function processCaution(method: ProcessMethod): string {
  const after =
    'Never taste what has bulged, leaks or smells off. Rules differ from place to place: your local extension service or food authority goes before this page.'
  if (method === 'dial-gauge' || method === 'weighted-gauge') {
    return `Steam under pressure and hot jars: adults only, never left alone, vented for ten minutes, opened only when the pressure has fallen by itself. If it falls below the figure, bring it back and time the whole process again. ${after}`
  }
  return `Boiling water and hot jars: adults only at the stove, children and pets out of reach. The minutes count from a full boil; if the boil is lost, start them again. ${after}`
}

const fractions: readonly (readonly [number, string])[] = [
  [1 / 8, '1/8'],
  [1 / 4, '1/4'],
  [1 / 2, '1/2'],
  [3 / 4, '3/4'],
]

function inchText(inches: number): string {
  return `${fractionText(inches)} inch`
}

function fractionText(value: number): string {
  const whole = Math.floor(value)
  const rest = value - whole
  if (rest === 0) return String(whole)
  const known = fractions.find(([part]) => Math.abs(part - rest) < 1e-9)
  if (known === undefined) return String(value)
  return whole === 0 ? known[1] : `${whole} ${known[1]}`
}
