import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { writeEntry } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars, writingFor } from '../shelf/jars.ts'
import { addChain } from './chain.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.recall.deleteMany()
  await app.prisma.batch.updateMany({ data: { recalledAt: null } })
})

const filled = { reason: 'Two lids had lifted.', reach: '01632 960 117' }
const codeOf = async (id: string) =>
  (await app.prisma.batch.findUniqueOrThrow({ where: { coopId_id: { coopId: app.coopId, id } } })).code
const isRecalled = async (id: string) =>
  (await app.prisma.batch.findUniqueOrThrow({ where: { coopId_id: { coopId: app.coopId, id } } })).recalledAt !== null
const take = (id: string, units: string, householdId: string) =>
  app.postTaken(
    `/shelf/jars/${id}/take`,
    { 'take.units': units, 'take.householdId': householdId },
    { from: `/shelf/jars/${id}` },
  )
const recall = (batchId: string, more: Record<string, string | string[]> = {}) =>
  app.postTaken('/recalls', { ...filled, ...more }, { from: `/recalls/new?batch=${batchId}` })

describe('a new recall', () => {
  test('of a lot offers all that was made of it, through every intermediate, each with a ticked box', async () => {
    const { lotId, juice, jelly, cordial } = await addChain(app)
    const $ = await app.getPage(`/recalls/new?lot=${lotId}`)
    expect(
      $('input[name=batchIds]:checked')
        .toArray()
        .map((box) => $(box).attr('value')),
    ).toEqual([juice, jelly, cordial].map(({ batchId }) => batchId))
    expect($('textarea[name=todo]').text()).toMatch(/^Do not taste it and do not open it/)
    const ticked = [juice.batchId, cordial.batchId]
    const path = await app.postTaken('/recalls', { ...filled, batchIds: ticked }, { from: `/recalls/new?lot=${lotId}` })
    expect([
      await isRecalled(juice.batchId),
      await isRecalled(jelly.batchId),
      await isRecalled(cordial.batchId),
    ]).toEqual([true, false, true])
    expect(textsAt(await app.getPage(path), '[aria-labelledby=made-heading] a')).toEqual([
      `Recall Damson jelly ${jelly.code}`,
    ])
  })

  test('names batches by their codes', async () => {
    const [a, b] = [await addJars(app, 2), await addJars(app, 2)]
    const codes = `${(await codeOf(a.batchId)).toLowerCase()}, ${await codeOf(b.batchId)}`
    await app.postTaken('/recalls', { ...filled, codes }, { from: '/recalls/new' })
    expect([await isRecalled(a.batchId), await isRecalled(b.batchId)]).toEqual([true, true])
  })

  test('without a batch, a reason or a way to reach the steward comes back with what was typed', async () => {
    const { batchId } = await addJars(app, 2)
    const fields = { batchIds: [], codes: '', reason: '', todo: 'Wait.', reach: '' }
    const $ = await app.postRefused('/recalls', fields, { from: `/recalls/new?batch=${batchId}` })
    expect(problemsIn($)).toEqual([
      'Enter what is wrong, like “a lid had lifted”',
      'Enter how you can be reached, like a telephone number',
    ])
    expect($('textarea[name=todo]').text()).toBe('Wait.')
    const none = await app.postRefused(
      '/recalls',
      { ...filled, batchIds: [] },
      { from: `/recalls/new?batch=${batchId}` },
    )
    expect(problemsIn(none)).toEqual(['Choose at least one batch'])
    const unknown = await app.postRefused('/recalls', { ...filled, codes: 'ZZZZZ' }, { from: '/recalls/new' })
    expect(problemsIn(unknown)).toEqual(['No batch here has the code ZZZZZ: look at the labels again'])
    expect(await isRecalled(batchId)).toBe(false)
  })

  test('does not reach another co-op’s batch', async () => {
    const { batchId } = await addJars(app, 1)
    const { process: _, ...batch } = await app.prisma.batch.findUniqueOrThrow({
      where: { coopId_id: { coopId: app.coopId, id: batchId } },
    })
    await app.prisma.batch.create({
      data: { ...batch, coopId: neighboursId, id: 'their-batch', code: 'THEIR', recipeId: 'their-jam' },
    })
    const byId = await app.call('POST', '/api/recalls', { batchIds: ['their-batch'], reason: 'x' })
    expect(byId.statusCode).toBe(422)
    await app.postRefused('/recalls', { ...filled, codes: 'THEIR' }, { from: '/recalls/new' })
    expect(await app.prisma.recall.count()).toBe(0)
  })
})

