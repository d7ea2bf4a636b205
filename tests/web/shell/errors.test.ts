import { connect } from 'node:net'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { knownStatuses } from '../../../src/web/failure-words.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, htmlOf, textAt } from '../../support/html.ts'
import { crates } from './routes.ts'

let kitchen: TestApp
const lines: string[] = []
beforeAll(async () => {
  kitchen = await testApp({ more: crates(), logLine: (line) => lines.push(line) })
})
afterAll(() => kitchen.close())

describe('a failure', () => {
  it('has words of its own for every status that we answer', () => {
    expect(knownStatuses()).toEqual(
      expect.arrayContaining([400, 401, 403, 404, 405, 409, 413, 414, 415, 422, 429, 431, 500, 503, 507]),
    )
  })

  it('is a page with a way on and the number of the request', async () => {
    const answer = await kitchen.app.inject({ url: '/nowhere' })
    expect(answer.statusCode).toBe(404)
    const $ = expectSoundPage(answer.payload)
    expect(textAt($, 'h1')).toBe('Page not found')
    expect(textAt($, 'main a')).toBe('Go to Today')
    expect(textAt($, 'main code')).toMatch(/^[a-z0-9]{12}$/)
    expect($('.places [aria-current]').length).toBe(0)
  })

  it('is JSON of one shape below /api and for whoever asks for JSON', async () => {
    for (const answer of [
      await kitchen.call('GET', '/api/nowhere'),
      await kitchen.app.inject({ url: '/nowhere', headers: { accept: 'application/json' } }),
    ]) {
      expect(answer.statusCode).toBe(404)
      expect(answer.json()).toEqual({
        error: { code: 'not-found', message: expect.any(String), requestId: expect.stringMatching(/^[a-z0-9]{12}$/) },
      })
    }
  })

  it('says what is not there, the same for what is another’s', async () => {
    const answer = await kitchen.app.inject({ url: '/crates/abcdefgh2345' })
    expect(answer.statusCode).toBe(404)
    expect(textAt(htmlOf(answer.payload), '.lead')).toBe('There is no crate here.')
  })

  it.each(['/crates/..%2f..%2fetc', '/crates/ABC', "/crates/1'--", `/crates/${'x'.repeat(60)}`])(
    'answers an id that cannot be ours without looking it up: %s',
    async (url) => {
      const answer = await kitchen.app.inject({ url })
      expect([400, 404]).toContain(answer.statusCode)
      expectSoundPage(answer.payload)
    },
  )

  it('tells a wrong method from an unknown address', async () => {
    const answer = await kitchen.app.inject({ method: 'PUT', url: '/coop' })
    expect(answer.statusCode).toBe(405)
    expect(answer.headers.allow).toBe('GET, HEAD')
    expectSoundPage(answer.payload)
    const call = await kitchen.call('PUT', '/api/crates', {})
    expect(call.statusCode).toBe(405)
    expect(call.headers.allow).toBe('POST')
    expect(call.json().error.code).toBe('wrong-method')
  })

  it('refuses what is too large', async () => {
    const body = { name: 'x'.repeat(300 * 1024), count: 1 }
    expect((await kitchen.call('POST', '/api/crates', body)).statusCode).toBe(413)
    const form = await kitchen.postForm('/crates', { name: 'x'.repeat(300 * 1024) })
    expect(form.statusCode).toBe(413)
    expect(textAt(htmlOf(form.payload), 'h1')).toBe('Too much at once')
    const address = await kitchen.app.inject({ url: `/coop?q=${'x'.repeat(5000)}` })
    expect(address.statusCode).toBe(414)
    const many = await kitchen.postForm(
      '/crates',
      Object.fromEntries(Array.from({ length: 1100 }, (_, i) => [`f${i}`, ''])),
    )
    expect(many.statusCode).toBe(413)
  })

  it('refuses a kind of content that nobody reads', async () => {
    const headers = { 'content-type': 'image/png' }
    const answer = await kitchen.app.inject({ method: 'POST', url: '/crates', headers, payload: 'x' })
    expect(answer.statusCode).toBe(415)
  })

  it('puts a refused call in plain words by field', async () => {
    const answer = await kitchen.call('POST', '/api/crates', { count: 1000, colour: 'blue' })
    expect(answer.statusCode).toBe(400)
    expect(answer.json().error).toMatchObject({
      code: 'refused',
      fields: { name: 'Give a text.', count: 'Give 99 or less.', body: 'Leave out: colour.' },
    })
    const broken = await kitchen.app.inject({
      method: 'POST',
      url: '/api/crates',
      headers: { 'content-type': 'application/json' },
      payload: '{"name":',
    })
    expect(broken.statusCode).toBe(400)
    expect(broken.json().error.code).toBe('bad-request')
  })

  it('of ours says nothing of its cause, keeps what was typed and is written down', async () => {
    lines.length = 0
    const shown = await kitchen.app.inject({ url: '/crates' })
    const token = String(htmlOf(shown.payload)('[name=_csrf]').attr('value'))
    const answer = await kitchen.app.inject({
      method: 'POST',
      url: '/crates/abcdefgh2345/broken',
      headers: {
        cookie: shown.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join(),
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
      },
      payload: new URLSearchParams({ _csrf: token, name: '<b>Porch</b>' }).toString(),
    })
    expect(answer.statusCode).toBe(500)
    const $ = expectSoundPage(answer.payload)
    expect([textAt($, 'dt'), textAt($, 'dd')]).toEqual(['Name', '<b>Porch</b>'])
    for (const secret of ['select', 'Member', '/srv', 'at ', 'fastify', 'node_modules']) {
      expect($('main').text().replaceAll('What', ''), secret).not.toContain(secret)
    }
    expect($('main form').attr('action')).toBe('/crates/abcdefgh2345/broken')
    const written = lines.map((line) => JSON.parse(line)).find(({ what }) => what === 'failed')
    expect(written).toMatchObject({ request: textAt($, 'main code'), error: { kind: 'Error' } })
    expect(written.time).toMatch(/Z$/)
  })

  it('tells what was typed by words, and sends all of the form again as it was', async () => {
    const answer = await sentWithoutToken({
      ...{ _submission: 'the-very-same-form', version: '3', go: 'save', note: '' },
      ...{ jarsFilled: '12', 'packs.0.minUnits': '4' },
    })
    expect(answer.statusCode).toBe(403)
    const $ = expectSoundPage(answer.payload)
    expect($('.panel h2').text()).toBe('What you typed')
    const told = $('.panel dl div').get()
    expect(told.map((row) => [$(row).find('dt').text(), $(row).find('dd').text()])).toEqual([
      ['Jars filled', '12'],
      ['Packs 1, min units', '4'],
    ])
    expect(formFields($, 'main form')).toEqual({
      ...{ _csrf: expect.any(String), _submission: 'the-very-same-form', version: '3', go: 'save', note: '' },
      ...{ jarsFilled: '12', 'packs.0.minUnits': '4' },
    })
  })

  it('lists nothing where nothing was typed, and can still be sent again', async () => {
    const $ = expectSoundPage((await sentWithoutToken({ version: '3', go: 'save' })).payload)
    expect($('.panel').length).toBe(0)
    expect($('main form').attr('action')).toBe('/crates')
    expect(formFields($, 'main form')).toMatchObject({ version: '3', go: 'save' })
  })

  it.each(['password', 'newPassword', 'currentPassword', 'setUpCode'])(
    'shows no %s, and does not offer to send it again',
    async (secret) => {
      const answer = await sentWithoutToken({ name: 'Porch', [secret]: 'canary plum tart' })
      expect(answer.statusCode).toBe(403)
      expect(answer.payload).not.toContain('canary')
      const $ = expectSoundPage(answer.payload)
      expect($('dt').text()).toBe('Name')
      expect($('main form').length).toBe(0)
    },
  )

  it('of somebody being quicker offers what to look at', async () => {
    const shown = await kitchen.app.inject({ url: '/crates' })
    const answer = await kitchen.app.inject({
      method: 'POST',
      url: '/crates/abcdefgh2345/taken',
      headers: {
        cookie: shown.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join(),
        'content-type': 'application/x-www-form-urlencoded',
      },
      payload: new URLSearchParams({ _csrf: String(htmlOf(shown.payload)('[name=_csrf]').attr('value')) }).toString(),
    })
    expect(answer.statusCode).toBe(409)
    expect(htmlOf(answer.payload)('main a[href="/crates"]').text()).toBe('See the crates')
    expect(answer.payload).toContain('Nothing was saved.')
  })
})

