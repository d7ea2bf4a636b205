import fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { listEmpties } from '../../../src/features/shelf/empties/queries.ts'
import { jarBatchFor } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { addJars, writingFor } from './jars.ts'
import { ShelfModel, type Spot } from './model.ts'
import { jarsGot } from './model-empties.ts'
import { anyStep, type Real, type Tally } from './model-steps.ts'
import { countedTotals, keptTotals } from './totals.ts'

// Whatever is done at the shelf, in whatever order, ledger and database agree with a model that only adds up a list:
// two batches in two places, shared or of one household. Each run has batches of its own in the one database.
const runs = 200
const mostSteps = 15
const jars = 12
const seed = 20_261_128

const spots: readonly Spot[] = [0, 1].flatMap((batch) =>
  [0, 1].flatMap((place) => [0, 1].map((owner) => ({ batch, place, owner }))),
)

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await app.prisma.place.create({ data: { coopId: app.coopId, id: 'cellar', name: 'cellar', kind: 'cellar' } })
})
afterAll(() => app?.close())

test(`${runs} days at the shelf end as the model says, up to ${mostSteps} steps each`, async () => {
  const tally: Tally = new Map()
  let run = 0
  const days = fc.commands(anyStep(spots, tally), { maxCommands: mostSteps, size: 'max' })
  await fc.assert(
    fc.asyncProperty(days, async (steps) => {
      await fc.asyncModelRun(begin, steps)
      run += 1
      if (run % 20 === 0) expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))
    }),
    { numRuns: runs, seed },
  )

  const counts = [...tally].map(([kind, { done, refused }]) => `${kind} ${done} done, ${refused} refused`)
  const steps = [...tally.values()].reduce((sum, { done, refused }) => sum + done + refused, 0)
  process.stdout.write(`${runs} runs, ${steps} steps: ${counts.sort().join('; ')}.\n`)
  // So much of each was really done and refused, or the test would say little.
  for (const kind of ['take', 'give', 'move', 'break', 'count', 'undo', 'lift']) {
    const { done = 0, refused = 0 } = tally.get(kind) ?? {}
    expect(Math.min(done, refused), `${kind}: ${done} done, ${refused} refused`).toBeGreaterThan(10)
  }

  // The totals that the database keeps beside the ledger are those of all its entries.
  expect(await keptTotals(app.prisma)).toEqual(await countedTotals(app.prisma))
  const kept = (await listEmpties(app.prisma, app)).map(({ householdId, jar, got }) => [`${householdId} ${jar}`, got])
  expect(kept.length).toBeGreaterThan(0)
  expect(kept).toEqual([...(await jarsGot(app))])
}, 600_000)

/** Both with twelve shared jars of each batch in the first place. */
async function begin(): Promise<{ model: ShelfModel; real: Real }> {
  const batches = [await addJars(app, jars), await addJars(app, jars)]
  const batchIds = batches.map(({ batchId }) => batchId)
  const placeIds = ['pantry', 'cellar']
  const householdIds = [null, app.householdId]
  const lineIds = await inTransaction(app.prisma, async (transaction) => {
    const ids: string[] = []
    for (const { batch, place, owner } of spots) {
      const [batchId = '', placeId = '', householdId = null] = [batchIds[batch], placeIds[place], householdIds[owner]]
      ids.push(await jarBatchFor(writingFor(app, transaction), { batchId, placeId, householdId }))
    }
    return ids
  })
  const model = new ShelfModel(spots)
  const entryIds: string[] = []
  for (const { jarBatchId } of batches) {
    model.put(lineIds.indexOf(jarBatchId), jars)
    const put = await app.prisma.shelfEntry.findFirstOrThrow({ where: { coopId: app.coopId, jarBatchId } })
    entryIds.push(put.id)
  }
  return { model, real: { app, spots, lineIds, batchIds, placeIds, householdIds, entryIds, recallIds: [] } }
}
