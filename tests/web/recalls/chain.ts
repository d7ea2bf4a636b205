import type { TestApp } from '../../support/app.ts'
import { addJars } from '../shelf/jars.ts'

let number = 0

/** A lot of damsons, brought by the Pikes. */
export async function addLot({ prisma, coopId, householdId }: TestApp, more: Record<string, unknown> = {}) {
  number += 1
  const id = `lot-${number}`
  await prisma.lot.create({
    data: {
      coopId,
      id,
      crop: 'damson',
      variety: null,
      source: 'gleaned',
      broughtBy: 'Mara Pike',
      householdId,
      arrivedOn: new Date('2026-09-04T00:00:00Z'),
      storage: 'cool',
      weightGrams: 18_000,
      weightTyped: '18 kg',
      sortings: {
        create: {
          id: `sorting-${number}`,
          sortedOn: new Date('2026-09-04T00:00:00Z'),
          firmGrams: 0,
          ripeGrams: 18_000,
          softGrams: 0,
          damagedGrams: 0,
          setAsideGrams: 0,
          lostGrams: 0,
          how: 'arrival',
          sortedBy: 'Rosalind Pike',
        },
      },
      ...more,
    },
  })
  return id
}

/** What went into a batch: grams of a lot, or units of another batch's jars. */
export async function addInput(
  { prisma, coopId }: TestApp,
  batchId: string,
  from: { lotId: string } | { jarBatchId: string; units: number },
  grams: number,
): Promise<void> {
  number += 1
  await prisma.batchInput.create({ data: { coopId, id: `input-${number}`, batchId, grams, ...from } })
}

export type Link = { batchId: string; jarBatchId: string; code: string }

/** Lot > juice > jelly > cordial: three batches, each made of the jars of the one before. */
export async function addChain(app: TestApp): Promise<{ lotId: string; juice: Link; jelly: Link; cordial: Link }> {
  const lotId = await addLot(app)
  const made = async (product: string, units: number): Promise<Link> => {
    const { batchId, jarBatchId } = await addJars(app, units, { product })
    const { code } = await app.prisma.batch.findUniqueOrThrow({
      where: { coopId_id: { coopId: app.coopId, id: batchId } },
    })
    return { batchId, jarBatchId, code }
  }
  const juice = await made('Damson juice', 10)
  const jelly = await made('Damson jelly', 6)
  const cordial = await made('Damson cordial', 4)
  await addInput(app, juice.batchId, { lotId }, 9000)
  await addInput(app, jelly.batchId, { jarBatchId: juice.jarBatchId, units: 3 }, 2700)
  await addInput(app, cordial.batchId, { jarBatchId: jelly.jarBatchId, units: 2 }, 600)
  return { lotId, juice, jelly, cordial }
}
