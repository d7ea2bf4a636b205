import type { FastifyReply, FastifyRequest } from 'fastify'
import type { TransactionClient } from '../../db/transaction.ts'
import { sessionCookie, sessionCookieOptions } from './cookie.ts'
import { deviceInWords } from './device.ts'
import { askingBySession, beginSession, endSession, lifetimes } from './queries.ts'
import { randomSecret } from './secrets.ts'

/** For whom a session is begun. */
export type Entering = {
  coopId: string
  /** null: a kitchen screen */
  memberId: string | null
  /** a kitchen screen's name; else the device is told from what the browser says of itself */
  device?: string
}

/** The session's token as the browser that asks has it; null for none. */
export function tokenHere(request: FastifyRequest): string | null {
  const token = request.cookies[sessionCookie(request.server.settings)]
  return token === undefined || token === '' || token.length > 100 ? null : token
}

/**
 * Whether the browser that asks has a token that opens nothing: somebody was signed in there, or it was made up. A token
 * that ended, ran out or never was is the same here, so that nothing is learnt by trying one.
 */
export async function isSignedOutHere(request: FastifyRequest): Promise<boolean> {
  const { prisma, clock } = request.server
  const token = tokenHere(request)
  return token !== null && (await askingBySession(prisma, token, clock.now())) === null
}

/**
 * Begins a session for the browser that asks and ends the one it came with, whosever it was: a token that somebody
 * planted there opens nothing.
 *
 * @returns the new token, to be handed over by `giveToken` once the transaction stands
 */
export async function beginSessionHere(
  request: FastifyRequest,
  transaction: TransactionClient,
  { coopId, memberId, device }: Entering,
): Promise<string> {
  const { server } = request
  const old = tokenHere(request)
  if (old !== null) await endSession(transaction, old)
  const token = randomSecret()
  const session = {
    id: server.newId(),
    token,
    coopId,
    memberId,
    device: device ?? deviceInWords(request.headers['user-agent']),
  }
  await beginSession(transaction, session, server.clock.now())
  return token
}

/** Has the browser keep the token, as long as a session lasts at most. */
export function giveToken(reply: FastifyReply, token: string, kind: keyof typeof lifetimes = 'person'): void {
  const { settings } = reply.server
  reply.setCookie(sessionCookie(settings), token, sessionCookieOptions(settings, lifetimes[kind].days * 86_400))
}

/** Has the browser forget its token. */
export function takeToken(reply: FastifyReply): void {
  const { settings } = reply.server
  reply.clearCookie(sessionCookie(settings), sessionCookieOptions(settings))
}
