import { hash, type Options, verify } from '@node-rs/argon2'

/** Argon2id (the library's own default) with 19 MiB, two passes and one lane: the first choice of OWASP's cheat sheet on storing passwords. */
const COST: Options = { memoryCost: 19 * 1024, timeCost: 2, parallelism: 1 }

/** What is kept of a password: argon2id with a salt of its own. The password is taken as `passwordText` reads it. */
export async function hashPassword(password: string): Promise<string> {
  return hash(password, COST)
}

/**
 * Whether this is the password. With null (no such account, or one without a password) the same work is done for
 * nothing, so that the time tells nobody who has an account.
 */
export async function isPassword(kept: string | null, password: string): Promise<boolean> {
  const right = await verify(kept ?? (await nobodys()), password)
  return kept !== null && right
}

let nobody: Promise<string> | undefined
function nobodys(): Promise<string> {
  nobody ??= hashPassword('nobody has this password, and nobody could sign in by it')
  return nobody
}
