import { randomInt } from 'node:crypto'
import { z } from 'zod'

/** Makes a new identifier, handed in like the clock. */
export type NewId = () => string

/** Twelve characters by chance (about 59 bits) that read well on paper: no 0 or o, no 1, i or l. */
export const randomId: NewId = () => {
  let id = ''
  for (let i = 0; i < LENGTH; i++) id += ALPHABET[randomInt(ALPHABET.length)]
  return id
}

/** Whether a text could be one that `randomId` made. */
export function isRandomId(text: string): boolean {
  return text.length === LENGTH && [...text].every((letter) => ALPHABET.includes(letter))
}

/** An identifier in an address or a body. Anything else cannot be one of ours, and is refused before it is looked up. */
export const idText = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/)

/** Params of the routes `/…/:id`. */
export const idParams = z.object({ id: idText })

const ALPHABET = '23456789abcdefghjkmnpqrstuvwxyz'
const LENGTH = 12
