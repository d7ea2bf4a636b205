import { isUniqueViolation } from '../../db/errors.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound, refused } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { type PersonRole, roleOf, roles } from '../../web/roles.ts'
import { noteChange, type Writing } from '../changes/index.ts'

export type HouseholdName = { id: string; name: string }
/** A member of the co-op. */
export type Person = {
  id: string
  name: string
  role: PersonRole
  householdId: string
  householdName: string
  /** null: has no account */
  signInName: string | null
  /** null: is still here */
  leftAt: Date | null
}

/** Everybody who is or was in the co-op, those who may most first, then by name. */
export async function listPeople(prisma: TransactionClient, asking: Asking): Promise<Person[]> {
  const rows = await prisma.member.findMany({ where: { coopId: asking.coopId }, include: shown })
  return rows
    .map(fromRow)
    .sort((a, b) => roles.indexOf(a.role) - roles.indexOf(b.role) || a.name.localeCompare(b.name, asking.coop.locale))
}

/** One who is here; not found for somebody who left. */
export async function findPerson(prisma: TransactionClient, asking: Asking, id: string): Promise<Person> {
  const row = await prisma.member.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id }, leftAt: null },
    include: shown,
  })
  if (row === null) throw notFound('such member')
  return fromRow(row)
}

/** When each member last came in, by id; those who never did are missing. */
export async function lastSignIns(prisma: TransactionClient, asking: Asking): Promise<Map<string, Date>> {
  const rows = await prisma.securityEvent.groupBy({
    by: ['memberId'],
    where: { coopId: asking.coopId, kind: { in: ['signed-in', 'joined', 'set-up'] }, memberId: { not: null } },
    _max: { at: true },
  })
  return new Map(
    rows.flatMap(({ memberId, _max }): [string, Date][] =>
      memberId === null || _max.at === null ? [] : [[memberId, _max.at]],
    ),
  )
}

/** The households by name. */
export async function listHouseholds(prisma: TransactionClient, asking: Asking): Promise<HouseholdName[]> {
  const rows = await prisma.household.findMany({ where: { coopId: asking.coopId }, select: { id: true, name: true } })
  return rows.sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

export async function findHousehold(prisma: TransactionClient, asking: Asking, id: string): Promise<HouseholdName> {
  const name = await householdName(prisma, asking, id)
  if (name === null) throw notFound('such household')
  return { id, name }
}

/** A household's name; null for one that is not of this co-op. */
export async function householdName(prisma: TransactionClient, asking: Asking, id: string): Promise<string | null> {
  const row = await prisma.household.findUnique({
    where: { coopId_id: { coopId: asking.coopId, id } },
    select: { name: true },
  })
  return row?.name ?? null
}

/** Adds a household. A name that another one has is refused at `name`. */
export async function addHousehold(writing: Writing, name: string): Promise<HouseholdName> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await refuseTakenName(writing, name, null)
  await namedOnce(() => transaction.household.create({ data: { coopId: asking.coopId, id, name } }))
  await noteChange(writing, 'people', id, `household ${name} added`)
  return { id, name }
}

/** Gives a household another name. One that another household has is refused at `name`. */
export async function renameHousehold(writing: Writing, id: string, name: string): Promise<HouseholdName> {
  const { transaction, asking } = writing
  const before = await findHousehold(transaction, asking, id)
  if (before.name === name) return before
  await refuseTakenName(writing, name, id)
  await namedOnce(() =>
    transaction.household.update({ where: { coopId_id: { coopId: asking.coopId, id } }, data: { name } }),
  )
  await noteChange(writing, 'people', id, `household ${before.name} is now ${name}`)
  return { id, name }
}

/**
 * The household of this name, made where there is none: two who come at the same moment find the same one.
 *
 * @returns its id
 */
export async function householdNamed(writing: Writing, name: string): Promise<string> {
  const { transaction, asking, newId } = writing
  const { coopId } = asking
  const { count } = await transaction.household.createMany({
    data: [{ coopId, id: newId(), name }],
    skipDuplicates: true,
  })
  const { id } = await transaction.household.findUniqueOrThrow({
    where: { coopId_name: { coopId, name } },
    select: { id: true },
  })
  if (count > 0) await noteChange(writing, 'people', id, `household ${name} added`)
  return id
}

async function refuseTakenName({ transaction, asking }: Writing, name: string, but: string | null): Promise<void> {
  const found = await transaction.household.findUnique({
    where: { coopId_name: { coopId: asking.coopId, name } },
    select: { id: true },
  })
  if (found !== null && found.id !== but) throw nameTaken()
}

/** Somebody gave that name a moment ago. */
async function namedOnce(write: () => Promise<unknown>): Promise<void> {
  try {
    await write()
  } catch (error) {
    if (isUniqueViolation(error)) throw nameTaken()
    throw error
  }
}

const nameTaken = () =>
  refused('There is a household of that name already', { name: 'There is a household of that name already' })

const shown = { household: { select: { name: true } }, account: { select: { signInName: true } } } as const

type Row = Omit<Person, 'role' | 'householdName' | 'signInName'> & {
  role: string
  household: { name: string }
  account: { signInName: string } | null
}

function fromRow({ id, name, role, householdId, leftAt, household, account }: Row): Person {
  return {
    id,
    name,
    role: roleOf(role),
    householdId,
    householdName: household.name,
    signInName: account?.signInName ?? null,
    leftAt,
  }
}
