import type { Database } from '../../../db/client.ts'
import type { Settings } from '../../../settings.ts'
import { setUpPath } from '../paths.ts'
import { newSetUpCode } from './code.ts'
import { addCode, dropCodes, findLocked, hasOwnCoop, isUsableCode } from './queries.ts'

/** Processes that start together on one database each tell a code of their own: all of them hold. */
const TOGETHER_MS = 10 * 60_000
/** How long a code holds that was asked for by hand. */
export const ASKED_CODE_HOURS = 24

/** Where a co-op can be set up, and by which code; `code` null: the one in SET_UP_CODE. */
export type SetUpOffer = { path: string; code: string | null; why: 'first' | 'locked' | 'asked' }

/**
 * Called when the service starts: makes the one-time code where nobody could sign in otherwise (no co-op and no
 * demonstration wanted; a co-op from before there were accounts), and takes the one in the settings where one is given.
 *
 * @returns null when there is nothing to set up, or SET_UP_CODE was used before
 */
export async function offerSetUp(
  prisma: Database['prisma'],
  settings: Pick<Settings, 'demo' | 'setUpCode'>,
  now: Date,
): Promise<SetUpOffer | null> {
  const path = setUpPath()
  const locked = (await findLocked(prisma)) !== null
  const first = !(await hasOwnCoop(prisma))
  if (settings.setUpCode !== null) {
    await addCode(prisma, settings.setUpCode, { now, expiresAt: null })
    if (!(await isUsableCode(prisma, settings.setUpCode, now))) return null
    return { path, code: null, why: locked ? 'locked' : first ? 'first' : 'asked' }
  }
  if (!locked && (!first || settings.demo)) return null
  await dropCodes(prisma, new Date(now.getTime() - TOGETHER_MS))
  const code = newSetUpCode()
  await addCode(prisma, code, { now, expiresAt: null })
  return { path, code, why: locked ? 'locked' : 'first' }
}

/** A further code, for another co-op on the same service; it holds for a day. */
export async function askedCode(prisma: Database['prisma'], now: Date): Promise<string> {
  const code = newSetUpCode()
  await addCode(prisma, code, { now, expiresAt: new Date(now.getTime() + ASKED_CODE_HOURS * 3_600_000) })
  return code
}

/** The offer in words, for whoever started the service. `address` is the service's own, with a slash at its end. */
export function offerInWords({ path, code, why }: SetUpOffer, address: string): string {
  const what = {
    first: 'There is no co-op of your own yet. Set one up',
    locked: 'Nobody can sign in to the co-op that is here. Let its steward in',
    asked: 'A further co-op can be set up',
  }[why]
  const by = code === null ? 'the code in SET_UP_CODE' : `this code, which works once: ${code}`
  return `${what} at ${address.replace(/\/$/, '')}${path} with ${by}`
}
