import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { z } from 'zod'

/** Fewer characters are refused: OWASP ASVS 5.0, 6.2.1, and NIST SP 800-63B. */
export const FEWEST_CHARACTERS = 8

/** The most common passwords: about 49,000, of which those that are long enough here are kept in mind, some 18,000. */
const LIST = '@zxcvbn-ts/language-common/src/passwords.json'

let known: ReadonlySet<string> | undefined

/** Whether this is one of the passwords that are tried first, whatever its capitals. The list is read with the first question. */
export function isCommon(password: string): boolean {
  known ??= readList()
  return known.has(password.toLowerCase())
}

/** How many there are; for a test. */
export function commonCount(): number {
  known ??= readList()
  return known.size
}

function readList(): ReadonlySet<string> {
  const path = createRequire(import.meta.url).resolve(LIST)
  const all = z.array(z.string()).parse(JSON.parse(readFileSync(path, 'utf8')))
  return new Set(all.filter((one) => one.length >= FEWEST_CHARACTERS).map((one) => one.toLowerCase()))
}
