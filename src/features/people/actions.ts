import { notFound, refused } from '../../errors.ts'
import { noteEvent } from '../../web/events.ts'
import { type PersonRole, roleInWords } from '../../web/roles.ts'
import type { Writing } from '../changes/index.ts'
import { findPerson, householdName, type Person } from './queries.ts'
import { lockCoop, type PasswordAgain, refuseWithoutPassword, refuseWithoutSteward } from './stewards.ts'

export type PersonValues = { role: PersonRole; householdId: string }

/**
 * Gives a member another role or household, from the next request on.
 *
 * @param again what came of asking for the password of whoever does this; it must be right where a steward's rights are
 *   given or taken
 * @throws refused when it would leave no steward, or the household is none of the co-op's (`householdId`); not-found
 */
export async function changePerson(
  writing: Writing,
  id: string,
  { role, householdId }: PersonValues,
  again: PasswordAgain,
): Promise<Person> {
  const { transaction, asking } = writing
  await lockCoop(writing)
  const before = await findPerson(transaction, asking, id)
  const household = await householdName(transaction, asking, householdId)
  if (household === null) throw refused('Choose the household', { householdId: 'Choose the household' })
  const rights = (before.role === 'steward') !== (role === 'steward')
  if (rights) {
    if (before.role === 'steward') await refuseWithoutSteward(writing, id)
    refuseWithoutPassword(again, asking)
  }
  if (before.role === role && before.householdId === householdId) return before
  await transaction.member.update({
    where: { coopId_id: { coopId: asking.coopId, id } },
    data: { role, householdId },
  })
  if (before.role !== role) {
    const what = `${before.name} is now ${roleInWords(role)}, was ${roleInWords(before.role)}`
    await note(writing, 'role-changed', what)
  }
  if (before.householdId !== householdId) {
    await note(writing, 'household-changed', `${before.name} is now of ${household}, was of ${before.householdName}`)
  }
  return findPerson(transaction, asking, id)
}

/**
 * A member leaves: signs in no more, and neither do devices and programs of theirs. The name stays in what was done.
 *
 * @throws refused for the last steward; not-found for somebody who is not here
 */
export async function letLeave(writing: Writing, id: string, again: PasswordAgain): Promise<void> {
  const { transaction, asking, now } = writing
  const { coopId } = asking
  await lockCoop(writing)
  const { name, role } = await findPerson(transaction, asking, id)
  if (role === 'steward') {
    await refuseWithoutSteward(writing, id)
    refuseWithoutPassword(again, asking)
  }
  // first, and locked by it: whoever joins as this member at the same moment comes before, or finds them gone
  const { count } = await transaction.member.updateMany({
    where: { coopId, id, leftAt: null },
    data: { leftAt: now },
  })
  if (count === 0) throw notFound('such member')
  const its = { coopId, memberId: id }
  await transaction.session.deleteMany({ where: its })
  await transaction.apiToken.deleteMany({ where: its })
  // passkeys go with the account
  await transaction.account.deleteMany({ where: its })
  await transaction.invitation.updateMany({
    where: { ...its, usedAt: null, revokedAt: null },
    data: { revokedAt: now },
  })
  await note(writing, 'left', `${name} left the co-op`)
}

/** Notes it among what stewards look after. */
async function note(
  writing: Writing,
  kind: 'role-changed' | 'household-changed' | 'left',
  what: string,
): Promise<void> {
  const { transaction, asking } = writing
  const { coopId, memberId, name: who } = asking
  await noteEvent(transaction, { kind, coopId, who, memberId, what }, writing)
}
