import { randomInt } from 'node:crypto'
import { hashOfSecret } from '../../../web/sessions/index.ts'

/** Crockford's Base32: no I, L, O or U. */
const ALPHABET = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'
const GROUPS = 5
const GROUP = 4

/** Twenty characters by chance (100 bits) in groups that are easy to type: "7KQM-W2XA-…". */
export function newSetUpCode(): string {
  const group = () => Array.from({ length: GROUP }, () => ALPHABET[randomInt(ALPHABET.length)]).join('')
  return Array.from({ length: GROUPS }, group).join('-')
}

/** What is kept of a code. Capitals, spaces and dashes make no difference, nor what is easily taken for another (O and 0, I, L and 1). */
export function hashOfSetUpCode(typed: string): string {
  const plain = typed.normalize('NFC').toUpperCase().replaceAll(/[\s-]/g, '')
  return hashOfSecret(plain.replaceAll('O', '0').replaceAll(/[IL]/g, '1'))
}
