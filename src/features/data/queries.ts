import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import { FORMER_MEMBER } from '../../keeping/deleting.ts'
import type { Asking } from '../../web/asking.ts'

export type FormerMember = { id: string; name: string; leftAt: Date }

/** Who left, the last first; those whose personal data was deleted are left out. */
export async function listFormerMembers(prisma: TransactionClient, asking: Asking): Promise<FormerMember[]> {
  const rows = await prisma.member.findMany({
    where: { coopId: asking.coopId, leftAt: { not: null }, name: { not: FORMER_MEMBER } },
    select: { id: true, name: true, leftAt: true },
    orderBy: [{ leftAt: 'desc' }, { id: 'asc' }],
  })
  return rows.flatMap(({ leftAt, ...row }) => (leftAt === null ? [] : [{ ...row, leftAt }]))
}

/** @throws not-found for somebody who did not leave, or is not known any more */
export async function findFormerMember(prisma: TransactionClient, asking: Asking, id: string): Promise<FormerMember> {
  const found = (await listFormerMembers(prisma, asking)).find((one) => one.id === id)
  if (found === undefined) throw notFound('such former member')
  return found
}
