import { hashPassword } from '../../../src/features/accounts/index.ts'
import { beginSession, hashOfSecret, randomSecret, sessionCookie } from '../../../src/web/sessions/index.ts'
import { testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { addNeighbours } from '../../support/neighbours.ts'

export const password = 'plums under a blue lid'

/** A kitchen of two households, neighbours beside it, and what tests of its people make. Close its app. */
export async function twoHouseholds() {
  const app = await testApp()
  await addNeighbours(app)
  const passwordHash = await hashPassword(password)

  /** For before each test: Rosalind, a steward, who asks, and Bert of the other household; no accounts, nothing noted. */
  async function anew(): Promise<void> {
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
  }

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
    (await app.prisma.securityEvent.findMany({ where: { kind } })).map(({ coopId, who, what }) => ({
      coopId,
      who,
      what,
    }))

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

  return { app, anew, addMember, addAccount, roleOf, events, sessionOf, tokenOf }
}
