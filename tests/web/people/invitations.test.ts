import { createHash } from 'node:crypto'
import type { LightMyRequestResponse } from 'fastify'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { cookiesOf } from '../../support/app.ts'
import { expectSoundPage, htmlOf, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { neighboursId } from '../../support/neighbours.ts'
import { joining, kitchenWithLinks, password, secretIn, wish } from './links.ts'

// Links that let one person in: how they are made, shown and taken back, and what their secret gives away.

const on = await kitchenWithLinks()
const { app, log, invite, stranger, answerLink, events, addAccount } = on
afterAll(() => app.close())
beforeEach(on.anew)
const unknown = 'A'.repeat(43)

/** What a page says when there is nothing: heading and words. */
function nothingSaid(answer: LightMyRequestResponse): string {
  expect(answer.statusCode).toBe(404)
  const $ = expectSoundPage(answer.payload)
  return $('main')
    .text()
    .replace(/Number of this request: \w+/, '')
    .replace(/\s+/g, ' ')
}

describe('making a link', () => {
  test('SEC-008 keeps the hash of its secret and nothing else of it; bound to one household, expiring', async () => {
    const { id, secret } = await invite()
    expect(Buffer.from(secret, 'base64url').length).toBe(32)
    expect(await app.prisma.invitation.findMany()).toMatchObject([
      {
        coopId: app.coopId,
        id,
        kind: 'join',
        secretHash: createHash('sha256').update(secret).digest('hex'),
        householdId: 'pike',
        household: null,
        role: 'planner',
        forName: 'Ines',
        memberId: null,
        madeBy: 'Rosalind Pike',
        expiresAt: new Date('2026-09-18T09:00:00Z'),
        usedAt: null,
        revokedAt: null,
      },
    ])
    const { prisma } = app
    const rest = await Promise.all([
      prisma.submission.findMany(),
      prisma.change.findMany(),
      prisma.securityEvent.findMany(),
    ])
    expect(rest.flat().length).toBeGreaterThan(1)
    expect(JSON.stringify(rest)).not.toContain(secret)
    expect(await events()).toEqual([
      { kind: 'invited', who: 'Rosalind Pike', what: 'Ines invited as planner into household Pike, for 7 days' },
    ])
  })

  test('shows it once, on its own page, to the browser that made it', async () => {
    const { $, path, cookie, shown } = await invite()
    expect(textAt($, '.caution')).toMatch(/shown only now/)
    expect(shown.cookies.find(({ name }) => name === 'glut_told')).toMatchObject({ value: '', path })
    expect((await app.getPage(path))('main code').length).toBe(0)
    const second = await invite()
    const other = await app.app.inject({ url: second.path, headers: { cookie } })
    expect(htmlOf(other.payload)('main code').length).toBe(0)
  })

  test('is listed with its state', async () => {
    const used = await invite()
    await answerLink(used.url, joining)
    const gone = await invite({ days: '1' })
    await app.postTaken(`${gone.path}/removal`, {})
    await invite({ household: 'household:new', newHousehold: 'Odell', role: 'helper', days: '30', forName: 'Lin' })
    await app.prisma.invitation.updateMany({ where: { id: gone.id }, data: { forName: 'Moss' } })
    await app.prisma.invitation.create({
      data: {
        coopId: app.coopId,
        id: 'old',
        secretHash: 'x',
        kind: 'join',
        householdId: 'pike',
        role: 'member',
        forName: 'Old',
        madeBy: 'Rosalind Pike',
        madeAt: new Date('2026-09-01T09:00:00Z'),
        expiresAt: new Date('2026-09-08T09:00:00Z'),
      },
    })
    const at = '11 Sept 2026, 10:00'
    const rows = rowsAt(await app.getPage('/people/invitations'), 'table').slice(1)
    expect(rows.sort((a, b) => String(a[0]).localeCompare(String(b[0])))).toEqual([
      ['Ines', 'planner in household Pike', `${at} by Rosalind Pike`, `used ${at}`],
      ['Lin', 'helper in household Odell', `${at} by Rosalind Pike`, 'holds until 11 Oct 2026, 10:00'],
      ['Moss', 'planner in household Pike', `${at} by Rosalind Pike`, `taken back ${at}`],
      ['Old', 'member in household Pike', '1 Sept 2026, 10:00 by Rosalind Pike', 'ran out 8 Sept 2026, 10:00'],
    ])
    const told = (await app.call('GET', '/api/invitations')).json().invitations as { state: string }[]
    expect(told.map(({ state }) => state).sort()).toEqual(['open', 'over', 'taken-back', 'used'])
    expect(JSON.stringify(told)).not.toMatch(/secret|link/i)
  })

  test('is refused at its fields', async () => {
    const bad = { forName: '', household: 'their-household', role: 'screen', days: '365' }
    expect(problemsIn(await app.postRefused('/people/invitations', { ...wish, ...bad }))).toEqual([
      'Enter whom the invitation is for',
      'Choose the household',
      'Choose a role',
      'Choose how long the link holds',
    ])
    const nameless = { household: 'household:new', newHousehold: '' }
    expect(problemsIn(await app.postRefused('/people/invitations', { ...wish, ...nameless }))).toEqual([
      'Enter the new household’s name',
    ])
    const taken = { household: 'household:new', newHousehold: 'Pike' }
    expect(problemsIn(await app.postRefused('/people/invitations', { ...wish, ...taken }))).toEqual([
      'There is a household of that name already: choose it above',
    ])
    expect(await app.prisma.invitation.count()).toBe(0)
  })

  test('SEC-033 sets no co-op, no time and no maker by the form', async () => {
    await invite({ coopId: neighboursId, madeBy: 'Mara', expiresAt: '2099-01-01', secretHash: 'known' })
    expect(await app.prisma.invitation.findFirstOrThrow()).toMatchObject({
      coopId: app.coopId,
      madeBy: 'Rosalind Pike',
      expiresAt: new Date('2026-09-18T09:00:00Z'),
    })
  })

  test('SEC-050 stops at a hundred that are open', async () => {
    await app.prisma.invitation.createMany({
      data: Array.from({ length: 100 }, (_, n) => ({
        coopId: app.coopId,
        id: `open-${n}`,
        secretHash: `hash ${n}`,
        kind: 'join',
        householdId: 'pike',
        role: 'member',
        forName: 'Many',
        madeBy: 'Rosalind Pike',
        madeAt: new Date('2026-09-11T08:00:00Z'),
        expiresAt: new Date('2026-09-12T08:00:00Z'),
      })),
    })
    const answer = await app.postForm('/people/invitations', wish)
    expect(answer.statusCode).toBe(409)
    expect(htmlOf(answer.payload)('.refused').text()).toContain('There are 100 open links already')
    await app.postTaken('/people/invitations/open-7/removal', {})
    await invite()
  })

  test('for a steward asks for the own password, where there is one', async () => {
    await addAccount('rosalind')
    expect(problemsIn(await app.postRefused('/people/invitations', { ...wish, role: 'steward' }))).toHaveLength(1)
    const body = { forName: 'Ines', role: 'steward', householdId: 'pike', days: 7 }
    expect((await app.call('POST', '/api/invitations', body)).statusCode).toBe(403)
    expect(await app.prisma.invitation.count()).toBe(0)
    await invite({ role: 'steward', password: 'the old one of Pike' })
  })
})

describe('by a call', () => {
  const body = { forName: 'Ines', role: 'member', householdId: 'pike', days: 7 }

  test('the link is told once, and not with a repeat', async () => {
    const key = { 'idempotency-key': 'a key of this test'.replaceAll(' ', '-') }
    const first = await app.call('POST', '/api/invitations', body, key)
    expect(first.statusCode).toBe(201)
    const { link, ...rest } = first.json()
    expect((await stranger(new URL(link).pathname)).statusCode).toBe(200)
    const again = await app.call('POST', '/api/invitations', body, key)
    expect([again.statusCode, again.json()]).toEqual([201, rest])
    expect(await app.prisma.invitation.count()).toBe(1)
    expect(JSON.stringify(await app.prisma.submission.findMany())).not.toContain(secretIn(link))
    expect(await app.call('POST', '/api/invitations', body)).toMatchObject({ statusCode: 201 })
    expect(await app.prisma.invitation.count()).toBe(2)
  })

  test('is taken back, and leads nowhere from then on', async () => {
    const { link, id } = (await app.call('POST', '/api/invitations', { ...body, days: 1 })).json()
    expect((await app.call('DELETE', `/api/invitations/${id}`)).statusCode).toBe(204)
    expect((await app.call('DELETE', `/api/invitations/${id}`)).statusCode).toBe(204)
    expect((await stranger(new URL(link).pathname)).statusCode).toBe(404)
    expect((await events()).map(({ what }) => what)).toContain('invitation of Ines taken back')
  })

  test('a wish that is none is refused', async () => {
    for (const wrong of [
      {},
      { ...body, days: 2 },
      { ...body, newHousehold: 'Odell' },
      { ...body, role: 'screen' },
      { memberId: 'bert', days: 7, role: 'steward' },
    ]) {
      expect((await app.call('POST', '/api/invitations', wrong)).statusCode, JSON.stringify(wrong)).toBe(400)
    }
    expect(await app.prisma.invitation.count()).toBe(0)
  })
})

describe('a secret that leads nowhere', () => {
  test('SEC-006 is answered in one and the same words: unknown, used, taken back, run out, of the other kind', async () => {
    await addAccount('bert')
    const used = await invite()
    await answerLink(used.url, joining)
    const back = await invite()
    await app.postTaken(`${back.path}/removal`, {})
    const over = await invite()
    const exact = await invite()
    await app.prisma.invitation.updateMany({
      where: { id: over.id },
      data: { expiresAt: new Date('2026-09-11T08:59:59Z') },
    })
    await app.prisma.invitation.updateMany({
      where: { id: exact.id },
      data: { expiresAt: new Date('2026-09-11T09:00:00Z') },
    })
    const { link } = (await app.call('POST', '/api/people/bert/reset', {})).json()
    const reset = secretIn(link)
    const open = await invite()
    const paths = [
      `/join/${unknown}`,
      '/join/x',
      '/join/%F0%9F%8D%8E',
      used.url,
      back.url,
      over.url,
      exact.url,
      `/join/${reset}`,
      `/reset/${unknown}`,
      `/reset/${open.secret}`,
      `/reset/${used.secret}`,
    ]
    const said = new Set<string>()
    for (const path of paths) {
      const answer = await stranger(path)
      said.add(nothingSaid(answer))
      expect(answer.headers['referrer-policy']).toBe('strict-origin')
    }
    expect([...said]).toHaveLength(1)
    expect([...said][0]).toContain('This link leads nowhere, or not any more')
    // the same for a form that is sent there
    const form = await stranger(open.url)
    const fields = Object.fromEntries(
      htmlOf(form.payload)('main form')
        .serializeArray()
        .map(({ name, value }) => [name, value]),
    )
    for (const path of paths) {
      const answer = await app.app.inject({
        method: 'POST',
        url: path,
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          cookie: `${cookiesOf(form)}; glut_session=none`,
        },
        payload: new URLSearchParams({ ...fields, ...joining }).toString(),
      })
      expect(answer.statusCode, path).toBe(404)
      expect(answer.payload).not.toContain(password)
    }
    expect(await app.prisma.account.count()).toBe(2)
  })

  test('is nothing once its member left', async () => {
    const { link } = (await app.call('POST', '/api/invitations', { memberId: 'bert', days: 7 })).json()
    await app.prisma.member.updateMany({ where: { id: 'bert' }, data: { leftAt: new Date() } })
    expect((await stranger(new URL(link).pathname)).statusCode).toBe(404)
  })
})

