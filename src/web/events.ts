import type { TransactionClient } from '../db/transaction.ts'
import type { NewId } from '../ids.ts'

/** What can happen at the door and with people's rights. */
export const eventKinds = [
  'set-up',
  'signed-in',
  'sign-in-failed',
  'signed-out',
  'sessions-ended',
  'password-changed',
  'reset-begun',
  'invited',
  'invitation-taken-back',
  'joined',
  'role-changed',
  'household-changed',
  'left',
  'passkey-added',
  'passkey-removed',
  'token-made',
  'token-taken-back',
  'screen-paired',
  'screen-removed',
  'refused',
  'data-taken-out',
  'data-deleted',
  'restored',
] as const
export type EventKind = (typeof eventKinds)[number]

export type SecurityEvent = {
  kind: EventKind
  /** null: nobody knows whose door was tried */
  coopId: string | null
  /** whoever did it, by name; empty where nobody knows */
  who: string
  memberId: string | null
  /** One plain line that stewards read. Never a secret, a password or an address of mail. */
  what: string
}

/** Notes what happened at the door, where it happens with something else in that transaction. Only ever adds. */
export async function noteEvent(
  prisma: TransactionClient,
  event: SecurityEvent,
  { now, newId }: { now: Date; newId: NewId },
): Promise<void> {
  await prisma.securityEvent.create({ data: { id: newId(), at: now, ...event } })
}
