import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { hashPassword } from '../../../src/features/accounts/index.ts'
import { beginSession, hashOfSecret, randomSecret, sessionCookie } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { expectSoundPage, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

let app: TestApp
const password = 'plums under a blue lid'
let passwordHash: string

beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  passwordHash = await hashPassword(password)
})
beforeEach(async () => {
  const { prisma, coopId } = app
  await emptyHistory(prisma)
  await prisma.invitation.deleteMany()
  await prisma.attempt.deleteMany()
  // with accounts, sessions and tokens
  await prisma.member.deleteMany()
  await prisma.household.deleteMany({ where: { coopId } })
  await prisma.household.createMany({
    data: [
      { coopId, id: 'pike', name: 'Pike' },
      { coopId, id: 'marsh', name: 'Marsh' },
    ],
  })
  await addMember('rosalind', 'Rosalind Pike', 'steward')
  await addMember('bert', 'Bert Marsh', 'member', 'marsh')
  await app.signInAs('rosalind')
})
afterAll(() => app?.close())

const addMember = (id: string, name: string, role: string, householdId = app.householdId) =>
  app.prisma.member.create({ data: { coopId: app.coopId, id, name, role, householdId } })

const addAccount = (memberId: string) =>
  app.prisma.account.create({
    data: {
      coopId: app.coopId,
      memberId,
      signInName: memberId,
      passwordHash,
      createdAt: new Date('2026-09-01T00:00:00Z'),
      handle: `handle of ${memberId}`,
    },
  })

const roleOf = async (id: string) => (await app.prisma.member.findFirstOrThrow({ where: { id } })).role
const events = async (kind: string) =>
  (await app.prisma.securityEvent.findMany({ where: { kind } })).map(({ coopId, who, what }) => ({ coopId, who, what }))

describe('the people', () => {
  test('stand by household, with roles, accounts and the last sign-in for a steward', async () => {
    await addAccount('bert')
    await app.prisma.securityEvent.create({
      data: {
        id: 'an-event',
        coopId: app.coopId,
        at: new Date('2026-09-10T06:30:00Z'),
        kind: 'signed-in',
        who: 'Bert Marsh',
        memberId: 'bert',
        what: 'signed in by password',
      },
    })
    const $ = await app.getPage('/people')
    expect(textAt($, '.lead')).toBe('2 people in 2 households.')
    expect(rowsAt($, 'table')).toEqual([
      ['Name', 'Role', 'Sign-in name', 'Last signed in'],
      ['Household Marsh'],
      ['Bert Marsh', 'member', 'bert', '10 Sept 2026, 07:30'],
      ['Household Pike'],
      ['Rosalind Pike (you)', 'steward', 'none yet', ''],
    ])
    expect($('main').text()).not.toContain('Strange')
    expect($('main').text()).toContain('needs no account and stands among the helpers')
  })

  test('are names and roles to everybody else, without anything to do', async () => {
    await addAccount('bert')
    await addMember('suri', 'Suri Pike', 'helper')
    await app.signInAs('suri')
    const $ = await app.getPage('/people')
    expect(rowsAt($, 'table')).toEqual([
      ['Name', 'Role'],
      ['Household Marsh'],
      ['Bert Marsh', 'member'],
      ['Household Pike'],
      ['Rosalind Pike', 'steward'],
      ['Suri Pike (you)', 'helper'],
    ])
    expect($('main form, main a[href^="/people"]').length).toBe(0)
    for (const url of ['/people/bert', '/people/bert/leaving', '/people/invitations', '/people/households/marsh']) {
      expect((await app.app.inject({ url })).statusCode, url).toBe(403)
    }
    const { people } = (await app.call('GET', '/api/people')).json()
    expect(people[1]).toEqual({
      id: 'bert',
      name: 'Bert Marsh',
      role: 'member',
      householdId: 'marsh',
      householdName: 'Marsh',
    })
    expect((await app.call('PUT', '/api/people/suri', { role: 'steward', householdId: 'pike' })).statusCode).toBe(403)
    expect(await roleOf('suri')).toBe('helper')
  })

  test('are a link on the page of the co-op', async () => {
    expect((await app.getPage('/coop'))('main a[href="/people"]').length).toBe(1)
    expect(textAt(await app.getPage('/coop'), 'main a[href="/audit"]')).toBe('Audit')
    await app.signInAs('bert')
    expect(textAt(await app.getPage('/coop'), 'main a[href="/audit"]')).toBe('History')
  })
})

