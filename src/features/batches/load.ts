import type { FastifyRequest } from 'fastify'
import { todayIn } from '../../clock.ts'
import { type Equipment, listEquipment } from '../equipment/queries.ts'
import { type Helper, listHelpers, listHouseholds } from '../helpers/queries.ts'
import { type LotToday, lotsToday } from '../lots/index.ts'
import { listLots } from '../lots/queries.ts'
import { type KeptOutlet, listOutlets } from '../outlets/queries.ts'
import { listOpenPlaces, type Place } from '../shelf/places/queries.ts'
import { listSupplies, type Supply } from '../supplies/queries.ts'
import { cropsOf, jarsFor, type Making } from './making.ts'
import type { PlannedBatch } from './planned.ts'

/** What the form of a batch offers: everything that could have gone in, and where it could stand. */
export type FormFacts = {
  making: Making
  planned: PlannedBatch | null
  planId: string | null
  /** Open lots of the recipe's crops, what spoils first first. */
  lots: LotToday[]
  jars: Awaited<ReturnType<typeof jarsFor>>
  helpers: Helper[]
  outlets: KeptOutlet[]
  places: Place[]
  households: { id: string; name: string }[]
  supplies: Supply[]
  canners: Equipment[]
  today: string
}

export async function loadForm(
  request: FastifyRequest,
  making: Making,
  { planId, planned }: { planId: string | null; planned: PlannedBatch | null },
): Promise<FormFacts> {
  const { asking, server } = request
  const { prisma, clock } = server
  const today = todayIn(clock, asking.coop.timeZone)
  const crops = cropsOf(making)
  const lots = (await listLots(prisma, asking)).filter(({ crop }) => crops.includes(crop))
  return {
    making,
    planned,
    planId,
    lots: lotsToday(lots, today),
    jars: await jarsFor(prisma, asking, making),
    helpers: await listHelpers(prisma, asking),
    outlets: await listOutlets(prisma, asking),
    places: await listOpenPlaces(prisma, asking),
    households: await listHouseholds(prisma, asking),
    supplies: await listSupplies(prisma, asking),
    canners: (await listEquipment(prisma, asking)).filter(({ kind }) => kind.endsWith('canner')),
    today,
  }
}
