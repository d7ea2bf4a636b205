import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { SUBMISSION_DAYS, sweepSubmissions } from '../../../src/web/queries.ts'
import { lifetimes } from '../../../src/web/sessions/index.ts'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { freshDatabase } from '../../support/database.ts'
import { emptyTables } from '../../support/history.ts'
import { formFields, htmlOf, problemsIn } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { crates } from './routes.ts'

let kitchen: TestApp
beforeAll(async () => {
  kitchen = await testApp({ more: crates() })
})
beforeEach(async () => {
  // what the ledger refuses row by row
  await emptyTables(kitchen.prisma, 'Supply', 'ShelfEntry')
})
afterAll(() => kitchen.close())

describe('a form that is sent again', () => {
  it('does its work once and leads to the same place', async () => {
    const send = await openForm({ name: 'Porch', count: '3' })
    const first = await send()
    const second = await send()
    expect(first.statusCode).toBe(303)
    expect(second.statusCode).toBe(303)
    expect(second.headers.location).toBe(first.headers.location)
    expect(await kitchen.prisma.supply.count()).toBe(1)
  })

  it('does its work once when both arrive at the same moment', async () => {
    const send = await openForm({ name: 'Porch', count: '3' })
    const answers = await Promise.all([send(), send(), send(), send()])
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([303, 303, 303, 303])
    expect(new Set(answers.map(({ headers }) => headers.location)).size).toBe(1)
    expect(await kitchen.prisma.supply.count()).toBe(1)
  })

  it('with other entries is refused, and leads to what was saved', async () => {
    const send = await openForm({ name: 'Porch', count: '3' })
    const first = await send()
    const other = await send({ count: '5' })
    expect(other.statusCode).toBe(409)
    expect(htmlOf(other.payload)('main a').last().attr('href')).toBe(first.headers.location)
    expect(await kitchen.prisma.supply.findMany({ select: { onHand: true } })).toEqual([{ onHand: 3 }])
  })

  it('after a refusal is taken', async () => {
    const $ = await kitchen.postRefused('/crates', { name: 'Porch', count: 'many' })
    expect(problemsIn($)).toEqual(['Enter how many, like 3'])
    expect($('#field-name').attr('value')).toBe('Porch')
    expect($('#field-count').attr('value')).toBe('many')
    expect($('#field-count').attr('aria-invalid')).toBe('true')
    expect($('#field-count').attr('aria-describedby')).toBe('field-count-error')
    await kitchen.postTaken('/crates', { name: 'Porch', count: '3' })
    expect(await kitchen.prisma.supply.count()).toBe(1)
  })

  it('is not acted on without its id', async () => {
    const send = await openForm({ name: 'Porch', count: '3' })
    expect((await send({ _submission: '' })).statusCode).toBe(400)
    expect(await kitchen.prisma.supply.count()).toBe(0)
  })

  /** Opens the page once; each call sends the same form. */
  async function openForm(fields: Record<string, string>) {
    const shown = await kitchen.app.inject({ url: '/crates' })
    return (changed: Record<string, string> = {}) =>
      kitchen.app.inject({
        method: 'POST',
        url: '/crates',
        headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: cookiesOf(shown) },
        payload: encodeFields({ ...formFields(htmlOf(shown.payload)), ...fields, ...changed }),
      })
  }
})

describe('a call with an Idempotency-Key', () => {
  const headers = { 'idempotency-key': 'key-number-one' }

  it('is answered as the first one was', async () => {
    const first = await kitchen.call('POST', '/api/crates', { name: 'Porch', count: 3 }, headers)
    const second = await kitchen.call('POST', '/api/crates', { name: 'Porch', count: 3 }, headers)
    expect(first.statusCode).toBe(201)
    expect(second.statusCode).toBe(201)
    expect(second.json()).toEqual(first.json())
    expect(await kitchen.prisma.supply.count()).toBe(1)
  })

  it('is refused with another body', async () => {
    const answer = await kitchen.call('POST', '/api/crates', { name: 'Porch', count: 4 }, headers)
    expect(answer.statusCode).toBe(422)
    expect(answer.json().error.code).toBe('refused')
  })

  it('must have a key worth the name', async () => {
    const answer = await kitchen.call('POST', '/api/crates', { name: 'P', count: 4 }, { 'idempotency-key': 'short' })
    expect(answer.statusCode).toBe(400)
  })

  it('without one is done each time', async () => {
    await kitchen.call('POST', '/api/crates', { name: 'Porch', count: 3 })
    await kitchen.call('POST', '/api/crates', { name: 'Porch', count: 3 })
    expect(await kitchen.prisma.supply.count()).toBe(2)
  })
})

describe('what was acted on long ago', () => {
  const DAY_MS = 86_400_000
  const send = (key: string) =>
    kitchen.call('POST', '/api/crates', { name: key, count: 3 }, { 'idempotency-key': `crates-${key}` })
  const age = (key: string, ms: number) =>
    kitchen.prisma.submission.updateMany({
      where: { id: `call crates-${key}` },
      data: { at: new Date(kitchen.app.clock.now().getTime() - ms) },
    })
  const crates = () => kitchen.prisma.supply.count()

  it('is forgotten, and what is younger counts once as before', async () => {
    const old = ['old-1', 'old-2', 'old-3', 'old-4', 'old-5']
    for (const key of [...old, 'young', 'new']) expect((await send(key)).statusCode).toBe(201)
    for (const key of old) await age(key, SUBMISSION_DAYS * DAY_MS + 1)
    await age('young', SUBMISSION_DAYS * DAY_MS - 1)
    const before = await kitchen.prisma.submission.count()

    // a few at a time, so that it takes several statements
    expect(await sweepSubmissions(kitchen.prisma, kitchen.app.clock.now(), 2)).toBe(old.length)
    expect(await kitchen.prisma.submission.count()).toBe(before - old.length)
    expect(await sweepSubmissions(kitchen.prisma, kitchen.app.clock.now())).toBe(0)

    expect(await crates()).toBe(7)
    const repeat = await send('young')
    expect(repeat.statusCode).toBe(201)
    await send('new')
    expect(await crates(), 'repeats').toBe(7)
    await send('old-1')
    expect(await crates(), 'it is not known any more').toBe(8)
  })

  it('is no form that could still be sent: none outlives the session that it was shown in', () => {
    expect(SUBMISSION_DAYS).toBeGreaterThanOrEqual(lifetimes.person.days)
  })

  it('is forgotten by the service itself, soon after its start and each hour', async () => {
    const timers = [vi.spyOn(globalThis, 'setTimeout'), vi.spyOn(globalThis, 'setInterval')] as const
    const fresh = await freshDatabase()
    const app = await testApp({ database: fresh.database })
    const set = timers.map(({ mock }, at) => mock.calls.find(([, ms]) => ms === (at === 0 ? 2 : 60) * 60_000))
    for (const timer of timers) timer.mockRestore()
    await addNeighbours(app)
    for (const [sweep] of set.map((call) => call ?? [])) {
      const at = new Date(app.app.clock.now().getTime() - 91 * DAY_MS)
      await app.prisma.submission.create({ data: { coopId: neighboursId, id: 'old', bodyHash: '', path: '/', at } })
      sweep?.()
      await vi.waitFor(async () => expect(await app.prisma.submission.count()).toBe(0), { timeout: 10_000 })
    }
    expect(set.map((call) => typeof call?.[0])).toEqual(['function', 'function'])
    await app.close()
    await fresh.dispose()
  })
})