describe('SEC-016 a secret', () => {
  test('stands in no line of the log, nor does a password or an address of mail', async () => {
    const { url, secret, id } = await invite()
    const canaries = [secret, password, 'canary@kitchen.example']
    await stranger(url)
    await answerLink(url, { ...joining, mail: 'not a mail canary@kitchen.example' })
    await app.app.inject({ method: 'PUT', url })
    await app.app.inject({ url, headers: { host: 'elsewhere.example' } })
    await app.app.inject({ url: `${url}/more` })
    await app.app.inject({ url: `${url}%` })
    await app.app.inject({ method: 'POST', url, payload: 'x', headers: { 'content-type': 'text/plain' } })
    await answerLink(url, { ...joining, mail: 'canary@kitchen.example' })
    await stranger(url)
    await app.getPage(`/people/invitations/${id}`)
    expect(log.some((line) => line.includes('/join/:secret'))).toBe(true)
    for (const canary of canaries) expect(log.filter((line) => line.includes(canary))).toEqual([])
  })

  test('leaves by no referrer, and forms of its page still say where they come from', async () => {
    const { url } = await invite()
    // Referrer Policy, 3.5: the origin alone, to the same and to other sites. Fetch, "append a request Origin header":
    // with no-referrer a form would be sent with Origin: null, and be refused where no Sec-Fetch-Site tells (plain http)
    const shown = await stranger(url)
    expect(shown.headers['referrer-policy']).toBe('strict-origin')
    expect(shown.headers['cache-control']).toBe('no-store')
    const $ = htmlOf(shown.payload)
    const leaving = $('a[href], link[href], script[src], img[src]')
      .toArray()
      .map((one) => $(one).attr('href') ?? $(one).attr('src') ?? '')
      .filter((address) => /^(https?:)?\/\//.test(address))
    expect(leaving).toEqual([])
  })
})
