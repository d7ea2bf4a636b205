import type { TransactionClient } from '../../db/transaction.ts'
import type { Asking } from '../../web/asking.ts'

/** The kind of all that was changed in the co-op's things; the others are those of web/events. */
export const CHANGES = 'changes'

/** One thing that happened. */
export type Entry = {
  id: string
  at: Date
  /** CHANGES, or what happened at the door or with people's rights: "role-changed" */
  kind: string
  /** of a change: what kind of thing was changed, "lots" */
  noun: string | null
  /** '' where nobody knows */
  who: string
  what: string
}
/** Where a page of entries begins: after this one, at the same instant by id. */
export type Cursor = { at: Date; id: string }
export type Wanted = {
  /** null: every kind */
  kind: string | null
  before: Cursor | null
  /** Events beside changes; without them there are only changes, whatever kind is asked for. */
  events: boolean
  most: number
}

/** What happened in the co-op, newest first, and whether there is more than was asked for. Nothing of another co-op. */
export async function listEntries(
  prisma: TransactionClient,
  asking: Asking,
  { kind, before, events, most }: Wanted,
): Promise<{ entries: Entry[]; more: boolean }> {
  const { coopId } = asking
  const where = { coopId, ...(before === null ? {} : { OR: after(before) }) }
  const orderBy = [{ at: 'desc' as const }, { id: 'desc' as const }]
  const take = most + 1
  const changes =
    kind !== null && kind !== CHANGES
      ? []
      : await prisma.change.findMany({ where, orderBy, take, omit: { coopId: true } })
  const happened =
    !events || kind === CHANGES
      ? []
      : await prisma.securityEvent.findMany({
          where: kind === null ? where : { ...where, kind },
          orderBy,
          take,
          select: { id: true, at: true, kind: true, who: true, what: true },
        })
  const all: Entry[] = [
    ...changes.map(({ id, at, noun, who, what }) => ({ id, at, kind: CHANGES, noun, who, what })),
    ...happened.map((event) => ({ ...event, noun: null })),
  ].sort((a, b) => b.at.getTime() - a.at.getTime() || (a.id < b.id ? 1 : -1))
  return { entries: all.slice(0, most), more: all.length > most }
}

const after = ({ at, id }: Cursor) => [{ at: { lt: at } }, { at, id: { lt: id } }]
