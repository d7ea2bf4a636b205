import type { Session } from '../db/session.ts'
import type { NewId } from '../ids.ts'
import type { SecurityEvent } from '../web/events.ts'

/** As `noteEvent` of web/events.ts, in a transaction that Prisma has no part in. */
export async function noteEventBySql(
  session: Pick<Session, 'run'>,
  { kind, coopId, who, memberId, what }: SecurityEvent,
  { now, newId }: { now: Date; newId: NewId },
): Promise<void> {
  await session.run(
    `INSERT INTO "SecurityEvent" ("id", "coopId", "at", "kind", "who", "memberId", "what")
     VALUES ($1, nullif($2, ''), $3::timestamptz, $4, $5, nullif($6, ''), $7)`,
    [newId(), coopId ?? '', now.toISOString(), kind, who, memberId ?? '', what],
  )
}
