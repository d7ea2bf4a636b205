import { createHash, randomBytes } from 'node:crypto'

/** Makes a secret, handed in like the clock. */
export type NewSecret = () => string

/** 32 bytes by chance as 43 characters that an address takes as they are (base64url). */
export const randomSecret: NewSecret = () => randomBytes(32).toString('base64url')

/** What is kept of a secret: its SHA-256, hex. No salt: 256 bits by chance can be neither guessed nor looked up. */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(secret).digest('hex')
}