describe('a request that is none', () => {
  it.each([
    ['GET /%E0%A4%A HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n', 400],
    [`GET / HTTP/1.1\r\nHost: localhost\r\nX-Long: ${'x'.repeat(20_000)}\r\n\r\n`, 431],
    ['hello\r\n\r\n', 400],
  ])('is answered with a small page, case %#', async (sent, status) => {
    if (!kitchen.app.server.listening) await kitchen.app.listen({ port: 0, host: '127.0.0.1' })
    const address = kitchen.app.server.address()
    if (typeof address !== 'object' || address === null) throw new Error('not listening')
    const text = await exchange(address.port, sent)
    expect(text).toMatch(new RegExp(`^HTTP/1.1 ${status} `))
    expect(text).toContain("content-security-policy: default-src 'none'")
    expect(text).toContain('<h1>')
  })
})

describe('the log', () => {
  it('has one line for each answer, and nothing of what was sent', async () => {
    lines.length = 0
    await kitchen.app.inject({
      url: '/coop?secret=canary-query',
      headers: { cookie: 'other=canary-cookie', authorization: 'canary-token', 'user-agent': 'canary-agent' },
    })
    await kitchen.postForm('/crates', { name: 'canary-name', count: 'canary-count' })
    await kitchen.postForm('/crates', { name: 'canary-name', count: '4' })
    await kitchen.call('POST', '/api/crates', { name: 'canary-name', count: 'canary' })
    await kitchen.app.inject({ url: '/crates/canary-id' })
    const answered = lines.map((line) => JSON.parse(line)).filter(({ what }) => what === 'answered')
    expect(answered.length).toBeGreaterThanOrEqual(7)
    expect(answered[0]).toMatchObject({
      method: 'GET',
      route: '/coop',
      status: 200,
      coop: 'larkrise-lane',
      member: 'rosalind',
    })
    expect(answered.at(-1)).toMatchObject({ route: '/crates/:id', status: 404 })
    expect(lines.join('')).not.toContain('canary')
  })
})

/** A form that comes from a page of ours which had been open for too long. */
function sentWithoutToken(fields: Record<string, string>) {
  return kitchen.app.inject({
    method: 'POST',
    url: '/crates',
    headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin' },
    payload: new URLSearchParams(fields).toString(),
  })
}

function exchange(port: number, sent: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(sent))
    let text = ''
    socket.on('data', (chunk) => {
      text += chunk
    })
    socket.on('close', () => resolve(text))
    socket.on('error', (error) => (text === '' ? reject(error) : resolve(text)))
  })
}