describe('a recall that stands', () => {
  test('lets nobody take, by page, call or straight at the database', async () => {
    const { batchId, jarBatchId } = await addJars(app, 6)
    await recall(batchId)
    const $ = await app.getPage(`/shelf/jars/${jarBatchId}`)
    expect($('form[action$="/take"]').length).toBe(0)
    const taking = inTransaction(app.prisma, (transaction) =>
      writeEntry(writingFor(app, transaction), { jarBatchId, kind: 'take', units: -1, householdId: 'pike' }),
    )
    await expect(taking).rejects.toThrow(/is recalled/)
    const call = await app.call('POST', `/api/shelf/jars/${jarBatchId}/take`, { units: 1, householdId: 'pike' })
    expect(call.statusCode).toBe(409)
    const past = app.prisma.shelfEntry.create({
      data: { coopId: app.coopId, id: 'past-the-ledger', at: new Date(), by: 'x', kind: 'take', units: -1, jarBatchId },
    })
    await expect(past).rejects.toThrow(/ShelfEntry_not_recalled|recalled batch/)
    const stock = await app.prisma.jarBatch.findUniqueOrThrow({
      where: { coopId_id: { coopId: app.coopId, id: jarBatchId } },
    })
    expect(stock.stock).toBe(6)
  })

  test('names the households that took or own some, and where the rest stands; its notice too', async () => {
    const { batchId, jarBatchId } = await addJars(app, 9)
    await take(jarBatchId, '2', 'hedger')
    await app.postTaken(
      `/shelf/jars/${jarBatchId}/move`,
      { 'move.units': '3', 'move.placeId': 'pantry', 'move.householdId': 'pike' },
      { from: `/shelf/jars/${jarBatchId}` },
    )
    await app.postTaken(
      `/shelf/jars/${jarBatchId}/give`,
      { 'give.units': '1', 'give.note': 'the fete' },
      { from: `/shelf/jars/${jarBatchId}` },
    )
    const path = await recall(batchId)
    const code = await codeOf(batchId)
    const $ = await app.getPage(path)
    expect(textsAt($, '[aria-labelledby=tell-heading] dt')).toEqual(['Hedger', 'Pike'])
    const [hedger, pike] = textsAt($, '[aria-labelledby=tell-heading] dd')
    expect(hedger).toMatch(new RegExp(`^2 half-pint jars of Damson jam ${code}, taken Fri,? 11 Sept? 2026$`))
    expect(pike).toBe(`3 half-pint jars of Damson jam ${code}, theirs, in pantry`)
    expect(textsAt($, '[aria-labelledby=tell-heading] tbody td')).toContain('given away outside the co-op: the fete')
    expect(textsAt($, '[aria-labelledby=standing-heading] tbody td.figure')).toEqual([
      '3 half-pint jars',
      '3 half-pint jars',
    ])
    const notice = await app.getPage(`${path}/notice`)
    expect(textAt(notice, 'h1')).toBe('Recalled: do not eat')
    expect(textsAt(notice, '.ticks strong')).toEqual(['Hedger', 'Pike'])
    expect(textAt(notice, '.notice')).toContain('Tell Rosalind Pike how many you have: 01632 960 117')
    expect(textAt(notice, '.notice')).toContain('the fete')
  })

  test('names everybody who took while it was being sent, and refuses the others', async () => {
    const { batchId, jarBatchId } = await addJars(app, 40)
    const taking = Array.from({ length: 12 }, () =>
      app.call('POST', `/api/shelf/jars/${jarBatchId}/take`, { units: 1, householdId: 'hedger' }),
    )
    const made = await app.call('POST', '/api/recalls', { batchIds: [batchId], reason: 'Mould' })
    const answers = await Promise.all(taking)
    expect(made.statusCode).toBe(201)
    const taken = answers.filter(({ statusCode }) => statusCode < 300).length
    expect(answers.every(({ statusCode }) => statusCode < 300 || statusCode === 409)).toBe(true)
    const { gone, standing } = (await app.call('GET', `/api/recalls/${made.json().id}`)).json()
    expect(gone.reduce((sum: number, { units }: { units: number }) => sum + units, 0)).toBe(taken)
    expect(standing).toMatchObject([{ units: 40 - taken }])
  })

  test('is the first line of Today', async () => {
    const { batchId } = await addJars(app, 1)
    const path = await recall(batchId)
    const $ = await app.getPage('/')
    expect($('h1').next().find('a').attr('href')).toBe(path)
    expect($('h1').next().text()).toMatch(/^Recalled, do not eat: Damson jam T\d+\. Two lids had lifted\.$/)
  })

  test.each([
    ['pressure-canned', null, /canned food of low acid/],
    ['water-bath-canned', null, /no process was noted/],
    ['water-bath-canned', false, /departed from the tested one/],
    ['water-bath-canned', true, null],
    ['frozen', null, null],
  ])('of %s food, kept by its process: %s, speaks of botulism where it should', async (method, stable, words) => {
    const process = { shelfStable: stable }
    const { batchId } = await addJars(app, 1, { method, ...(stable === null ? {} : { process }) })
    const text = textsAt(await app.getPage(await recall(batchId)), '.caution').join(' ')
    expect(text).toContain('The local health authority has the last word.')
    if (words === null) expect(text).not.toContain('botulism')
    else expect(text).toMatch(words)
  })
})

