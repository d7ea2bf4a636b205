import type { TestApp } from './app.ts'

/** The id of a second co-op, whose things nobody of the first may see or touch. */
export const neighboursId = 'tanner-row'

/** Adds a second co-op with one of everything that a co-op keeps; each id begins with "their-". */
export async function addNeighbours({ prisma }: TestApp): Promise<void> {
  const coopId = neighboursId
  await prisma.coop.create({
    data: {
      id: coopId,
      name: 'Tanner Row Larder',
      town: 'Nether Ansley',
      altitudeM: 210,
      timeZone: 'Europe/London',
      locale: 'en-GB',
      units: 'metric',
      currency: 'GBP',
      // younger than the first, so that it is never the one that a request is for
      createdAt: new Date('2099-01-01T00:00:00Z'),
    },
  })
  await prisma.household.create({ data: { coopId, id: 'their-household', name: 'Strange' } })
  await prisma.equipment.createMany({
    data: [
      { coopId, id: 'their-canner', kind: 'canner', name: 'their canner', count: 1 },
      { coopId, id: 'their-freezer', kind: 'freezer', name: 'their freezer', count: 1, roomMl: 1000 },
    ],
  })
  await prisma.workDay.create({
    data: { coopId, id: 'their-day', date: new Date('2026-09-12T00:00:00Z'), opensMinute: 480, closesMinute: 960 },
  })
  await prisma.helper.create({
    data: { coopId, id: 'their-helper', name: 'Their Helper', ageBand: 'adult', skills: ['wash'] },
  })
  await prisma.supply.create({
    data: {
      coopId,
      id: 'their-lids',
      key: 'lid',
      name: 'their lids',
      unit: 'lid',
      onHand: 5,
      packSize: 12,
      packPriceMinor: 400,
      packsAtMost: 2,
    },
  })
  await prisma.outlet.create({
    data: {
      coopId,
      id: 'their-pigs',
      kind: 'feed',
      name: 'their pigs',
      rank: 1,
      worthPerKgMinor: 5,
      takesProduce: true,
    },
  })
  await prisma.recipe.create({
    data: { coopId, id: 'their-jam', name: 'Their jam', method: 'water-bath-canned', definition: {} },
  })
}
