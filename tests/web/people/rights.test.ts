import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { neighboursId } from '../../support/neighbours.ts'
import { password, twoHouseholds } from './two-households.ts'

// How roles and households change, how somebody leaves, and that a co-op keeps a steward.

const on = await twoHouseholds()
const { app, addMember, addAccount, roleOf, events, sessionOf, tokenOf } = on
afterAll(() => app.close())
beforeEach(on.anew)

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
