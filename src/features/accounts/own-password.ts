import type { FastifyRequest } from 'fastify'
import { forbidden } from '../../errors.ts'
import { memberOf } from '../../web/asking.ts'
import { countTry, doorKey, forgetTries, waitInWords } from '../../web/tries.ts'
import { isPassword } from './passwords.ts'
import { findOwnPasswordHash, findOwnSessionBegun } from './queries.ts'

/** Without a password, signing in must be this recent to change how one signs in, in minutes. Our choice. */
export const FRESH_MINUTES = 15

/**
 * What is wrong with the password by which whoever is asking proves again that it is they, in words; null where it is
 * right. Wrong ones are slowed, by member. Who has none proves it by having signed in a short while ago (403 otherwise).
 */
export async function ownPasswordProblem(request: FastifyRequest, password: string): Promise<string | null> {
  const { asking, server } = request
  const { prisma, clock } = server
  const kept = await findOwnPasswordHash(prisma, asking)
  if (kept === null) {
    const begun = await findOwnSessionBegun(prisma, asking)
    if (begun !== null && clock.now().getTime() - begun.getTime() <= FRESH_MINUTES * 60_000) return null
    throw forbidden(
      `For this you must have signed in within the last ${FRESH_MINUTES} minutes. Sign out and in, and try again.`,
    )
  }
  const key = doorKey('own password', `${asking.coopId} ${memberOf(asking)}`)
  const seconds = await countTry(prisma, key, clock.now())
  if (seconds > 0) return `There were too many wrong passwords. Wait ${waitInWords(seconds)}, then try again`
  if (!(await isPassword(kept, password))) return 'This is not the password you have now'
  await forgetTries(prisma, key)
  return null
}