describe('a recall that is lifted', () => {
  test('lets its batches be taken again, save those of another that stands', async () => {
    const [a, b] = [await addJars(app, 3), await addJars(app, 3)]
    const first = await recall(a.batchId, { codes: await codeOf(b.batchId) })
    const second = await recall(b.batchId)
    await app.postTaken(`${first}/lift`, {}, { from: first })
    expect([await isRecalled(a.batchId), await isRecalled(b.batchId)]).toEqual([false, true])
    await take(a.jarBatchId, '1', 'hedger')
    expect(textsAt(await app.getPage(first), 'main').join()).toContain('Lifted by Rosalind Pike')
    await app.postTaken(`${second}/lift`, {}, { from: second })
    expect(await isRecalled(b.batchId)).toBe(false)
    expect((await app.getPage('/')).text()).not.toContain('Recalled, do not eat')
  })

  test('of two lifted at the same moment neither leaves the batch behind', async () => {
    const { batchId } = await addJars(app, 3)
    const paths = [await recall(batchId), await recall(batchId)]
    const answers = await Promise.all(paths.map((path) => app.call('POST', `/api${path}/lift`, {})))
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([200, 200])
    expect(await isRecalled(batchId)).toBe(false)
  })

  test('is lifted once', async () => {
    const { batchId } = await addJars(app, 3)
    const made = await app.call('POST', '/api/recalls', { batchIds: [batchId], reason: 'Mould' })
    expect(made.statusCode).toBe(201)
    const { id } = made.json()
    expect((await app.call('POST', `/api/recalls/${id}/lift`, {})).json().liftedBy).toBe('Rosalind Pike')
    expect((await app.call('POST', `/api/recalls/${id}/lift`, {})).statusCode).toBe(409)
    expect((await app.call('GET', `/api/recalls/${id}`)).json()).toMatchObject({
      reason: 'Mould',
      standing: [{ units: 3 }],
    })
    expect((await app.call('GET', '/api/recalls')).json().recalls).toHaveLength(1)
  })
})
