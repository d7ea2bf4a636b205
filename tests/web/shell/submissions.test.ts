import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { formFields, htmlOf, problemsIn } from '../../support/html.ts'
import { crates } from './routes.ts'

let kitchen: TestApp
beforeAll(async () => {
  kitchen = await testApp({ more: crates() })
})
beforeEach(async () => {
  await kitchen.prisma.supply.deleteMany()
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
