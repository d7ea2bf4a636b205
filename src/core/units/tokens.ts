/**
 * A piece of typed text. `start` and `end` index the text it was cut from.
 * A number keeps how it was written, because "1 234" and "12 1/2" are put together from two of them.
 */
export type Token =
  | { kind: 'number'; value: number; raw: string; fraction: boolean; start: number; end: number }
  | { kind: 'word'; word: string; start: number; end: number }
  | { kind: 'sign'; sign: string; start: number; end: number }

/** Cuts text into numbers, words and single signs in one pass, so that time grows with length and no more. */
export function tokenize(text: string): Token[] {
  const tokens: Token[] = []
  let at = 0
  while (at < text.length) {
    const char = text.charAt(at)
    const start = at
    const vulgar = vulgarFractions[char]
    if (isDigit(char)) {
      at = endOfDigits(text, at)
      const raw = text.slice(start, at)
      const value = decimal(raw)
      if (isSlash(text.charAt(at)) && isDigit(text.charAt(at + 1))) {
        at = endOfDigits(text, at + 1)
        const below = decimal(text.slice(start + raw.length + 1, at))
        tokens.push({
          kind: 'number',
          value: value / below,
          raw: text.slice(start, at),
          fraction: true,
          start,
          end: at,
        })
      } else {
        tokens.push({ kind: 'number', value, raw, fraction: false, start, end: at })
      }
    } else if (vulgar !== undefined) {
      at += 1
      tokens.push({ kind: 'number', value: vulgar, raw: char, fraction: true, start, end: at })
    } else if (isLetter(char)) {
      while (at < text.length && (isLetter(text.charAt(at)) || isMark(text.charAt(at)) || isInnerApostrophe(text, at)))
        at += 1
      tokens.push({ kind: 'word', word: fold(text.slice(start, at)), start, end: at })
    } else {
      at += 1
      if (char.trim() !== '') tokens.push({ kind: 'sign', sign: char, start, end: at })
    }
  }
  return tokens
}

/** Lower case without accents, so that "Äpfel" and "apfel" compare equal. */
export function fold(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[\u2019\u02bc]/g, "'")
    .toLowerCase()
}

/**
 * Reads digits with separators. Rules, since people write both ways:
 * where comma and point both occur, the later kind is the decimal sign and the other groups thousands;
 * one point is always a decimal sign; one comma is a decimal sign too ("1,5"), unless exactly three digits follow
 * and one to three digits that do not begin with 0 stand before it ("1,234" is 1234, "0,500" is one half);
 * a sign that occurs more than once groups thousands. Groups that are not of three digits give NaN.
 */
export function decimal(raw: string): number {
  const lastComma = raw.lastIndexOf(',')
  const lastPoint = raw.lastIndexOf('.')
  if (lastComma === -1 && lastPoint === -1) return Number(raw)
  if (lastComma !== -1 && lastPoint !== -1) {
    const [group, sign] = lastComma > lastPoint ? ['.', ','] : [',', '.']
    const at = raw.indexOf(sign)
    return Number(`${ungroup(raw.slice(0, at), group)}.${raw.slice(at + 1)}`)
  }
  const sign = lastComma === -1 ? '.' : ','
  const first = raw.indexOf(sign)
  if (first !== raw.lastIndexOf(sign)) return Number(ungroup(raw, sign))
  const groupsThousands = sign === ',' && raw.length - first === 4 && first <= 3 && raw.charAt(0) !== '0'
  return Number(raw.replace(sign, groupsThousands ? '' : '.'))
}

/** Takes the signs out of "1,234,567"; groups that are not of three digits make it no number. */
function ungroup(digits: string, sign: string): string {
  const [head = '', ...groups] = digits.split(sign)
  const proper = head.length >= 1 && head.length <= 3 && groups.every((group) => group.length === 3)
  return proper ? digits.replaceAll(sign, '') : 'NaN'
}

const vulgarFractions: Readonly<Record<string, number>> = {
  '½': 1 / 2,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '⅕': 1 / 5,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
}

/** Digits, and a comma or point that has a digit on its right. */
function endOfDigits(text: string, from: number): number {
  let at = from
  while (at < text.length) {
    const char = text.charAt(at)
    const separates = (char === ',' || char === '.') && isDigit(text.charAt(at + 1))
    if (!isDigit(char) && !separates) break
    at += 1
  }
  return at
}

function isDigit(char: string): boolean {
  return char >= '0' && char <= '9'
}

function isSlash(char: string): boolean {
  return char === '/' || char === '\u2044'
}

function isLetter(char: string): boolean {
  return (char >= 'a' && char <= 'z') || (char >= 'A' && char <= 'Z') || (char > '\u007f' && /\p{L}/u.test(char))
}

function isMark(char: string): boolean {
  return char > '\u007f' && /\p{M}/u.test(char)
}

function isInnerApostrophe(text: string, at: number): boolean {
  return /['\u2019\u02bc]/.test(text.charAt(at)) && isLetter(text.charAt(at + 1))
}
