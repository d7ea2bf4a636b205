import type { FastifyRequest } from 'fastify'
import type { TransactionClient } from '../../db/transaction.ts'
import { formatFor } from '../../web/format.ts'
import { newestChange, type Writing } from './queries.ts'

export { noteChange, noteChanges, type Writing } from './queries.ts'

/** What a write of this request needs, inside the transaction that `reply.once` or `reply.answerOnce` gives. */
export function writingOf(request: FastifyRequest, transaction: TransactionClient): Writing {
  const { clock, newId } = request.server
  return { transaction, asking: request.asking, now: clock.now(), newId }
}

/** The foot line of a page, to be spread into it: who changed this noun (or this one thing) last. Nothing for none. */
export async function lastChange(
  request: FastifyRequest,
  noun: string,
  nounId?: string,
): Promise<{ changed?: string }> {
  const change = await newestChange(request.server.prisma, request.asking, noun, nounId)
  if (change === null) return {}
  const at = formatFor(request.asking.coop).instant(change.at)
  return { changed: `Last change: ${change.what}. ${change.who}, ${at}.` }
}
