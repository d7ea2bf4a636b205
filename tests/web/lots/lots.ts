import type { TestApp } from '../../support/app.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

/** The plain form, filled in: half a hundredweight of firm apples. */
export const apples = {
  weight: '25 kg',
  crop: 'apple',
  class: 'firm',
  storage: 'cool',
  broughtBy: 'Wilfred Marsh',
  source: 'donated',
  variety: 'Lane Russet',
  householdId: '',
  arrivedOn: 'today',
  priceMinor: '',
  note: '',
}

/** The same for programs. */
export const tomatoes = {
  weight: '8 kg',
  crop: 'tomato',
  class: 'ripe',
  storage: 'room',
  source: 'gleaned',
  broughtBy: 'Ines Odell',
}

/** Takes a lot in through the plain form; its id. */
export async function takeIn(app: TestApp, fields: Record<string, string> = {}): Promise<string> {
  const path = await app.postTaken('/lots', { ...apples, ...fields }, { from: '/lots/new' })
  return path.replace('/lots/', '')
}

/** All lots and what hangs on them, gone. */
export async function forgetLots(app: TestApp): Promise<void> {
  await app.prisma.planLot.deleteMany({ where: { coopId: app.coopId } })
  await app.prisma.lot.deleteMany({ where: { coopId: app.coopId } })
}

/** A second co-op with a lot, `their-lot`, and a household. */
export async function addTheirLot(app: TestApp): Promise<void> {
  await addNeighbours(app)
  await app.prisma.lot.create({
    data: {
      coopId: neighboursId,
      id: 'their-lot',
      crop: 'plum',
      source: 'bought',
      broughtBy: 'their buyer',
      arrivedOn: new Date('2026-09-10T00:00:00Z'),
      storage: 'cool',
      weightGrams: 5000,
      weightTyped: '5 kg',
    },
  })
  await app.prisma.sorting.create({
    data: {
      coopId: neighboursId,
      id: 'their-sorting',
      lotId: 'their-lot',
      sortedOn: new Date('2026-09-10T00:00:00Z'),
      firmGrams: 0,
      ripeGrams: 5000,
      softGrams: 0,
      damagedGrams: 0,
      setAsideGrams: 0,
      lostGrams: 0,
      how: 'arrival',
      sortedBy: 'their buyer',
    },
  })
}
