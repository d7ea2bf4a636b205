import { parseMass, parseTemperature } from '../units/index.ts'
import type { SlowMeasure } from './stage.ts'

/** What was typed: a figure (pH, per cent, degrees Celsius, grams), words, or a figure that cannot be one, and why. */
export type Found = { kind: 'number'; value: number } | { kind: 'words' } | { kind: 'wrong'; problem: string }

/**
 * Reads what was found: "3.6", "pH 3,6", "5.2 %", "70 °F", "1.2 kg". What has no digit is taken for words ("not measured
 * yet"), and so is everything about taste.
 */
export function foundOf(measure: SlowMeasure, typed: string): Found {
  const text = typed.trim()
  if (measure === 'taste' || !/\d/.test(text)) return { kind: 'words' }
  switch (measure) {
    case 'ph':
      return within(
        /^(?:ph\s*)?(\d{1,2}(?:[.,]\d{1,3})?)$/i.exec(text),
        14,
        'Enter a pH from 0 to 14, like 3.6, or words',
      )
    case 'acidity':
      return within(
        /^(\d{1,2}(?:[.,]\d{1,3})?)\s*(?:%|percent|per cent)?$/i.exec(text),
        30,
        'Enter the acidity in per cent from 0 to 30, like 5.2, or words',
      )
    case 'temperature': {
      const read = parseTemperature(text)
      return read.ok
        ? { kind: 'number', value: read.celsius }
        : { kind: 'wrong', problem: 'Enter a temperature with its unit, like “21 °C” or “70 °F”, or words' }
    }
    case 'weight': {
      const read = parseMass(text)
      return read.ok
        ? { kind: 'number', value: read.grams }
        : { kind: 'wrong', problem: 'Enter a weight with its unit, like “1.2 kg”, or words' }
    }
  }
}

function within(match: RegExpExecArray | null, most: number, problem: string): Found {
  const value = Number((match?.[1] ?? '').replace(',', '.'))
  return match !== null && value <= most ? { kind: 'number', value } : { kind: 'wrong', problem }
}
