import { starters } from '../../../src/core/recipes/starters/index.ts'
import type { TransactionClient } from '../../../src/db/transaction.ts'
import { inTransaction } from '../../../src/db/transaction.ts'
import type { Writing } from '../../../src/features/changes/index.ts'
import { jarBatchFor, writeEntry } from '../../../src/features/shelf/index.ts'
import { randomId } from '../../../src/ids.ts'
import type { TestApp } from '../../support/app.ts'

let number = 0
const jam = starters.find(({ name }) => name === 'Damson jam')
if (jam === undefined) throw new Error('there is no starter for damson jam')
const { name, method, definition } = jam

/** What a write outside any request needs, in the name of the steward. */
export function writingFor({ app, coopId, householdId }: TestApp, transaction: TransactionClient): Writing {
  const coop = {
    id: coopId,
    name: 'Larkrise Lane',
    town: 'Ansley',
    altitudeM: 300,
    timeZone: 'Europe/London',
    locale: 'en-GB',
    units: 'metric',
    currency: 'GBP',
    demonstration: false,
  } as const
  return {
    transaction,
    asking: {
      coopId,
      memberId: 'rosalind',
      householdId,
      name: 'Rosalind Pike',
      role: 'steward',
      via: { kind: 'inside' },
      coop,
    },
    now: app.clock.now(),
    newId: randomId,
  }
}

/** A finished batch of damson jam with so many jars in the shared pantry, put there by an entry. */
export async function addJars(
  app: TestApp,
  units: number,
  batch: Record<string, unknown> = {},
): Promise<{ batchId: string; jarBatchId: string; placeId: string }> {
  const { coopId, prisma } = app
  const batchId = randomId()
  number += 1
  const recipeId = 'damson-jam'
  await prisma.recipe.createMany({
    data: [{ coopId, id: recipeId, name, method, definition }],
    skipDuplicates: true,
  })
  await prisma.place.createMany({
    data: [{ coopId, id: 'pantry', name: 'pantry', kind: 'pantry' }],
    skipDuplicates: true,
  })
  await prisma.batch.create({
    data: {
      coopId,
      id: batchId,
      number: 9000 + number,
      code: `T${9000 + number}`,
      recipeId,
      recipeVersion: 1,
      pack: 'half-pint',
      product: 'Damson jam',
      method,
      unit: 'half-pint jar',
      unitsName: 'half-pint jars',
      jar: 'half-pint',
      keeping: 'shelf',
      madeOn: new Date('2026-09-12T00:00:00Z'),
      bestBy: new Date('2027-09-12T00:00:00Z'),
      inGrams: 4000,
      units,
      allergens: [],
      worthMinor: 350,
      finishedBy: 'Rosalind Pike',
      finishedAt: new Date('2026-09-12T15:00:00Z'),
      ...batch,
    },
  })
  const jarBatchId = await inTransaction(prisma, async (transaction) => {
    const writing = writingFor(app, transaction)
    const id = await jarBatchFor(writing, { batchId, placeId: 'pantry', householdId: null })
    if (units > 0) await writeEntry(writing, { jarBatchId: id, kind: 'put', units })
    return id
  })
  return { batchId, jarBatchId, placeId: 'pantry' }
}

/** A product of which so many jars are left and so many were taken today; its recipe's id is its name in small letters. */
export async function addUsed(
  app: TestApp,
  { product, left, used }: { product: string; left: number; used: number },
): Promise<void> {
  const { coopId, prisma } = app
  const recipeId = product.toLowerCase().replaceAll(' ', '-')
  await prisma.recipe.createMany({
    data: [{ coopId, id: recipeId, name: product, method, definition }],
    skipDuplicates: true,
  })
  const { jarBatchId } = await addJars(app, left + used, { recipeId, product, madeOn: app.app.clock.now() })
  await inTransaction(prisma, (transaction) =>
    writeEntry(writingFor(app, transaction), { jarBatchId, kind: 'take', units: -used, householdId: app.householdId }),
  )
}

/** Many batches of one jar each, written all at once; `each` changes the nth. Their recipes must be there, or be the jam's. */
export async function addManyJars(
  app: TestApp,
  many: number,
  each: (n: number) => Record<string, unknown> = () => ({}),
): Promise<void> {
  const { coopId, prisma } = app
  const { batchId } = await addJars(app, 0)
  const { process: _, ...like } = await prisma.batch.findFirstOrThrow({ where: { coopId, id: batchId } })
  const at = new Date()
  const numbers = Array.from({ length: many }, () => {
    number += 1
    return number
  })
  await prisma.batch.createMany({
    data: numbers.map((one, n) => ({
      ...like,
      ...{ id: `many-${one}`, number: 9000 + one, code: `T${9000 + one}`, units: 1 },
      ...each(n),
    })),
  })
  await prisma.jarBatch.createMany({
    data: numbers.map((one) => ({
      ...{ coopId, id: `many-${one}`, batchId: `many-${one}`, placeId: 'pantry', createdAt: at },
    })),
  })
  await prisma.shelfEntry.createMany({
    data: numbers.map((one) => ({
      ...{ coopId, id: `many-${one}`, at, jarBatchId: `many-${one}`, kind: 'put', units: 1, by: 'Bea' },
    })),
  })
}