describe('households', () => {
  test('are added and renamed, each name once', async () => {
    expect(await app.postTaken('/people/households', { name: '  Odell ' }, { from: '/people' })).toBe('/people')
    const odell = await app.prisma.household.findFirstOrThrow({ where: { name: 'Odell' } })
    expect(odell.coopId).toBe(app.coopId)
    const taken = await app.postRefused('/people/households', { name: 'Marsh' }, { from: '/people' })
    expect(problemsIn(taken)).toEqual(['There is a household of that name already'])
    expect(problemsIn(await app.postRefused('/people/households', { name: ' ' }, { from: '/people' }))).toEqual([
      'Enter the household’s name',
    ])
    await app.postTaken(`/people/households/${odell.id}`, { name: 'Odell and Ferro' })
    expect(problemsIn(await app.postRefused(`/people/households/${odell.id}`, { name: 'Pike' }))).toEqual([
      'There is a household of that name already',
    ])
    // the other co-op's names are its own
    await app.postTaken(`/people/households/${odell.id}`, { name: 'Strange' })
    const changes = await app.prisma.change.findMany({ where: { noun: 'people', nounId: odell.id } })
    expect(changes.map(({ what }) => what).sort()).toEqual([
      'household Odell added',
      'household Odell and Ferro is now Strange',
      'household Odell is now Odell and Ferro',
    ])
    expect((await app.getPage('/people'))('.foot').text()).toContain('Last change: household ')
    const made = await app.call('POST', '/api/households', { name: 'Fenwick' })
    expect([made.statusCode, made.json().name]).toEqual([201, 'Fenwick'])
    expect((await app.call('PUT', `/api/households/${made.json().id}`, { name: 'Marsh' })).statusCode).toBe(422)
  })

  test('of one name, two at the same moment: one is added', async () => {
    const answers = await Promise.all([1, 2, 3, 4].map(() => app.call('POST', '/api/households', { name: 'Odell' })))
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 422, 422, 422])
    expect(await app.prisma.household.count({ where: { name: 'Odell' } })).toBe(1)
  })
})

describe('a role and a household', () => {
  test('SEC-034 SEC-067 change from the next request on, and it is noted', async () => {
    await app.signInAs('bert')
    expect((await app.app.inject({ url: '/lots/new' })).statusCode).toBe(403)
    const asBert = await sessionOf('bert')
    await app.signInAs('rosalind')
    expect(await app.postTaken('/people/bert', { role: 'planner', householdId: 'pike' })).toBe('/people')
    expect((await app.app.inject({ url: '/lots/new', headers: { cookie: asBert } })).statusCode).toBe(200)
    await app.postTaken('/people/bert', { role: 'helper', householdId: 'pike' })
    expect((await app.app.inject({ url: '/lots/new', headers: { cookie: asBert } })).statusCode).toBe(403)
    expect(await events('role-changed')).toEqual([
      { coopId: app.coopId, who: 'Rosalind Pike', what: 'Bert Marsh is now planner, was member' },
      { coopId: app.coopId, who: 'Rosalind Pike', what: 'Bert Marsh is now helper, was planner' },
    ])
    expect(await events('household-changed')).toEqual([
      { coopId: app.coopId, who: 'Rosalind Pike', what: 'Bert Marsh is now of Pike, was of Marsh' },
    ])
  })

  test('are refused where they are none of the co-op’s', async () => {
    expect(problemsIn(await app.postRefused('/people/bert', { role: 'king', householdId: 'their-household' }))).toEqual(
      ['Choose a role', 'Choose the household'],
    )
    const call = await app.call('PUT', '/api/people/bert', { role: 'member', householdId: 'their-household' })
    expect([call.statusCode, call.json().error.fields]).toEqual([422, { householdId: 'Choose the household' }])
    expect((await app.call('PUT', '/api/people/bert', { role: 'screen', householdId: 'pike' })).statusCode).toBe(400)
  })

  test('SEC-033 nothing else of a member can be set', async () => {
    await app.postTaken('/people/bert', {
      role: 'member',
      householdId: 'marsh',
      coopId: neighboursId,
      name: 'Robert',
      leftAt: '2026-01-01',
      units: 'us',
    })
    const bert = await app.prisma.member.findFirstOrThrow({ where: { id: 'bert' } })
    expect(bert).toMatchObject({ coopId: app.coopId, name: 'Bert Marsh', leftAt: null, units: null })
    const body = { role: 'member', householdId: 'marsh', coopId: neighboursId }
    expect((await app.call('PUT', '/api/people/bert', body)).statusCode).toBe(400)
  })
})

