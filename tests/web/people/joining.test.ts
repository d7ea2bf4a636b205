import { createHash } from 'node:crypto'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { isPassword } from '../../../src/features/accounts/index.ts'
import { expectSoundPage, htmlOf, problemsIn, textAt } from '../../support/html.ts'
import { neighboursId } from '../../support/neighbours.ts'
import { joining, kitchenWithLinks, password } from './links.ts'

// What a link does for whoever opens it: it lets them join, or choose a new password.

const on = await kitchenWithLinks()
const { app, shownAfter, invite, stranger, answerLink, events, addAccount, sessionOf } = on
afterAll(() => app.close())
beforeEach(on.anew)

describe('joining', () => {
  test('shows who invites to what, and is not used up by looking', async () => {
    const { url } = await invite()
    for (let n = 0; n < 3; n++) {
      const $ = expectSoundPage((await stranger(url)).payload)
      expect(textAt($, 'h1')).toBe('Join Larkrise Lane Kitchen')
      expect(textAt($, '.lead')).toBe(
        'Rosalind Pike invites Ines to Larkrise Lane Kitchen in Upper Ansley, as planner in household Pike.',
      )
      expect($('input[name=newPassword]').attr('autocomplete')).toBe('new-password')
      expect($('input[name=signInName]').attr('autocomplete')).toBe('username')
    }
    expect((await app.app.inject({ method: 'HEAD', url })).statusCode).toBe(200)
    expect(await app.prisma.invitation.count({ where: { usedAt: null } })).toBe(1)
  })

  test('SEC-008 makes member, account and session in one, and is used up by it', async () => {
    const { url } = await invite()
    const answer = await answerLink(url, { ...joining, mail: 'Ines@Kitchen.Example' })
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/'])
    const ines = await app.prisma.member.findFirstOrThrow({ where: { name: 'Ines Odell' }, include: { account: true } })
    expect(ines).toMatchObject({
      coopId: app.coopId,
      householdId: 'pike',
      role: 'planner',
      account: { signInName: 'ines', mail: 'ines@kitchen.example' },
    })
    expect(ines.account?.passwordHash).toMatch(/^\$argon2id\$/)
    expect(await isPassword(ines.account?.passwordHash ?? null, password)).toBe(true)
    const session = answer.cookies.find(({ name }) => name === 'glut_session')
    const page = await app.app.inject({ url: '/people', headers: { cookie: `glut_session=${session?.value}` } })
    expect(htmlOf(page.payload)('main').text()).toContain('Ines Odell (you)')
    const joined = (await app.prisma.securityEvent.findMany({ where: { kind: 'joined' } }))[0]
    expect(joined).toMatchObject({
      coopId: app.coopId,
      memberId: ines.id,
      who: 'Ines Odell',
      what: 'Ines Odell joined as planner, invited by Rosalind Pike',
    })
    expect((await stranger(url)).statusCode).toBe(404)
  })

  test('into a new household makes it, and a second invitation for it finds it', async () => {
    const fresh = { household: 'household:new', newHousehold: 'Odell' }
    const first = await invite(fresh)
    const second = await invite({ ...fresh, forName: 'Tom' })
    expect(await app.prisma.household.count({ where: { name: 'Odell' } })).toBe(0)
    const answers = await Promise.all([
      answerLink(first.url, joining),
      answerLink(second.url, { ...joining, name: 'Tom Odell', signInName: 'tom' }),
    ])
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([303, 303])
    const odell = await app.prisma.household.findMany({ where: { name: 'Odell' }, include: { members: true } })
    expect(odell).toHaveLength(1)
    expect(odell[0]?.members.map(({ name }) => name).sort()).toEqual(['Ines Odell', 'Tom Odell'])
  })

  test('SEC-008 twice at the same moment gives one account, ten times', async () => {
    for (let round = 0; round < 10; round++) {
      const { url } = await invite({ forName: `Round ${round}` })
      const answers = await Promise.all(
        ['a', 'b'].map((one) =>
          answerLink(url, { ...joining, name: `${one} ${round}`, signInName: `${one}-${round}` }),
        ),
      )
      expect(answers.map(({ statusCode }) => statusCode).sort(), `round ${round}`).toEqual([303, 404])
      expect(await app.prisma.account.count({ where: { signInName: { endsWith: `-${round}` } } })).toBe(1)
      expect(await app.prisma.member.count({ where: { name: { endsWith: ` ${round}` } } })).toBe(1)
    }
  })

  test('one sign-in name by two invitations at the same moment: the second chooses another, its link still holds', async () => {
    const one = await invite()
    const two = await invite({ forName: 'Another' })
    const answers = await Promise.all([
      answerLink(one.url, joining),
      answerLink(two.url, { ...joining, name: 'Other' }),
    ])
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 422])
    const refused = answers.find(({ statusCode }) => statusCode === 422)
    expect(problemsIn(expectSoundPage(refused?.payload ?? ''))).toHaveLength(1)
    expect(await app.prisma.member.count({ where: { coopId: app.coopId } })).toBe(3)
    expect(await app.prisma.invitation.count({ where: { usedAt: null } })).toBe(1)
  })

  test('SEC-002 SEC-003 refuses a name, a mail address or a password that will not do, and keeps what was typed', async () => {
    await addAccount('bert')
    const { url } = await invite()
    const answer = await answerLink(url, {
      ...joining,
      name: '',
      signInName: 'two words',
      mail: 'nowhere',
      newPassword: '',
    })
    expect(answer.statusCode).toBe(422)
    const $ = expectSoundPage(answer.payload)
    expect(problemsIn($)).toEqual([
      'Enter your name, as the others know you',
      'Enter a name of 2 to 40 letters, digits, dots or dashes, without spaces',
      'Enter a mail address like mara@kitchen.example, or leave it empty',
      'Choose a password',
    ])
    expect($('input[name=signInName]').attr('value')).toBe('two words')
    for (const newPassword of ['short', 'password1', 'Larkrise Lane Kitchen', 'Ines Odell']) {
      const weak = await answerLink(url, { ...joining, newPassword })
      expect(weak.statusCode, newPassword).toBe(422)
      expect(htmlOf(weak.payload)('input[name=newPassword]').attr('value')).toBe('')
    }
    const taken = expectSoundPage((await answerLink(url, { ...joining, signInName: 'Bert' })).payload)
    expect(problemsIn(taken)).toHaveLength(1)
    expect(taken('input[name=newPassword]').attr('value')).toBe('')
    expect(await app.prisma.invitation.count({ where: { usedAt: null } })).toBe(1)
  })

  test('SEC-033 sets no role, household or co-op by the form', async () => {
    const { url } = await invite({ role: 'helper' })
    await answerLink(url, { ...joining, role: 'steward', householdId: 'their-household', coopId: neighboursId })
    expect(await app.prisma.member.findFirstOrThrow({ where: { name: 'Ines Odell' } })).toMatchObject({
      coopId: app.coopId,
      role: 'helper',
      householdId: 'pike',
    })
  })

  test('SEC-011 ends the session that the browser came with', async () => {
    const before = await app.app.inject({ url: '/people' })
    expect(before.statusCode).toBe(200)
    const planted = await sessionOf('bert')
    const { url } = await invite()
    expect((await answerLink(url, joining, planted)).statusCode).toBe(303)
    expect(await app.prisma.session.count({ where: { memberId: 'bert' } })).toBe(0)
  })

  test('gives a member who is there an account: role and household stay', async () => {
    const made = await shownAfter(await app.postForm('/people/bert/invitation', { days: '7' }))
    const $ = expectSoundPage((await stranger(made.url)).payload)
    expect($('input[name=name]').length).toBe(0)
    expect((await answerLink(made.url, { ...joining, signInName: 'bert', name: 'Somebody else' })).statusCode).toBe(303)
    const bert = await app.prisma.member.findFirstOrThrow({ where: { id: 'bert' }, include: { account: true } })
    expect(bert).toMatchObject({
      name: 'Bert Pike',
      role: 'planner',
      householdId: 'pike',
      account: { signInName: 'bert' },
    })
    expect(await app.prisma.member.count({ where: { coopId: app.coopId } })).toBe(2)
    // who has one is not invited again
    const again = await app.postForm('/people/bert/invitation', { days: '7' })
    expect(again.statusCode).toBe(409)
    expect((await app.call('POST', '/api/invitations', { memberId: 'bert', days: 7 })).statusCode).toBe(409)
  })

  test('of two links for one member the newer counts', async () => {
    const older = await shownAfter(await app.postForm('/people/bert/invitation', { days: '7' }))
    const newer = await shownAfter(await app.postForm('/people/bert/invitation', { days: '1' }))
    expect((await stranger(older.url)).statusCode).toBe(404)
    expect((await stranger(newer.url)).statusCode).toBe(200)
  })

  test('loses against a leaving at the same moment: no account is left', async () => {
    for (let round = 0; round < 6; round++) {
      const id = `leaver-${round}`
      await app.prisma.member.create({
        data: { coopId: app.coopId, id, householdId: 'pike', name: id, role: 'member' },
      })
      const { link } = (await app.call('POST', '/api/invitations', { memberId: id, days: 7 })).json()
      const [joined, left] = await Promise.all([
        answerLink(new URL(link).pathname, { ...joining, signInName: id }),
        app.call('DELETE', `/api/people/${id}`),
      ])
      expect(left.statusCode).toBe(204)
      expect([303, 404]).toContain(joined.statusCode)
      expect(await app.prisma.account.count({ where: { memberId: id } })).toBe(0)
    }
  })
})

