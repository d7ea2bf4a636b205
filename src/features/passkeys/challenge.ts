import type { FastifyReply, FastifyRequest } from 'fastify'
import { useUp } from './queries.ts'

/**
 * What a challenge is for: signing in, or adding a passkey in this session, after its member proved again who they are.
 * Neither serves for the other.
 */
export type Purpose = 'in' | `add ${string}`

/** How long a challenge may be answered. Our choice: the time to find a telephone. */
export const challengeMinutes = 5

const COOKIE = 'glut_challenge'
const options = { path: '/', httpOnly: true, sameSite: 'strict', secure: 'auto', signed: true } as const

/** Has the browser keep the challenge that it was given, signed, with what it is for and until when. */
export function giveChallenge(reply: FastifyReply, purpose: Purpose, challenge: string): void {
  const until = reply.server.clock.now().getTime() + challengeMinutes * 60_000
  reply.setCookie(COOKIE, JSON.stringify([purpose, challenge, until]), { ...options, maxAge: challengeMinutes * 60 })
}

/**
 * The challenge that this browser was given for this purpose; null where there is none, its time is over, or it was
 * answered before. Whatever comes of the answer, it cannot be answered again.
 */
export async function takeChallenge(
  request: FastifyRequest,
  reply: FastifyReply,
  purpose: Purpose,
): Promise<string | null> {
  const { server } = request
  const cookie = request.cookies[COOKIE]
  if (cookie === undefined) return null
  reply.clearCookie(COOKIE, options)
  const { valid, value } = request.unsignCookie(cookie)
  if (!valid || value === null) return null
  const [given, challenge, until] = JSON.parse(value) as [string, string, number]
  const now = server.clock.now()
  if (given !== purpose || now.getTime() >= until) return null
  return (await useUp(server.prisma, challenge, now)) ? challenge : null
}