describe('leaving', () => {
  test('SEC-012 ends account, passkeys, sessions, tokens and links at once; the name stays', async () => {
    await addAccount('bert')
    const its = { coopId: app.coopId, memberId: 'bert' }
    await app.prisma.passkey.create({
      data: {
        ...its,
        id: 'a-key',
        publicKey: new Uint8Array([1]),
        counter: 0,
        transports: '',
        name: 'phone',
        createdAt: new Date(),
      },
    })
    const done = {
      id: 'a-change',
      at: new Date('2026-09-10T08:00:00Z'),
      who: 'Bert Marsh',
      noun: 'lots',
      nounId: 'a-lot',
    }
    await app.prisma.change.create({ data: { coopId: app.coopId, ...done, what: 'plums, 12 kg taken in' } })
    const { link } = (await app.call('POST', '/api/people/bert/reset', {})).json()
    const asBert = await sessionOf('bert')
    await app.signInAs('bert')
    const page = await app.app.inject({ url: '/coop', headers: { cookie: asBert } })
    expect(page.statusCode).toBe(200)
    await app.signInAs('rosalind')

    expect(textAt(await app.getPage('/people/bert/leaving'), 'h1')).toBe('Bert Marsh leaves the co-op')
    expect(await app.postTaken('/people/bert/leaving', {})).toBe('/people')
    expect(await app.prisma.account.count({ where: its })).toBe(0)
    expect(await app.prisma.passkey.count({ where: its })).toBe(0)
    expect(await app.prisma.session.count({ where: its })).toBe(0)
    expect(await app.prisma.apiToken.count({ where: its })).toBe(0)
    expect((await app.app.inject({ url: '/coop', headers: { cookie: asBert } })).statusCode).toBe(303)
    expect((await app.app.inject({ url: new URL(link).pathname })).statusCode).toBe(404)
    const row = rowsAt(await app.getPage('/audit?kind=changes'), 'table').find(([, , who]) => who === 'Bert Marsh')
    expect(row?.[3]).toBe('plums, 12 kg taken in')
    const list = await app.getPage('/people')
    expect(textsAt(list, '.facts dt')).toEqual(['Bert Marsh'])
    expect(list('main a[href="/people/bert"]').length).toBe(0)
    expect(await events('left')).toMatchObject([{ who: 'Rosalind Pike', what: 'Bert Marsh left the co-op' }])
    // and is not there any more for anything else
    for (const url of ['/people/bert', '/people/bert/leaving', '/people/bert/invitation', '/people/bert/reset']) {
      expect((await app.app.inject({ url })).statusCode, url).toBe(404)
    }
    expect((await app.call('DELETE', '/api/people/bert')).statusCode).toBe(404)
  })
})

