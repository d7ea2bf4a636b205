import type { Formatter } from '../../web/format.ts'

/** An amount of a supply in its own unit: "12 jars", "2 kg", "450 ml"; grams and millilitres as the co-op reads them. */
export function supplyAmount(format: Formatter, amount: number, unit: string): string {
  if (unit === 'g') return format.weight(amount)
  if (unit === 'ml') return format.volume(amount)
  return unit === '' ? format.number(amount) : format.count(amount, unit)
}
