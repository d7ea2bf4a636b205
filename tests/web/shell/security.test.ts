import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { formFields, htmlOf, textAt } from '../../support/html.ts'
import { crates } from './routes.ts'

let kitchen: TestApp
beforeAll(async () => {
  kitchen = await testApp({ more: crates() })
})
afterAll(() => kitchen.close())

describe('the headers of every answer', () => {
  it.each(['/coop', '/nowhere', '/live', '/openapi.json', '/api/nowhere'])('are strict at %s', async (url) => {
    const { headers } = await kitchen.app.inject({ url })
    expect(headers['content-security-policy']).toBe(
      "default-src 'none';script-src 'self';style-src 'self';img-src 'self' data:;connect-src 'self';form-action 'self';base-uri 'none';frame-ancestors 'none'",
    )
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['referrer-policy']).toBe('same-origin')
    expect(headers['cross-origin-opener-policy']).toBe('same-origin')
    expect(headers['cache-control']).toBe('no-store')
    expect(headers['strict-transport-security']).toBeUndefined()
    expect(headers['access-control-allow-origin']).toBeUndefined()
    expect(headers['x-powered-by']).toBeUndefined()
  })

  it('set a cookie that scripts and other sites do not get', async () => {
    const { headers } = await kitchen.app.inject({ url: '/crates' })
    expect(headers['set-cookie']).toMatch(/^glut_form=[^;]+; Path=\/; HttpOnly; SameSite=Lax$/)
  })
})

describe('a form', () => {
  const fields = { name: 'Porch', count: '3' }

  it('is taken from our own page', async () => {
    expect(await kitchen.postTaken('/crates', fields)).toMatch(/^\/crates\/[a-z0-9]{12}$/)
  })

  it('is refused without its token, and shows what was typed to be sent again', async () => {
    const before = await kitchen.prisma.supply.count()
    const answer = await post({ ...fields, _submission: 'abcdefgh2345' }, { 'sec-fetch-site': 'same-origin' })
    expect(answer.statusCode).toBe(403)
    const $ = htmlOf(answer.payload)
    expect(textAt($, 'dl')).toContain('Porch')
    expect(await kitchen.prisma.supply.count()).toBe(before)

    const again = await kitchen.app.inject({
      method: 'POST',
      url: '/crates',
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        cookie: cookiesOf(answer),
      },
      payload: encodeFields(formFields($)),
    })
    expect(again.statusCode).toBe(303)
    expect(await kitchen.prisma.supply.count()).toBe(before + 1)
  })

  it('is not offered again to a browser that does not say it came from our page', async () => {
    const answer = await post(fields, {})
    expect(answer.statusCode).toBe(403)
    expect(htmlOf(answer.payload)('form').length).toBe(0)
  })

  it('is refused with the token of another visitor', async () => {
    const mine = await kitchen.app.inject({ url: '/crates' })
    const theirs = await kitchen.app.inject({ url: '/crates' })
    const answer = await post({ ...formFields(htmlOf(theirs.payload)), ...fields }, { cookie: cookiesOf(mine) })
    expect(answer.statusCode).toBe(403)
  })

  it('is refused with a cookie that we did not sign', async () => {
    const shown = await kitchen.app.inject({ url: '/crates' })
    const cookie = cookiesOf(shown).replace(/.{4}$/, 'AAAA')
    const answer = await post({ ...formFields(htmlOf(shown.payload)), ...fields }, { cookie })
    expect(answer.statusCode).toBe(403)
  })

  it.each([
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
    { origin: 'http://evil.example' },
    { origin: 'http://localhost:9999' },
    { origin: 'null' },
  ])('is refused when it comes from elsewhere: %o', async (from) => {
    const shown = await kitchen.app.inject({ url: '/crates' })
    const answer = await post({ ...formFields(htmlOf(shown.payload)), ...fields }, {
      ...from,
      cookie: cookiesOf(shown),
    } as Record<string, string>)
    expect(answer.statusCode).toBe(403)
    expect(answer.payload).toContain('another site')
    expect(htmlOf(answer.payload)('form').length).toBe(0)
  })

  it('without a token is refused at every route that changes something', async () => {
    const changing = kitchen.app.knownRoutes.filter(
      ({ method, url }) => !['GET', 'HEAD', 'OPTIONS'].includes(method) && !url.startsWith('/api/'),
    )
    expect(changing.length).toBeGreaterThan(2)
    for (const { method, url } of changing) {
      const path = url.replace(/:\w+/g, 'abcdefgh2345')
      const answer = await kitchen.app.inject({
        method: method as 'POST',
        url: path,
        headers: { 'content-type': 'application/x-www-form-urlencoded' },
        payload: 'name=x',
      })
      expect(answer.statusCode, `${method} ${url}`).toBe(403)
    }
  })

  async function post(body: Record<string, string | string[]>, headers: Record<string, string>) {
    return kitchen.app.inject({
      method: 'POST',
      url: '/crates',
      headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
      payload: encodeFields(body),
    })
  }
})