describe('SEC-035 the last steward', () => {
  const last = 'This is the last steward. Make somebody else a steward first.'

  test('can neither leave nor be demoted', async () => {
    const demoted = await app.postRefused('/people/rosalind', { role: 'member', householdId: 'pike' })
    expect(problemsIn(demoted)).toEqual([last])
    expect(problemsIn(await app.postRefused('/people/rosalind/leaving', {}))).toEqual([last])
    expect((await app.call('DELETE', '/api/people/rosalind')).statusCode).toBe(422)
    expect((await app.call('PUT', '/api/people/rosalind', { role: 'helper', householdId: 'pike' })).statusCode).toBe(
      422,
    )
    expect(await roleOf('rosalind')).toBe('steward')
    // another household is no matter of rights
    await app.postTaken('/people/rosalind', { role: 'steward', householdId: 'marsh' })
  })

  test('may go once there is another one', async () => {
    await app.postTaken('/people/bert', { role: 'steward', householdId: 'marsh' })
    await app.postTaken('/people/rosalind', { role: 'helper', householdId: 'pike' })
    expect([await roleOf('rosalind'), await roleOf('bert')]).toEqual(['helper', 'steward'])
    expect((await app.app.inject({ url: '/people/bert' })).statusCode).toBe(403)
  })

  test('does not count one who cannot sign in, where there is one who can', async () => {
    await addAccount('rosalind')
    await addMember('wilf', 'Wilf Pike', 'steward')
    const refused = await app.postRefused('/people/rosalind', { role: 'member', householdId: 'pike', password })
    expect(problemsIn(refused)).toEqual([
      'This is the last steward who can sign in. Invite another steward first, and wait until they joined.',
    ])
    await addAccount('wilf')
    await app.postTaken('/people/rosalind', { role: 'member', householdId: 'pike', password })
  })

  test('is there after two stewards step down or leave at the same moment, ten times', async () => {
    for (let round = 0; round < 10; round++) {
      await addMember(`one-${round}`, 'One', 'steward')
      await addMember(`two-${round}`, 'Two', 'steward')
      await app.prisma.member.update({
        where: { coopId_id: { coopId: app.coopId, id: 'rosalind' } },
        data: { role: 'member' },
      })
      await app.signInAs(`one-${round}`)
      const two = await tokenOf(`two-${round}`)
      const down = { role: 'member', householdId: 'pike' }
      const authorization = `Bearer ${two}`
      const answers = await Promise.all(
        round % 2 === 0
          ? [
              app.call('PUT', `/api/people/one-${round}`, down),
              app.call('PUT', `/api/people/two-${round}`, down, { authorization }),
            ]
          : [
              app.call('DELETE', `/api/people/one-${round}`),
              app.call('PUT', `/api/people/two-${round}`, down, { authorization }),
            ],
      )
      expect(answers.map(({ statusCode }) => statusCode < 300).sort(), `round ${round}`).toEqual([false, true])
      expect(await app.prisma.member.count({ where: { coopId: app.coopId, role: 'steward', leftAt: null } })).toBe(1)
      await app.prisma.member.updateMany({ where: { coopId: app.coopId }, data: { role: 'member' } })
    }
  })

  test('hands over with the own password again, where there is one', async () => {
    await addAccount('rosalind')
    await addAccount('bert')
    const over = { role: 'steward', householdId: 'marsh' }
    expect(problemsIn(await app.postRefused('/people/bert', over))).toEqual([
      'Enter your own password: a steward’s rights are given and taken with it',
    ])
    const wrong = await app.postRefused('/people/bert', { ...over, password: 'something else' })
    expect(problemsIn(wrong)).toEqual(['This is not the password you have now'])
    expect(wrong('input[type=password]').attr('value')).toBe('')
    expect(await roleOf('bert')).toBe('member')
    // no program can: it has no password to give
    const call = await app.call('PUT', '/api/people/bert', over)
    expect([call.statusCode, call.json().error.message]).toEqual([
      403,
      'A steward’s rights are given and taken on the pages, where your password is asked for again.',
    ])
    // other roles need none
    await app.postTaken('/people/bert', { role: 'planner', householdId: 'marsh' })
    await app.postTaken('/people/bert', { ...over, password })
    expect(await roleOf('bert')).toBe('steward')
    expect(problemsIn(await app.postRefused('/people/bert/leaving', {}))).toHaveLength(1)
    await app.postTaken('/people/bert/leaving', { password })
    // the password is not kept, as it was typed or as a quick hash with the form
    const kept = JSON.stringify([await app.prisma.securityEvent.findMany(), await app.prisma.submission.findMany()])
    expect(kept).not.toContain(password)
  })

  test('SEC-007 a password asked for again cannot be guessed for long', async () => {
    await addAccount('rosalind')
    const over = { role: 'steward', householdId: 'marsh' }
    for (let n = 0; n < 5; n++) await app.postRefused('/people/bert', { ...over, password: `guess ${n}` })
    expect(problemsIn(await app.postRefused('/people/bert', { ...over, password }))).toEqual([
      'There were too many wrong passwords. Wait 30 seconds, then try again',
    ])
    expect(await roleOf('bert')).toBe('member')
  })
})

