import { randomInt } from 'node:crypto'

/** No two of them look alike in any hand or type: no 0 and O, 1, I and L, 2 and Z, 5 and S, 8 and B. */
export const codeAlphabet = '34679ACDEFGHJKMNPQRTUVWXY'
export const codeLength = 8
/** How long a code opens. Our choice: the way to the kitchen and a second try. */
export const codeMinutes = 10

/** Makes a code, handed in like the clock. */
export type NewCode = () => string

/** Eight characters by chance, about 37 bits: enough for ten minutes in which tries are slowed. */
export const randomCode: NewCode = () =>
  Array.from({ length: codeLength }, () => codeAlphabet[randomInt(codeAlphabet.length)]).join('')

/** "ACDE FG37": as it is shown. */
export function codeInHalves(code: string): string {
  return `${code.slice(0, codeLength / 2)} ${code.slice(codeLength / 2)}`
}

/** A code as it was typed, small letters, spaces and dashes allowed; null for what can be none. */
export function codeTyped(typed: string): string | null {
  const code = typed.toUpperCase().replace(/[\s.\-–—]/g, '')
  return code.length === codeLength && [...code].every((one) => codeAlphabet.includes(one)) ? code : null
}
