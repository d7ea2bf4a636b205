import { checkValue, type PureSystem, satisfies } from './check-character.ts'

/** No 0 or O, no 1, I or L: what is read from a jar by hand must not be read in two ways. */
const alphabet = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'
const bodyLength = 4

/**
 * The standard's own system for letters and digits, MOD 37-2, has 0, O, 1, I and * among its characters. These are its
 * rules with modulus 31, the length of this alphabet, so that every check value is one of its characters. As 31 is prime
 * and 3 a primitive root of it, one wrong character, two changed places (next to each other or one apart) and a wrong
 * pair of twins are always noticed.
 */
const system: PureSystem = { modulus: alphabet.length, radix: 3 }

/** How many batches have a code of their own: 31 to the power of 4. */
export const batchCodes = alphabet.length ** bodyLength

// Neighbouring numbers get codes that look different. Both are coprime to 31, and one undoes the other: see the tests.
const spread = 287_653
const shift = 411_047
const unspread = inverse(spread, batchCodes)

/**
 * The code of a co-op's batch, five characters such as "7KQ4M", the last of them a check character. Takes the batch's
 * number in its co-op, whole from 0 and below `batchCodes`; each number has its own code. It is no secret.
 * @throws RangeError for any other number
 */
export function batchCode(number: number): string {
  if (!Number.isSafeInteger(number) || number < 0 || number >= batchCodes)
    throw new RangeError(`a batch's number is whole, from 0 to ${batchCodes - 1}`)
  let rest = (number * spread + shift) % batchCodes
  const values: number[] = []
  for (let place = 0; place < bodyLength; place++) {
    values.unshift(rest % alphabet.length)
    rest = Math.floor(rest / alphabet.length)
  }
  return [...values, checkValue(values, system)].map((value) => alphabet[value]).join('')
}

export const codeRefusals = ['empty', 'wrong-character', 'wrong-length', 'misread'] as const
export type CodeRefusal = (typeof codeRefusals)[number]

export type CodeReading =
  | { ok: true; code: string; number: number }
  /** `character`: the first one that no code has. `misread`: its check character does not agree. */
  | { ok: false; reason: CodeRefusal; character?: string }

/** Reads a code as typed: small or capital letters, spaces, hyphens and points left out. Gives it as printed, with the batch's number. */
export function readBatchCode(text: string): CodeReading {
  const code = text
    .normalize('NFKC')
    .toUpperCase()
    .replace(/[\s.\p{Pd}]/gu, '')
  if (code === '') return { ok: false, reason: 'empty' }
  const characters = [...code]
  const stray = characters.find((one) => !alphabet.includes(one))
  if (stray !== undefined) return { ok: false, reason: 'wrong-character', character: stray }
  if (characters.length !== bodyLength + 1) return { ok: false, reason: 'wrong-length' }
  const values = characters.map((one) => alphabet.indexOf(one))
  if (!satisfies(values, system)) return { ok: false, reason: 'misread' }
  const body = values.slice(0, -1).reduce((sum, value) => sum * alphabet.length + value, 0)
  const number = ((body - shift + batchCodes) * unspread) % batchCodes
  return { ok: true, code, number }
}

/** The number that undoes a multiplication modulo another, by Euclid's algorithm. Both are coprime. */
function inverse(value: number, modulus: number): number {
  let [low, high] = [value % modulus, modulus]
  let [a, b] = [1, 0]
  while (low > 0) {
    const times = Math.floor(high / low)
    ;[low, high] = [high - times * low, low]
    ;[a, b] = [b - times * a, a]
  }
  return ((b % modulus) + modulus) % modulus
}