test('SEC-031 what is another co-op’s is answered as what is not there', async () => {
  await app.prisma.member.create({
    data: { coopId: neighboursId, id: 'their-member', householdId: 'their-household', name: 'Theirs', role: 'member' },
  })
  const asked: ['GET' | 'PUT' | 'DELETE' | 'POST', string, object?][] = [
    ['GET', '/people/ID'],
    ['GET', '/people/ID/leaving'],
    ['GET', '/people/ID/invitation'],
    ['GET', '/people/ID/reset'],
    ['PUT', '/api/people/ID', { role: 'member', householdId: 'pike' }],
    ['DELETE', '/api/people/ID'],
    ['POST', '/api/people/ID/reset', {}],
    ['POST', '/api/invitations', { memberId: 'ID', days: 7 }],
    ['POST', '/api/invitations', { forName: 'X', role: 'member', days: 7, householdId: 'ID' }],
  ]
  const households: typeof asked = [
    ['GET', '/people/households/ID'],
    ['PUT', '/api/households/ID', { name: 'Ours now' }],
  ]
  const both = [
    ...asked.map((one) => [...one, 'their-member'] as const),
    ...households.map((one) => [...one, 'their-household'] as const),
  ]
  for (const [method, url, ...rest] of both) {
    const theirs = rest.at(-1) as string
    const body = rest.length > 1 ? (rest[0] as object | undefined) : undefined
    const answers = []
    for (const id of [theirs, 'nobody-has-this']) {
      const sent = body === undefined ? undefined : JSON.parse(JSON.stringify(body).replace('ID', id))
      const answer = url.startsWith('/api')
        ? await app.call(method, url.replace('ID', id), sent)
        : await app.app.inject({ method, url: url.replace('ID', id), headers: { accept: 'application/json' } })
      expect(answer.statusCode, `${method} ${url}`).toBeGreaterThanOrEqual(400)
      if (url.includes('ID')) expect(answer.statusCode, `${method} ${url}`).toBe(404)
      answers.push(answer.payload.replace(/"requestId":"[^"]*"/, ''))
    }
    expect(answers[0], `${method} ${url}`).toBe(answers[1])
  }
  const before = await app.prisma.member.findFirstOrThrow({ where: { id: 'their-member' } })
  expect(before).toMatchObject({ role: 'member', leftAt: null })
  expect((await app.prisma.household.findFirstOrThrow({ where: { id: 'their-household' } })).name).toBe('Strange')
})

test('pages are sound for a steward', async () => {
  await addAccount('bert')
  await addAccount('rosalind')
  for (const url of ['/people/bert', '/people/rosalind/leaving', '/people/bert/reset', '/people/households/marsh']) {
    expectSoundPage((await app.app.inject({ url })).payload)
  }
})

/** The cookie of a new session of this member. */
async function sessionOf(memberId: string): Promise<string> {
  const token = randomSecret()
  const session = { id: app.app.newId(), token, coopId: app.coopId, memberId, device: 'another' }
  await beginSession(app.prisma, session, app.app.clock.now())
  return `${sessionCookie(app.app.settings)}=${token}`
}

/** A token of this member that may write. */
async function tokenOf(memberId: string): Promise<string> {
  const token = `glut_${randomSecret()}`
  await app.prisma.apiToken.create({
    data: {
      coopId: app.coopId,
      id: app.app.newId(),
      memberId,
      name: 'a test',
      scope: 'write',
      secretHash: hashOfSecret(token),
      createdAt: app.app.clock.now(),
      expiresAt: new Date('2027-09-01T00:00:00Z'),
    },
  })
  return token
}
