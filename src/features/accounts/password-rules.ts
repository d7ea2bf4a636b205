import { FEWEST_CHARACTERS, isCommon } from './common-passwords.ts'

/** What the help recommends: ASVS 5.0, 6.2.1. */
export const BETTER_CHARACTERS = 15

/** Beside every field for a new password. */
export const passwordHint = `${FEWEST_CHARACTERS} characters or more; ${BETTER_CHARACTERS} are better, such as four words that have nothing to do with each other. Spaces count`

/**
 * Why a new password is refused, in words; null for one that is taken. Any characters may be in it and none must be.
 *
 * @param near what whoever guesses would try for this person: the sign-in name, the co-op's name
 */
export function passwordProblem(password: string, near: readonly string[] = []): string | null {
  if ([...password].length < FEWEST_CHARACTERS) {
    return `Use ${FEWEST_CHARACTERS} characters or more; ${BETTER_CHARACTERS} are better`
  }
  const plain = password.toLowerCase()
  if (near.some((one) => one !== '' && one.toLowerCase() === plain)) {
    return 'A password that is a name of yours or of the co-op is guessed at once. Choose another, such as four words'
  }
  if (isCommon(password) || new Set(plain).size === 1) {
    return 'This is one of the most common passwords, which are tried first. Choose another, such as four words that have nothing to do with each other'
  }
  return null
}
