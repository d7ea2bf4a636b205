import { type PlaceKind, placeKinds } from '../../../core/shelf/index.ts'
import { isUniqueViolation } from '../../../db/errors.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict, notFound, refused } from '../../../errors.ts'
import { changedMeanwhile } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'

/** `householdId`: in whose house it is; null: shared. */
export type PlaceValues = { name: string; kind: PlaceKind; householdId: string | null }
export type Place = PlaceValues & { id: string; household: string | null; closed: boolean; version: number }

/** All places by name, the closed ones too. */
export async function listPlaces(prisma: TransactionClient, asking: Asking): Promise<Place[]> {
  const rows = await prisma.place.findMany({ where: { coopId: asking.coopId }, include: named })
  return rows.map(placeOf).sort((a, b) => a.name.localeCompare(b.name, asking.coop.locale))
}

/** Places that are in use, by name. */
export async function listOpenPlaces(prisma: TransactionClient, asking: Asking): Promise<Place[]> {
  return (await listPlaces(prisma, asking)).filter(({ closed }) => !closed)
}

export async function findPlace(prisma: TransactionClient, asking: Asking, id: string): Promise<Place> {
  const row = await prisma.place.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } }, include: named })
  if (row === null) throw notFound('such place')
  return placeOf(row)
}

/** Units in stock by the id of their place. */
export async function unitsByPlace(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<Map<string, number>> {
  const sums = await prisma.shelfTotal.groupBy({
    by: ['placeId'],
    where: { coopId, placeId: { not: '' }, owner: '' },
    _sum: { units: true },
  })
  return new Map(sums.map(({ placeId, _sum }) => [placeId, Number(_sum.units ?? 0)]))
}

/** Refuses a name that is taken and a household that is not there. */
export async function addPlace(writing: Writing, values: PlaceValues): Promise<Place> {
  const { transaction, asking, newId } = writing
  await checkHousehold(writing, values)
  const id = newId()
  await refusingTakenName(() => transaction.place.create({ data: { coopId: asking.coopId, id, ...values } }))
  await noteChange(writing, 'places', id, `${values.name} added`)
  return findPlace(transaction, asking, id)
}

/** As `addPlace`; refused too where somebody changed it meanwhile. */
export async function changePlace(writing: Writing, id: string, version: number, values: PlaceValues): Promise<Place> {
  const { transaction, asking } = writing
  await findPlace(transaction, asking, id)
  await checkHousehold(writing, values)
  const { count } = await refusingTakenName(() =>
    transaction.place.updateMany({
      where: { coopId: asking.coopId, id, version },
      data: { ...values, version: { increment: 1 } },
    }),
  )
  if (count === 0) throw changedMeanwhile('this place')
  await noteChange(writing, 'places', id, `${values.name} changed`)
  return findPlace(transaction, asking, id)
}

/** Closes a place or opens it again. A place in which anything stands is not closed. */
export async function setClosed(writing: Writing, id: string, closed: boolean): Promise<Place> {
  const { transaction, asking } = writing
  const { coopId } = asking
  // The row's lock first: whoever is about to put something there waits, and then finds it closed.
  await transaction.place.updateMany({ where: { coopId, id }, data: { closed, version: { increment: 1 } } })
  const place = await findPlace(transaction, asking, id)
  const { _sum } = await transaction.jarBatch.aggregate({ where: { coopId, placeId: id }, _sum: { stock: true } })
  const stock = _sum.stock ?? 0
  if (closed && stock > 0)
    throw conflict(
      `${stock} ${stock === 1 ? 'unit stands' : 'units stand'} in ${place.name} still: move them first, then close it.`,
    )
  await noteChange(writing, 'places', id, `${place.name} ${closed ? 'closed' : 'opened again'}`)
  return place
}

async function checkHousehold({ transaction, asking }: Writing, { householdId }: PlaceValues): Promise<void> {
  if (householdId === null) return
  const found = await transaction.household.count({ where: { coopId: asking.coopId, id: householdId } })
  if (found === 0) throw refused('There is no such household.', { householdId: 'Choose a household, or “shared”' })
}

async function refusingTakenName<T>(write: () => Promise<T>): Promise<T> {
  try {
    return await write()
  } catch (error) {
    if (!isUniqueViolation(error)) throw error
    const words = 'Another place has that name already: choose another'
    throw refused(words, { name: words })
  }
}

const named = { household: { select: { name: true } } } as const

function placeOf({
  id,
  name,
  kind,
  householdId,
  household,
  closed,
  version,
}: Omit<Place, 'kind' | 'household'> & { kind: string; household: { name: string } | null }): Place {
  return {
    id,
    name,
    kind: storedAs(placeKinds, kind),
    householdId,
    household: household?.name ?? null,
    closed,
    version,
  }
}
