import { isIPv6 } from 'node:net'
import type { FastifyRequest } from 'fastify'
import { inTransaction } from '../../db/transaction.ts'
import { noteEvent } from '../../web/events.ts'
import { beginSessionHere, findSessionOf, sweepSessions, tokenHere } from '../../web/sessions/index.ts'
import { countTry, doorKey, forgetTries, type Pace, takeTryBack } from '../../web/tries.ts'
import { isPassword } from './passwords.ts'
import { type Entrant, findAccount } from './queries.ts'

/** A whole household comes from one address: it gets more tries than a name, and waits less. Our choice. */
export const addressPace: Pace = { freeTries: 20, firstWaitSeconds: 5, longestWaitSeconds: 60 }

/** What came of a try: the token of a new session, a wrong name or password, or so many seconds to wait first. */
export type SignIn = { kind: 'in'; token: string } | { kind: 'wrong' } | { kind: 'wait'; seconds: number }

type Account = Entrant & { passwordHash: string | null }

/**
 * Tries a name (or address of mail) and a password. The same is done and answered whether or not there is such an
 * account. Each name and each address is slowed by tries that failed; a browser that is or was signed in as this member
 * counts for itself, so that nobody else can keep its owner out.
 */
export async function signIn(request: FastifyRequest, typed: { name: string; password: string }): Promise<SignIn> {
  const { prisma, clock } = request.server
  const account = await findAccount(prisma, typed.name)
  const keys = await keysOf(request, typed.name, account)
  const seconds = await countTries(request, keys)
  if (seconds > 0) return { kind: 'wait', seconds }
  const right = await isPassword(account?.passwordHash ?? null, typed.password)
  const noting = { now: clock.now(), newId: request.server.newId }
  if (account === null || !right) {
    const what = account === null ? 'a sign-in name that nobody has' : `a wrong password for ${account.name}`
    await noteEvent(
      prisma,
      { kind: 'sign-in-failed', coopId: account?.coopId ?? null, memberId: null, who: '', what },
      noting,
    )
    return { kind: 'wrong' }
  }
  const token = await inTransaction(prisma, async (transaction) => {
    await forgetTries(transaction, keys.own)
    if (keys.address !== null) await takeTryBack(transaction, keys.address)
    await sweepSessions(transaction, noting.now)
    const { coopId, memberId, name: who } = account
    await noteEvent(transaction, { kind: 'signed-in', coopId, memberId, who, what: 'signed in by password' }, noting)
    return beginSessionHere(request, transaction, account)
  })
  return { kind: 'in', token }
}

/** Who is counted: the address (null for a device that is known), and the account, the name that nobody has, or the device. */
type Keys = { address: string | null; own: string }

async function keysOf(request: FastifyRequest, name: string, account: Account | null): Promise<Keys> {
  const address = doorKey('sign-in address', network(request.ip))
  if (account === null) return { address, own: doorKey('sign-in name', name.toLowerCase()) }
  const token = tokenHere(request)
  const session = token === null ? null : await findSessionOf(request.server.prisma, token, account)
  return session === null
    ? { address, own: doorKey('sign-in account', `${account.coopId} ${account.memberId}`) }
    : { address: null, own: doorKey('sign-in device', session) }
}

async function countTries(request: FastifyRequest, { address, own }: Keys): Promise<number> {
  const { prisma, clock } = request.server
  const now = clock.now()
  if (address !== null) {
    const seconds = await countTry(prisma, address, now, addressPace)
    if (seconds > 0) return seconds
  }
  const seconds = await countTry(prisma, own, now)
  // nothing was tried: others at this address need not wait for it
  if (seconds > 0 && address !== null) await takeTryBack(prisma, address)
  return seconds
}

/** Who is counted as one by address: an IPv4 address, or the network (64 bits) in which one household has its IPv6 addresses. */
export function network(ip: string): string {
  const mapped = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(ip)
  if (mapped?.[1] !== undefined) return mapped[1]
  if (!isIPv6(ip)) return ip
  const [head = '', tail] = ip.toLowerCase().split('%')[0]?.split('::') ?? []
  const before = head === '' ? [] : head.split(':')
  const after = tail === undefined || tail === '' ? [] : tail.split(':')
  const zeros = tail === undefined ? 0 : 8 - before.length - after.length
  const groups = [...before, ...Array.from({ length: zeros }, () => '0'), ...after]
  return `${groups.slice(0, 4).join(':')}::/64`
}
