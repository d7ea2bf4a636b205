import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { expectSoundPage, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { neighboursId } from '../../support/neighbours.ts'
import { twoHouseholds } from './two-households.ts'

// Who belongs to a co-op, in which household, and that no other co-op is reached from here.

const on = await twoHouseholds()
const { app, addMember, addAccount, roleOf } = on
afterAll(() => app.close())
beforeEach(on.anew)

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
