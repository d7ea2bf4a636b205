import { fold, parsePercent } from '../../core/units/index.ts'
import { neededText, optionalText, read } from '../../web/forms.ts'
import { typedPercent } from '../../web/typed.ts'

/**
 * A field that names some of a closed set with a number each: "canner 60, burner 60". Empty: none.
 *
 * @param whole what counts as 1: 100 reads percent as shares
 */
export function amountsOf<K extends string>(set: readonly K[], example: string, whole = 1) {
  return read<Partial<Record<K, number>>>((typed) => {
    const amounts: Partial<Record<K, number>> = {}
    for (const part of typed.split(/[,;\n]/).map((text) => text.trim().replace(/\s+/g, ' '))) {
      if (part === '') continue
      const match = /^([\p{L}-]+(?: [\p{L}-]+)*)[ :]+(\d{1,6}(?:\.\d{1,4})?)(?: ?(?:%|min|minutes))?$/u.exec(part)
      const key = set.find((one) => one === fold(match?.[1] ?? ''))
      if (key === undefined) {
        return {
          problem: `Write it like “${example}”, with ${set.join(', ')}: “${part.slice(0, 40)}” is not understood`,
        }
      }
      if (amounts[key] !== undefined) return { problem: `Name ${key} once` }
      amounts[key] = clean(Number(match?.[2]) / whole)
    }
    return { value: amounts }
  })
}

/** Without what dividing by a hundred leaves behind the last digit. */
function clean(share: number): number {
  return Number(share.toFixed(8))
}

/** The inverse of `amountsOf`. */
export function typedAmounts(amounts: Partial<Record<string, number>>, whole = 1): string {
  return Object.entries(amounts)
    .map(([key, amount]) => `${key} ${whole === 100 ? typedPercent(amount ?? 0) : decimals(amount ?? 0)}`)
    .join(', ')
}

/** Four digits after the point, as they are read: sums of fractions come out a little beside. */
export function decimals(amount: number): string {
  return String(Number(amount.toFixed(4)))
}

/** Any text but none, on one line. `problem` says what to enter. */
export function neededLine(problem: string, most = 200) {
  return neededText(problem, most).transform(onOneLine)
}

/** Any text on one line; null for none. */
export function optionalLine(most = 200) {
  return optionalText(most).transform((typed) => (typed === null ? null : onOneLine(typed)))
}

function onOneLine(typed: string): string {
  return typed.replace(/\s+/g, ' ')
}

/** A share in percent, as 0 to 1. */
export function percentText(problem: string, whenEmpty?: number) {
  return read((typed) => {
    if (typed === '' && whenEmpty !== undefined) return { value: whenEmpty }
    const percent = parsePercent(typed)
    return percent.ok ? { value: clean(percent.share) } : { problem }
  })
}

/** A share or a range of shares in percent: "100", "50 to 80", "50-80". Empty: the whole. */
export function rangeText(problem: string) {
  return read((typed) => {
    if (typed === '') return { value: { min: 1, max: 1 } }
    const ends = typed.split(/to|-|–/).map((end) => parsePercent(end.trim()))
    const [min, max = min] = ends
    return ends.length <= 2 && min?.ok && max?.ok
      ? { value: { min: clean(min.share), max: clean(max.share) } }
      : { problem }
  })
}

/** An amount above 0, whole or with a decimal point. */
export function amountText(problem: string) {
  return read((typed) => {
    const amount = /^\d{1,7}(?:[.,]\d{1,3})?$/.test(typed) ? Number(typed.replace(',', '.')) : 0
    return amount > 0 && amount <= 1_000_000 ? { value: amount } : { problem }
  }, 20)
}