describe('a new password', () => {
  test('SEC-009 is begun by a steward and chosen by its owner; sessions end, tokens stay', async () => {
    await addAccount('bert')
    await sessionOf('bert')
    await app.signInAs('bert')
    await app.signInAs('rosalind')
    expect(await app.prisma.session.count({ where: { memberId: 'bert' } })).toBe(2)
    const made = await shownAfter(await app.postForm('/people/bert/reset', {}))
    expect(made.link).toContain('/reset/')
    const row = await app.prisma.invitation.findFirstOrThrow()
    expect(row).toMatchObject({ kind: 'reset', memberId: 'bert', expiresAt: new Date('2026-09-12T09:00:00Z') })
    expect(row.secretHash).toBe(createHash('sha256').update(made.secret).digest('hex'))
    // the steward's page has no field for it
    expect((await app.getPage('/people/bert/reset'))('input[name=newPassword]').length).toBe(0)
    const $ = expectSoundPage((await stranger(made.url)).payload)
    expect(textAt($, '.lead')).toBe('For Bert Pike, who signs in to Larkrise Lane Kitchen as bert.')
    expect($('input[name=newPassword]').attr('autocomplete')).toBe('new-password')

    const weak = await answerLink(made.url, { newPassword: 'bert' })
    expect(weak.statusCode).toBe(422)
    const answer = await answerLink(made.url, { newPassword: password })
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/sign-in'])
    const { passwordHash } = await app.prisma.account.findFirstOrThrow({ where: { memberId: 'bert' } })
    expect(await isPassword(passwordHash, password)).toBe(true)
    expect(await app.prisma.session.count({ where: { memberId: 'bert' } })).toBe(0)
    expect(await app.prisma.apiToken.count({ where: { memberId: 'bert' } })).toBe(1)
    expect((await stranger(made.url)).statusCode).toBe(404)
    expect(await events()).toEqual([
      { kind: 'reset-begun', who: 'Rosalind Pike', what: 'a link for a new password made for Bert Pike' },
      {
        kind: 'password-changed',
        who: 'Bert Pike',
        what: 'new password chosen by a link that Rosalind Pike made; 2 sessions ended',
      },
    ])
  })

  test('twice at the same moment: one counts', async () => {
    await addAccount('bert')
    const { link } = (await app.call('POST', '/api/people/bert/reset', {})).json()
    const { pathname } = new URL(link)
    const answers = await Promise.all(
      ['one', 'two', 'three'].map((n) => answerLink(pathname, { newPassword: `${password} ${n}` })),
    )
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([303, 404, 404])
  })

  test('is for who has an account; of a steward it takes the own password of whoever begins it', async () => {
    expect((await app.postForm('/people/bert/reset', {})).statusCode).toBe(409)
    await addAccount('rosalind')
    expect((await app.call('POST', '/api/people/rosalind/reset', {})).statusCode).toBe(403)
    expect(problemsIn(await app.postRefused('/people/rosalind/reset', { password: 'wrong' }))).toEqual([
      'This is not the password you have now',
    ])
    await shownAfter(await app.postForm('/people/rosalind/reset', { password: 'the old one of Pike' }))
  })
})
