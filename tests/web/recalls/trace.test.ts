import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars } from '../shelf/jars.ts'
import { addChain, addInput, addLot } from './chain.ts'

let app: TestApp
let chain: Awaited<ReturnType<typeof addChain>>
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
  chain = await addChain(app)
  await take(chain.cordial.jarBatchId, '3', 'hedger')
  await take(chain.juice.jarBatchId, '2', 'pike')
})
afterAll(() => app?.close())

const take = (id: string, units: string, householdId: string) =>
  app.postTaken(
    `/shelf/jars/${id}/take`,
    { 'take.units': units, 'take.householdId': householdId },
    { from: `/shelf/jars/${id}` },
  )

describe('a chain of three batches', () => {
  test('is followed from its lot to every jar and who took it', async () => {
    const $ = await app.getPage(`/trace/lots/${chain.lotId}`)
    expect(textAt($, '.lead')).toBe(
      'Went into 3 batches. 15 jars, bags and crocks of it stand somewhere, 5 left the shelf.',
    )
    const { juice, jelly, cordial } = chain
    const made = rowsAt($, '[aria-labelledby=batches-heading] table').slice(1)
    expect(made.map(([name]) => name)).toEqual([
      `Damson juice ${juice.code}`,
      `Damson jelly ${jelly.code}`,
      `Damson cordial ${cordial.code}`,
    ])
    expect(made[1]?.[3]).toBe(`3 of Damson juice ${juice.code}, 2.7 kg`)
    expect(rowsAt($, '[aria-labelledby=standing-heading] table').slice(1)).toEqual([
      [`Damson juice ${juice.code}`, 'pantry', 'shared', '8 half-pint jars'],
      [`Damson jelly ${jelly.code}`, 'pantry', 'shared', '6 half-pint jars'],
      [`Damson cordial ${cordial.code}`, 'pantry', 'shared', '1 half-pint jar'],
    ])
    const gone = rowsAt($, '[aria-labelledby=gone-heading] table').slice(1)
    expect(gone.map((row) => row.slice(1, 4))).toEqual([
      ['Pike', 'taken', '2 half-pint jars'],
      ['Hedger', 'taken', '3 half-pint jars'],
    ])
    expect(gone[0]?.[4]).toMatch(/^Fri,? 11 Sept? 2026$/)
  })

  test('is followed back from its end to the lot, and forward from its middle', async () => {
    const back = await app.getPage(`/trace/batches/${chain.cordial.batchId}`)
    const [lot] = rowsAt(back, '[aria-labelledby=back-heading] .table:first-of-type table').slice(1)
    expect(lot).toMatchObject([
      'Damsons',
      expect.stringMatching(/4 Sept? 2026/),
      'Mara Pike (Pike)',
      'gleaned',
      '18 kg',
      expect.anything(),
    ])
    expect(textsAt(back, '[aria-labelledby=back-heading] .table:last-of-type tbody th')).toEqual([
      `Damson juice ${chain.juice.code}`,
      `Damson jelly ${chain.jelly.code}`,
    ])
    const forward = await app.getPage(`/trace/batches/${chain.jelly.batchId}`)
    expect(textsAt(forward, '[aria-labelledby=ahead-heading] .table:first-of-type tbody th')).toEqual([
      `Damson cordial ${chain.cordial.code}`,
    ])
    expect(textsAt(forward, '[aria-labelledby=making-heading] dd')).toEqual([
      'Damson jelly, version 1',
      'nobody was noted',
      'Rosalind Pike',
      'none was noted',
    ])
  })

  test('is the same to programs', async () => {
    const lot = (await app.call('GET', `/api/trace/lots/${chain.lotId}`)).json()
    const ids = [chain.juice, chain.jelly, chain.cordial].map(({ batchId }) => batchId)
    expect(lot.batches.map(({ id }: { id: string }) => id)).toEqual(ids)
    expect(lot.gone).toMatchObject([
      { batchId: ids[0], kind: 'take', household: 'Pike', units: 2 },
      { batchId: ids[2], kind: 'take', household: 'Hedger', units: 3 },
    ])
    const jelly = (await app.call('GET', `/api/trace/batches/${ids[1]}`)).json()
    expect([jelly.behind, jelly.ahead].map(([one]) => one.id)).toEqual([ids[0], ids[2]])
    expect(jelly.lots).toMatchObject([{ id: chain.lotId, source: 'gleaned' }])
  })
})

test('what was taken back is not counted among what left', async () => {
  const lotId = await addLot(app)
  const { batchId, jarBatchId } = await addJars(app, 5)
  await addInput(app, batchId, { lotId }, 2000)
  await take(jarBatchId, '2', 'hedger')
  const entry = await app.prisma.shelfEntry.findFirstOrThrow({ where: { jarBatchId, kind: 'take' } })
  await app.postTaken(`/shelf/entries/${entry.id}/undo`, {}, { from: `/shelf/jars/${jarBatchId}` })
  const $ = await app.getPage(`/trace/lots/${lotId}`)
  expect(textAt($, '[aria-labelledby=gone-heading] p')).toBe('None has left the shelf.')
})

test('ends where rows run in a circle, which nothing writes', async () => {
  const a = await addJars(app, 2, { product: 'Hen' })
  const b = await addJars(app, 2, { product: 'Egg' })
  await addInput(app, a.batchId, { jarBatchId: b.jarBatchId, units: 1 }, 100)
  await addInput(app, b.batchId, { jarBatchId: a.jarBatchId, units: 1 }, 100)
  const answer = (await app.call('GET', `/api/trace/batches/${a.batchId}`)).json()
  expect(answer.behind.map(({ id }: { id: string }) => id)).toEqual([b.batchId])
  expect(answer.ahead.map(({ id }: { id: string }) => id)).toEqual([b.batchId])
})

test('a lot of which nothing was made says so; another co-op’s is not found', async () => {
  const lotId = await addLot(app)
  expect(textAt(await app.getPage(`/trace/lots/${lotId}`), '.lead')).toBe('Nothing was made of this lot yet.')
  const {
    id: _,
    coopId: __,
    ...lot
  } = await app.prisma.lot.findUniqueOrThrow({
    where: { coopId_id: { coopId: app.coopId, id: lotId } },
  })
  await app.prisma.lot.create({ data: { ...lot, coopId: neighboursId, id: 'their-lot', householdId: null } })
  for (const url of [
    '/trace/lots/their-lot',
    '/trace/batches/nowhere',
    '/api/trace/lots/their-lot',
    '/recalls/new?lot=their-lot',
  ])
    expect((await app.app.inject({ url })).statusCode, url).toBe(404)
})
