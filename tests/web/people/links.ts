import type { LightMyRequestResponse } from 'fastify'
import { expect } from 'vitest'
import { hashPassword } from '../../../src/features/accounts/index.ts'
import { beginSession, randomSecret } from '../../../src/web/sessions/index.ts'
import { cookiesOf, type Fields, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { expectSoundPage, htmlOf, textAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

export const password = 'a crate of late quinces'
/** What an invitation is made with, and what its form is answered with. */
export const wish = { forName: 'Ines', household: 'pike', newHousehold: '', role: 'planner', days: '7' }
export const joining = { name: 'Ines Odell', signInName: 'ines', mail: '', newPassword: password }

/** The secret at the end of a link. */
export function secretIn(link: string): string {
  const parts = /^http:\/\/[^/]+\/(?:join|reset)\/([\w-]{43})$/.exec(link)
  if (parts?.[1] === undefined) throw new Error(`no link: ${link}`)
  return parts[1]
}

/** A kitchen with one steward and a planner, neighbours beside it, and what people do with links there. Close its app. */
export async function kitchenWithLinks() {
  const log: string[] = []
  const app = await testApp({ logLine: (line) => log.push(line) })
  await addNeighbours(app)

  /** For before each test: Rosalind, who asks, and Bert; no links, nothing noted. */
  async function anew(): Promise<void> {
    const { prisma, coopId } = app
    log.length = 0
    await emptyHistory(prisma)
    await prisma.invitation.deleteMany()
    await prisma.member.deleteMany()
    await prisma.household.deleteMany({ where: { coopId } })
    await prisma.household.create({ data: { coopId, id: 'pike', name: 'Pike' } })
    const member = { coopId, householdId: 'pike' }
    await prisma.member.create({ data: { ...member, id: 'rosalind', name: 'Rosalind Pike', role: 'steward' } })
    await prisma.member.create({ data: { ...member, id: 'bert', name: 'Bert Pike', role: 'planner' } })
    await app.signInAs('rosalind')
  }

  /** The link on the page that a form for one led to, and that page. */
  async function shownAfter(answer: LightMyRequestResponse) {
    expect(answer.statusCode, htmlOf(answer.payload)('main').text()).toBe(303)
    const path = String(answer.headers.location)
    const cookie = cookiesOf(answer)
    const shown = await app.app.inject({ url: path, headers: { cookie } })
    const $ = expectSoundPage(shown.payload)
    const link = textAt($, 'main code')
    return {
      $,
      id: path.split('/').at(-1) ?? '',
      path,
      cookie,
      shown,
      link,
      url: new URL(link).pathname,
      secret: secretIn(link),
    }
  }

  const invite = async (fields: Fields = {}) =>
    shownAfter(await app.postForm('/people/invitations', { ...wish, ...fields }))

  const stranger = (url: string) => app.app.inject({ url, headers: { cookie: 'glut_session=none' } })

  /** Opens the link as a browser that nobody is signed in at and sends its form, with these fields. */
  async function answerLink(url: string, fields: Record<string, string>, cookie?: string) {
    const shown = await stranger(url)
    expect(shown.statusCode, url).toBe(200)
    const $ = expectSoundPage(shown.payload)
    const hidden = Object.fromEntries(
      $('main form')
        .serializeArray()
        .map(({ name, value }) => [name, value]),
    )
    return app.app.inject({
      method: 'POST',
      url,
      headers: {
        'content-type': 'application/x-www-form-urlencoded',
        'sec-fetch-site': 'same-origin',
        cookie: `${cookiesOf(shown)}; glut_session=${cookie ?? 'none'}`,
      },
      payload: new URLSearchParams({ ...hidden, ...fields }).toString(),
    })
  }

  const events = async () =>
    (await app.prisma.securityEvent.findMany()).map(({ kind, who, what }) => ({ kind, who, what }))

  async function addAccount(memberId: string): Promise<void> {
    await app.prisma.account.create({
      data: {
        coopId: app.coopId,
        memberId,
        signInName: memberId,
        passwordHash: await hashPassword('the old one of Pike'),
        createdAt: new Date('2026-09-01T00:00:00Z'),
        handle: `handle of ${memberId}`,
      },
    })
  }

  /** The token of a new session of this member. */
  async function sessionOf(memberId: string): Promise<string> {
    const token = randomSecret()
    const session = { id: app.app.newId(), token, coopId: app.coopId, memberId, device: 'another' }
    await beginSession(app.prisma, session, app.app.clock.now())
    return token
  }

  return { app, log, anew, shownAfter, invite, stranger, answerLink, events, addAccount, sessionOf }
}
