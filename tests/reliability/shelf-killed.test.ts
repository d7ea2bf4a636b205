import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { coop, steward } from '../../seed/demonstration.ts'
import { type DatabaseOptions, openDatabase } from '../../src/db/client.ts'
import { jarEntryPath } from '../../src/features/shelf/paths.ts'
import { hashOfSecret, randomSecret } from '../../src/web/sessions/index.ts'
import { testApp } from '../support/app.ts'
import { freshPlace } from '../support/database.ts'
import { type RunningService, startService } from '../support/service.ts'
import { addJars } from '../web/shelf/jars.ts'

// The whole program, killed while jars go out and are moved. Whoever got no answer asks again with the same key when it
// is back, as a program that follows the description does: each call must count once, whether its first sending was
// saved or not.
const kills = 5
const clients = 4
const jars = 100_000
const cellarId = 'cellar'

type Call = { key: string; does: 'give' | 'move' }
type Shelf = { jarBatchId: string; batchId: string }

/** The program's own, noted before the service starts. */
const token = `glut_${randomSecret()}`

test(`a service killed ${kills} times under ${clients} clients counts every call once`, async () => {
  const { options, remove } = await freshPlace()
  onTestFinished(remove)
  const shelf = await fillShelf(options)
  const dataDir = options.dataDir ?? mkdtempSync(join(tmpdir(), 'glutworks-shelf-'))
  if (options.dataDir === undefined) onTestFinished(() => rmSync(dataDir, { recursive: true, force: true }))
  const settings = {
    ...{ DATA_DIR: dataDir, DEMO: 'no', LOG_LEVEL: 'error' },
    ...(options.url === undefined ? {} : { DATABASE_URL: options.url }),
  }

  const answered: Call[] = []
  const unanswered: Call[] = []
  let resent = 0
  for (let round = 1; round <= kills; round++) {
    const service = await startService(settings)
    resent += unanswered.length
    const before = answered.length
    const owing = unanswered.splice(0)
    const working = Array.from({ length: clients }, (_, n) =>
      callUntilKilled(
        service,
        shelf,
        owing.filter((_, call) => call % clients === n),
        answered,
      ),
    )
    await expect.poll(() => answered.length, { timeout: 60_000, interval: 5 }).toBeGreaterThan(before + owing.length)
    // Another moment in each round, counted from the first answers on.
    await new Promise((resolve) => setTimeout(resolve, 310 * round))
    await service.kill()
    unanswered.push(...(await Promise.all(working)).flat())
    expect(unanswered.length, `round ${round}: it was killed at work`).toBeGreaterThan(0)
  }

  const service = await startService(settings)
  onTestFinished(() => service.stop())
  resent += unanswered.length
  for (const call of unanswered) await send(service, shelf, call, answered)
  await service.stop()
  const saved = await expectCountedOnce(options, shelf, answered)
  process.stdout.write(
    `${kills} kills, ${answered.length} calls, ${resent} sent again: ${saved} entries, none missing, none twice.\n`,
  )
}, 800_000)

/** A kitchen with its steward, jars in the pantry, and a cellar beside it. */
async function fillShelf(options: DatabaseOptions): Promise<Shelf> {
  const database = await openDatabase(options)
  const app = await testApp({ database })
  try {
    await database.prisma.coop.create({
      data: {
        ...coop,
        households: { create: { id: 'fenwick', name: steward.household } },
        places: { create: { id: cellarId, name: 'far cellar', kind: 'cellar' } },
      },
    })
    await database.prisma.member.create({
      data: { coopId: coop.id, householdId: 'fenwick', id: 'mara', name: steward.name, role: 'steward' },
    })
    const what = { name: 'a program', scope: 'write', secretHash: hashOfSecret(token) }
    const createdAt = new Date()
    const expiresAt = new Date(createdAt.getTime() + 86_400_000)
    await database.prisma.apiToken.create({
      data: { coopId: coop.id, memberId: 'mara', id: 'killed', ...what, createdAt, expiresAt },
    })
    return await addJars(app, jars)
  } finally {
    await app.close()
    await database.close()
  }
}

/** First what is owed an answer, then calls of its own until the service is gone: those that got no answer. */
async function callUntilKilled(
  service: RunningService,
  shelf: Shelf,
  owing: Call[],
  answered: Call[],
): Promise<Call[]> {
  const calls = [...owing]
  for (let number = 0; ; number++) {
    const call = calls[0] ?? { key: randomUUID(), does: number % 3 === 2 ? 'move' : 'give' }
    try {
      await send(service, shelf, call, answered)
    } catch (error) {
      // The connection broke: the service was killed. Whether this call was saved is seen when it is sent again.
      if (error instanceof TypeError) return calls.length > 0 ? calls : [call]
      throw error
    }
    calls.shift()
  }
}

/** A call names itself in its note, by which its entry is found; a move is told by its number. */
async function send(service: RunningService, { jarBatchId }: Shelf, { key, does }: Call, answered: Call[]) {
  const body = does === 'give' ? { units: 1, note: key } : { units: 1, placeId: cellarId, householdId: null }
  const answer = await fetch(`${service.address}/api${jarEntryPath(jarBatchId, does)}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': key, authorization: `Bearer ${token}` },
    body: JSON.stringify(body),
  })
  const text = await answer.text()
  expect(answer.status, text).toBe(200)
  answered.push({ key, does })
}

async function expectCountedOnce(options: DatabaseOptions, { batchId }: Shelf, answered: Call[]): Promise<number> {
  const database = await openDatabase(options)
  try {
    const { prisma } = database
    const of = (does: Call['does']) => answered.filter((call) => call.does === does)
    const lines = await prisma.jarBatch.findMany({ where: { coopId: coop.id, batchId }, include: { entries: true } })
    const entries = lines.flatMap((line) => line.entries)

    const gives = entries.filter(({ kind }) => kind === 'give')
    expect(gives.map(({ note }) => note).sort()).toEqual(
      of('give')
        .map(({ key }) => key)
        .sort(),
    )
    const moves = entries.filter(({ kind }) => kind === 'move')
    expect(new Set(moves.map(({ movement }) => movement)).size).toBe(of('move').length)
    const sides = (units: number) => moves.filter((side) => side.units === units).map(({ movement }) => movement)
    expect(sides(-1).sort()).toEqual(sides(1).sort())
    expect(moves).toHaveLength(2 * of('move').length)

    for (const line of lines) expect(line.stock).toBe(line.entries.reduce((sum, { units }) => sum + units, 0))
    expect(lines.map(({ placeId, stock }) => [placeId, stock]).sort()).toEqual([
      [cellarId, of('move').length],
      ['pantry', jars - of('give').length - of('move').length],
    ])
    return entries.length
  } finally {
    await database.close()
  }
}
