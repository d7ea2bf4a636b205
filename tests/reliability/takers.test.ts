import { randomUUID } from 'node:crypto'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { jarEntryPath } from '../../src/features/shelf/paths.ts'
import { type TestApp, testApp } from '../support/app.ts'
import { addJars } from '../web/shelf/jars.ts'

// Many reach for the last jars at the same moment, each by a call of its own. On a server they come over several
// connections and meet at the row of the stock; the embedded database has one session, in which they queue, so that
// few rounds say as much as many.
const onServer = process.env['GLUTWORKS_TEST_DATABASE'] === 'postgres'
const rounds = onServer ? 100 : 10
const takers = 50
const jars = 20

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

test(`${takers} takers of ${jars} jars at once, ${rounds} times: ${jars} get one each, the others are told that none is left`, async () => {
  const words = new Map<string, number>()
  for (let round = 1; round <= rounds; round++) {
    const { jarBatchId } = await addJars(app, jars)
    const answers = await Promise.all(Array.from({ length: takers }, () => take(jarBatchId)))
    const got = answers.filter(({ statusCode }) => statusCode === 200)
    const told = answers.filter(({ statusCode }) => statusCode === 409)
    expect([got.length, told.length], `round ${round}: ${answers.map(({ statusCode }) => statusCode)}`).toEqual([
      jars,
      takers - jars,
    ])
    // Each winner was told another number that is left, from all but one down to none: no two saw the same stock.
    expect(got.map((answer) => answer.json().stock).sort((a, b) => b - a)).toEqual(
      Array.from({ length: jars }, (_, n) => jars - 1 - n),
    )
    for (const answer of told) {
      const { message } = answer.json().error
      words.set(message, (words.get(message) ?? 0) + 1)
    }
    await expectSound(jarBatchId)
  }
  expect([...words]).toEqual([['None of Damson jam is left here: somebody was quicker.', rounds * (takers - jars)]])
  process.stdout.write(`${rounds} rounds of ${takers} takers: ${rounds * jars} jars, ${rounds * jars} taken.\n`)
}, 300_000)

test('the same call sent many times at once takes one jar, and every sending is answered alike', async () => {
  const { jarBatchId } = await addJars(app, jars)
  const key = randomUUID()
  const answers = await Promise.all(Array.from({ length: 20 }, () => take(jarBatchId, key)))
  expect(new Set(answers.map(({ statusCode, body }) => `${statusCode} ${JSON.parse(body).stock}`))).toEqual(
    new Set([`200 ${jars - 1}`]),
  )
  const taken = await app.prisma.shelfEntry.count({ where: { coopId: app.coopId, jarBatchId, kind: 'take' } })
  expect(taken).toBe(1)
}, 60_000)

test('of many who take the same entry back at once, one does', async () => {
  const { jarBatchId } = await addJars(app, jars)
  await take(jarBatchId)
  const entry = await app.prisma.shelfEntry.findFirstOrThrow({
    where: { coopId: app.coopId, jarBatchId, kind: 'take' },
  })
  const answers = await Promise.all(
    Array.from({ length: 20 }, () => app.call('POST', `/api/shelf/entries/${entry.id}/undo`, {})),
  )
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([204, ...Array(19).fill(409)])
  const { stock } = await app.prisma.jarBatch.findFirstOrThrow({ where: { coopId: app.coopId, id: jarBatchId } })
  expect(stock).toBe(jars)
}, 60_000)

test('jars that go to and fro between two households at once are lost nowhere, and nobody is told to come again', async () => {
  const { jarBatchId } = await addJars(app, 4 * jars)
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
  const move = (id: string, householdId: string | null, units: number) =>
    app.call('POST', `/api${jarEntryPath(id, 'move')}`, { units, placeId: 'pantry', householdId })
  const pike = (await move(jarBatchId, app.householdId, 2 * jars)).json().id
  const hedger = (await move(jarBatchId, 'hedger', 2 * jars)).json().id
  const answers = await Promise.all(
    Array.from({ length: 2 * jars }, (_, n) =>
      n % 2 === 0 ? move(pike, 'hedger', 1) : move(hedger, app.householdId, 1),
    ),
  )
  expect(answers.map(({ statusCode }) => statusCode)).toEqual(Array(2 * jars).fill(200))
  const kept = await app.prisma.householdJars.findMany({
    where: { coopId: app.coopId, householdId: 'hedger' },
    select: { got: true },
  })
  expect(kept).toEqual([{ got: 2 * jars }])
  const lines = await app.prisma.jarBatch.findMany({ where: { coopId: app.coopId, id: { in: [pike, hedger] } } })
  expect(lines.map(({ stock }) => stock)).toEqual([2 * jars, 2 * jars])
}, 120_000)

function take(jarBatchId: string, key: string = randomUUID()) {
  const body = { units: 1, householdId: app.householdId }
  return app.call('POST', `/api${jarEntryPath(jarBatchId, 'take')}`, body, { 'idempotency-key': key })
}

/** All are gone, never more than there were, and the entries add up to what is there. */
async function expectSound(jarBatchId: string): Promise<void> {
  const where = { coopId: app.coopId, jarBatchId }
  const { stock } = await app.prisma.jarBatch.findFirstOrThrow({ where: { coopId: app.coopId, id: jarBatchId } })
  const { _sum, _min, _count } = await app.prisma.shelfEntry.aggregate({
    where,
    _sum: { units: true },
    _min: { stockAfter: true },
    _count: true,
  })
  expect([stock, _sum.units, _min.stockAfter, _count]).toEqual([0, 0, 0, 1 + jars])
}
