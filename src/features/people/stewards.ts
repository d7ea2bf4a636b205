import type { FastifyRequest } from 'fastify'
import type { TransactionClient } from '../../db/transaction.ts'
import { Failure, forbidden } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { findOwnPasswordHash, ownPasswordProblem } from '../accounts/index.ts'
import type { Writing } from '../changes/index.ts'

/**
 * Has whoever else changes roles or has somebody leave in this co-op wait until this transaction ends: two stewards who
 * step down at the same moment see each other. Not FOR UPDATE: each writes something that refers to the co-op before,
 * and the two would wait for each other.
 */
export async function lockCoop({ transaction, asking }: Writing): Promise<void> {
  await transaction.$queryRaw`SELECT 1 FROM "Coop" WHERE "id" = ${asking.coopId} FOR NO KEY UPDATE`
}

/**
 * Refuses what would leave the co-op without a steward, or without one who can sign in where there is one now: nobody
 * could let anybody in any more. Asked under `lockCoop`, before `memberId` stops being a steward.
 */
export async function refuseWithoutSteward({ transaction, asking }: Writing, memberId: string): Promise<void> {
  const stewards = await transaction.member.findMany({
    where: { coopId: asking.coopId, role: 'steward', leftAt: null },
    select: { id: true, account: { select: { memberId: true } } },
  })
  const stay = stewards.filter(({ id }) => id !== memberId)
  if (stay.length === 0) throw stuck('This is the last steward. Make somebody else a steward first.')
  const signsIn = (some: typeof stewards) => some.some(({ account }) => account !== null)
  if (signsIn(stewards) && !signsIn(stay)) {
    throw stuck('This is the last steward who can sign in. Invite another steward first, and wait until they joined.')
  }
}

/** Refused as a whole: no single field of a form is wrong. */
const stuck = (words: string) => new Failure('refused', words)

/** What came of asking for one's password again; `problem` in words where it does not count. */
export type PasswordAgain = 'not-needed' | 'right' | { problem: string }

/** Whether whoever asks is asked for the password again: who has one. */
export async function hasPassword(prisma: TransactionClient, asking: Asking): Promise<boolean> {
  return (await findOwnPasswordHash(prisma, asking)) !== null
}

/**
 * Whether the password is that of whoever asks. Tries that fail are slowed: a browser left alone is no place to guess
 * in. Slow by intent: before a transaction, never within one.
 *
 * @param typed '' for none
 */
export async function passwordAgain(request: FastifyRequest, typed: string): Promise<PasswordAgain> {
  if (!(await hasPassword(request.server.prisma, request.asking))) return 'not-needed'
  if (typed === '') return { problem: 'Enter your own password: a steward’s rights are given and taken with it' }
  const problem = await ownPasswordProblem(request, typed)
  return problem === null ? 'right' : { problem }
}

/** Throws where giving or taking a steward's rights needs a password again that was not given, or not the right one. */
export function refuseWithoutPassword(again: PasswordAgain, asking: Asking): void {
  if (again === 'not-needed' || again === 'right') return
  if (asking.via.kind === 'token') {
    throw forbidden('A steward’s rights are given and taken on the pages, where your password is asked for again.')
  }
  throw new Failure('refused', again.problem, { fields: { password: again.problem } })
}
