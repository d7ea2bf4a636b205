import type { Token } from './tokens.ts'

/** A number as people write it, and the index of the first token after it. */
export type Quantity = { value: number; next: number }

/**
 * Reads a number that starts at a token: `12`, `1,5`, `12 1/2`, `12½`, `12-1/2`, `2 and a half`, `half a`, `a quarter of a`,
 * `three`, `a dozen`, `1 234` (groups of exactly three digits). A minus sign before it makes it negative.
 * Returns null where no number starts.
 */
export function quantityAt(tokens: readonly Token[], from: number): Quantity | null {
  const minus = isSign(tokens[from], '-') || isSign(tokens[from], '\u2212')
  const found = digitsAt(tokens, minus ? from + 1 : from) ?? (minus ? null : wordsAt(tokens, from))
  if (found === null) return null
  const dozen = isWord(tokens[found.next], 'dozen')
  const value = (minus ? -1 : 1) * found.value * (dozen ? 12 : 1)
  return { value, next: dozen ? found.next + 1 : found.next }
}

/** Whether any token could begin a number. */
export function hasNumber(tokens: readonly Token[]): boolean {
  return tokens.some((token) => token.kind === 'number' || (token.kind === 'word' && numberWords.has(token.word)))
}

/** A number for reading back: no exponent, at most three decimals, none that say nothing. */
export function plainNumber(value: number): string {
  return String(Number(value.toFixed(3)))
}

const numberWords: ReadonlyMap<string, number> = new Map(
  ['one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'].map(
    (word, index) => [word, index + 1],
  ),
)
const partWords: ReadonlyMap<string, number> = new Map([
  ['half', 1 / 2],
  ['quarter', 1 / 4],
])

function digitsAt(tokens: readonly Token[], from: number): Quantity | null {
  const first = tokens[from]
  if (first?.kind !== 'number') return null
  if (first.fraction) return { value: first.value, next: skipArticle(tokens, from + 1) }
  const whole = groupedAt(tokens, from)
  return addPart(tokens, whole.value, whole.next)
}

/** "1 234": groups of exactly three digits after a group of one to three, one space or no-break space apart. */
function groupedAt(tokens: readonly Token[], from: number): Quantity {
  const first = tokens[from]
  if (first?.kind !== 'number') return { value: Number.NaN, next: from }
  let digits = first.raw
  let next = from + 1
  let before = first
  if (/^[1-9][0-9]{0,2}$/.test(first.raw)) {
    for (;;) {
      const group = tokens[next]
      const joins = group?.kind === 'number' && /^[0-9]{3}$/.test(group.raw) && group.start === before.end + 1
      if (!joins) break
      digits += group.raw
      before = group
      next += 1
    }
  }
  return next === from + 1 ? { value: first.value, next } : { value: Number(digits), next }
}

/** A fraction behind a whole number: `12 1/2`, `12½`, `12-1/2`, `2 and a half`, `2 and 1/2`. */
function addPart(tokens: readonly Token[], whole: number, from: number): Quantity {
  const joined = isSign(tokens[from], '-') || isWord(tokens[from], 'and') ? from + 1 : from
  const part = tokens[joined]
  if (part?.kind === 'number' && part.fraction) return { value: whole + part.value, next: joined + 1 }
  if (joined > from && isWord(tokens[from], 'and') && isWord(part, 'a')) {
    const named = tokens[joined + 1]
    const value = named?.kind === 'word' ? partWords.get(named.word) : undefined
    if (value !== undefined) return { value: whole + value, next: joined + 2 }
  }
  return { value: whole, next: from }
}

function wordsAt(tokens: readonly Token[], from: number): Quantity | null {
  const article = isWord(tokens[from], 'a') || isWord(tokens[from], 'an')
  const at = article ? from + 1 : from
  const token = tokens[at]
  if (token?.kind !== 'word') return null
  const part = partWords.get(token.word)
  if (part !== undefined) return { value: part, next: skipArticle(tokens, at + 1) }
  if (article || token.word === 'dozen') return { value: 1, next: at }
  const named = numberWords.get(token.word)
  return named === undefined ? null : addPart(tokens, named, at + 1)
}

/** After "half": "a", "of a" and the hyphen of "half-bushel" mean nothing more. */
function skipArticle(tokens: readonly Token[], from: number): number {
  let at = from
  if (isSign(tokens[at], '-')) at += 1
  if (isWord(tokens[at], 'of')) at += 1
  if (isWord(tokens[at], 'a') || isWord(tokens[at], 'an')) at += 1
  return at
}

export function isWord(token: Token | undefined, word: string): boolean {
  return token?.kind === 'word' && token.word === word
}

export function isSign(token: Token | undefined, sign: string): boolean {
  return token?.kind === 'sign' && token.sign === sign
}
