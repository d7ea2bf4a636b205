import { storedAs } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import { type Asking, memberOf } from '../../web/asking.ts'
import { noteEvent } from '../../web/events.ts'
import type { Writing } from '../changes/index.ts'
import { type Scope, scopes } from './forms.ts'

/** A token as its member sees it: what its secret is, nobody knows any more. */
export type Token = {
  id: string
  name: string
  scope: Scope
  createdAt: Date
  expiresAt: Date
  lastUsedAt: Date | null
}

/** So many that hold may one member have. Our choice: more are a mistake of a program. */
const tokensAtMost = 20

const dayMs = 86_400_000

/** One's own tokens that were not taken back, the newest first; those that are over stand among them. */
export async function listTokens(prisma: TransactionClient, asking: Asking): Promise<Token[]> {
  const rows = await prisma.apiToken.findMany({
    where: { ...ownOf(asking), revokedAt: null },
    orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
  })
  return rows.map(tokenOf)
}

/** One of one's own, with the hash of its secret; not-found for anybody else's. */
export async function findToken(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
): Promise<Token & { secretHash: string }> {
  const row = await prisma.apiToken.findFirst({ where: { ...ownOf(asking), id, revokedAt: null } })
  if (row === null) throw notFound('such token')
  return { ...tokenOf(row), secretHash: row.secretHash }
}

/** Makes a token that holds for so many days. Refused where the member has many already. */
export async function addToken(
  writing: Writing,
  { name, scope, days, secretHash }: { name: string; scope: Scope; days: number; secretHash: string },
): Promise<string> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  const holding = await transaction.apiToken.count({
    where: { ...ownOf(asking), revokedAt: null, expiresAt: { gt: now } },
  })
  if (holding >= tokensAtMost) throw refused(`You have ${tokensAtMost} tokens. Take back one that is not needed.`)
  const id = newId()
  const expiresAt = new Date(now.getTime() + days * dayMs)
  const memberId = memberOf(asking)
  await transaction.apiToken.create({
    data: { coopId, id, memberId, name, scope, secretHash, createdAt: now, expiresAt },
  })
  const what = `token ${name} made, to ${scope}, for ${days} days`
  await noteEvent(transaction, { kind: 'token-made', coopId, memberId, who: asking.name, what }, { now, newId })
  return id
}

/** Takes one's own token back: its next call is nobody's. */
export async function revokeToken(writing: Writing, id: string): Promise<void> {
  const { transaction, asking, now, newId } = writing
  const { name } = await findToken(transaction, asking, id)
  const { count } = await transaction.apiToken.updateMany({
    where: { ...ownOf(asking), id, revokedAt: null },
    data: { revokedAt: now },
  })
  if (count === 0) return
  const { coopId, memberId, name: who } = asking
  const what = `token ${name} taken back`
  await noteEvent(transaction, { kind: 'token-taken-back', coopId, memberId, who, what }, { now, newId })
}

function ownOf(asking: Asking): { coopId: string; memberId: string } {
  return { coopId: asking.coopId, memberId: memberOf(asking) }
}

type Row = Omit<Token, 'scope'> & { scope: string }

function tokenOf({ id, name, scope, createdAt, expiresAt, lastUsedAt }: Row): Token {
  return { id, name, scope: storedAs(scopes, scope), createdAt, expiresAt, lastUsedAt }
}