describe('a call', () => {
  it('takes JSON only, so that no form of another site can make it', async () => {
    for (const type of [
      'application/x-www-form-urlencoded',
      'text/plain',
      'multipart/form-data; boundary=x',
      undefined,
    ]) {
      const answer = await kitchen.app.inject({
        method: 'POST',
        url: '/api/crates',
        headers: type === undefined ? {} : { 'content-type': type },
        ...(type === undefined ? {} : { payload: 'name=x&count=1' }),
      })
      expect(answer.statusCode, String(type)).toBe(415)
    }
  })

  it('is refused when a page of another site makes it', async () => {
    const body = { name: 'Porch', count: 2 }
    expect((await kitchen.call('POST', '/api/crates', body, { origin: 'http://evil.example' })).statusCode).toBe(403)
    expect((await kitchen.call('POST', '/api/crates', body)).statusCode).toBe(201)
  })

  it('is refused when its JSON tries to reach the prototype', async () => {
    const answer = await kitchen.app.inject({
      method: 'POST',
      url: '/api/crates',
      headers: { 'content-type': 'application/json' },
      payload: '{"name":"x","count":1,"__proto__":{"admin":true}}',
    })
    expect(answer.statusCode).toBe(400)
  })
})

describe('who may ask', () => {
  it.each(['evil.example', 'localhost.evil.example', 'evil.example:8080', '192.168.1.7'])(
    'nobody who calls us %s',
    async (host) => {
      const answer = await kitchen.app.inject({ url: '/coop', headers: { host } })
      expect(answer.statusCode).toBe(403)
      expect(answer.payload).not.toContain('Larkrise')
    },
  )

  it.each(['localhost', 'LOCALHOST:8080', '127.0.0.1:1234', '[::1]:8080'])('whoever calls us %s', async (host) => {
    expect((await kitchen.app.inject({ url: '/coop', headers: { host } })).statusCode).toBe(200)
  })

  it.each(['127.0.0.1', '::1', '192.168.1.20', '::ffff:192.168.1.20', '203.0.113.9', '2001:db8::1'])(
    'whoever is signed in, from %s, and nobody else',
    async (remoteAddress) => {
      expect((await kitchen.app.inject({ url: '/coop', remoteAddress })).statusCode).toBe(200)
      const headers = { cookie: 'glut_session=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA' }
      const nobody = await kitchen.app.inject({ url: '/coop', remoteAddress, headers })
      expect(nobody.statusCode).toBe(303)
      expect(nobody.headers.location).toBe('/sign-in?next=%2Fcoop')
      expect(nobody.payload).not.toContain('Larkrise')
    },
  )

  it('not through a proxy that we were not told of', async () => {
    const answer = await kitchen.app.inject({ url: '/coop', headers: { 'x-forwarded-for': '127.0.0.1' } })
    expect(answer.statusCode).toBe(403)
    expect(answer.payload).toContain('TRUST_PROXY')
  })

  it('through a proxy that we were told of', async () => {
    const behind = await testApp({ environment: { TRUST_PROXY: 'yes' } })
    const answer = await behind.app.inject({ url: '/coop', headers: { 'x-forwarded-for': '203.0.113.9' } })
    expect(answer.statusCode).toBe(200)
    await behind.close()
  })
})
