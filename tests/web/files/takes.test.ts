import { load } from 'cheerio'
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { textsAt } from '../../support/html.ts'
import { addJars } from '../shelf/jars.ts'

// What was taken, brought in from a list that hung beside the shelf.

const path = '/files/ledger/import'
let app: TestApp
let code: string
let jarBatchId: string
beforeAll(async () => {
  app = await testApp()
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
})
afterAll(() => app?.close())
beforeEach(async () => {
  const jars = await addJars(app, 10)
  jarBatchId = jars.jarBatchId
  code = (await app.prisma.batch.findFirstOrThrow({ where: { id: jars.batchId } })).code
})

/** A table with a line for each: household, units, and what else it says. */
const listOf = (...lines: string[]) => ['household,units,code,place,note', ...lines].join('\n')
async function look(table: string, status = 200) {
  const answer = await app.postForm(path, { table, does: 'look' })
  expect(answer.statusCode).toBe(status)
  return load(answer.payload)
}
const stepsIn = ($: Awaited<ReturnType<typeof look>>) => textsAt($, '[aria-labelledby=looked-heading] tbody tr')
async function bring(table: string) {
  const seen = String((await look(table))('input[name=seen]').attr('value'))
  return { seen, answer: await app.postForm(path, { table, does: 'bring', seen }) }
}
const stock = async () => (await app.prisma.jarBatch.findFirstOrThrow({ where: { id: jarBatchId } })).stock

test('each line is shown first, then taken by its household, with its note; the same table counts once', async () => {
  const table = listOf(`Hedger,3,${code},pantry,for the fair`, `hedger,4,${code.toLowerCase()},Pantry,`)
  expect(stepsIn(await look(table))[0]).toMatch(
    new RegExp(`^2Hedger takes 3 .* of Damson jam ${code} from pantry`, 'i'),
  )
  expect(await stock()).toBe(10)
  const { seen, answer } = await bring(table)
  expect(answer.statusCode).toBe(303)
  expect(await stock()).toBe(3)
  const where = { jarBatchId, kind: 'take', householdId: 'hedger' }
  const entries = await app.prisma.shelfEntry.findMany({ where, orderBy: { order: 'asc' } })
  expect(entries.map(({ units, note }) => [units, note])).toEqual([
    [-3, 'for the fair'],
    [-4, 'from a table'],
  ])
  expect((await app.postForm(path, { table, does: 'bring', seen })).statusCode).toBe(409)
  expect(await stock()).toBe(3)
})

test('together lines take no more than there is, and what is wrong is told at its line', async () => {
  const $ = await look(
    listOf(
      `Hedger,6,${code},pantry,`,
      `Hedger,5,${code},pantry,`,
      `Nobody,1,${code},pantry,`,
      `Hedger,0,${code},pantry,`,
      'Hedger,1,XXXXX,pantry,',
      `Hedger,1,${code},attic,`,
    ),
    422,
  )
  const told = stepsIn($)
  expect(told[0]).toContain('Hedger takes 6')
  expect(told[1]).toMatch(/4 .* of Damson jam .* are left there, shared\./)
  expect(told.slice(2).join(' ')).toMatch(
    /No household here is called “Nobody”.*“0” is no number of units.*No batch here has the code “XXXXX”.*No place in use is called “attic”/,
  )
  expect($('textarea[name=table]').text()).toContain('attic')
  expect(await stock()).toBe(10)
})

test('nothing is taken where somebody was quicker than the confirmation, nor of what is recalled', async () => {
  const table = listOf(`Hedger,9,${code},pantry,`)
  const seen = String((await look(table))('input[name=seen]').attr('value'))
  const body = { units: 5, householdId: 'hedger' }
  expect((await app.call('POST', `/api/shelf/jars/${jarBatchId}/take`, body)).statusCode).toBeLessThan(300)
  const late = await app.postForm(path, { table, does: 'bring', seen })
  expect(late.statusCode).toBe(422)
  expect(await stock()).toBe(5)
  await app.prisma.batch.updateMany({ where: { code }, data: { recalledAt: app.app.clock.now() } })
  expect(stepsIn(await look(listOf(`Hedger,1,${code},pantry,`), 422))[0]).toContain('is recalled: nobody takes it.')
})

test('the ledger that was taken out changes nothing when it comes in again', async () => {
  const out = await app.app.inject({ url: '/files/ledger.csv' })
  expect(out.statusCode).toBe(200)
  const lines = stepsIn(await look(out.payload.replace(/^\uFEFF/, '')))
  expect(lines.length).toBeGreaterThan(3)
  expect(lines.every((line) => line.includes('This entry is here already'))).toBe(true)
})
