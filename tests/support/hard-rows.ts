import { loadDemonstration } from '../../seed/load.ts'
import type { Database } from '../../src/db/client.ts'
import { randomId } from '../../src/ids.ts'

/** Texts that quoting, escaping or another encoding would spoil. */
export const hardTexts = [
  'O’Brien & "Söhne" \\ 100 % \'x\' {a,b} [1] $1',
  'two\nlines\tand a tab\r\n',
  ' leading and trailing ',
  '',
  'NULL',
  '\\N',
  '🍏 中文 עברית \u2028 \u00a0 \ufeff',
  '["a",null]',
] as const

/** The demonstration co-op, and a member with values of every type at its edges. */
export async function addHardRows(prisma: Database['prisma']): Promise<{ coopId: string }> {
  await loadDemonstration(prisma, new Date('2026-09-11T09:00:00.123Z'), randomId)
  const { coopId, id: householdId } = await prisma.household.findFirstOrThrow()
  const member = { coopId, id: 'hard', householdId, name: hardTexts[0], role: 'steward' }
  await prisma.member.create({ data: { ...member, leftAt: new Date('1969-12-31T23:59:59.999Z') } })
  const account = {
    coopId,
    memberId: 'hard',
    signInName: 'hard',
    handle: 'h',
    createdAt: new Date('2026-03-29T01:00:00.001Z'),
  }
  await prisma.account.create({ data: { ...account, passwordHash: '$argon2id$v=19$hard' } })
  await prisma.passkey.create({
    data: {
      id: 'key',
      coopId,
      memberId: 'hard',
      publicKey: Buffer.from(Array.from({ length: 256 }, (_, byte) => byte)),
      counter: 9_223_372_036_854_775_807n,
      transports: '',
      name: hardTexts[1],
      createdAt: new Date('0001-01-01T00:00:00.000Z'),
      lastUsedAt: null,
    },
  })
  await prisma.recipe.create({
    data: {
      coopId,
      id: 'hard',
      name: hardTexts[6],
      method: 'water-bath',
      definition: {
        texts: [...hardTexts],
        numbers: [0.1, 1e-7, 1e21, -0, 12345678901234567000],
        deep: { none: null, '': [] },
      },
    },
  })
  for (const [n, kPa] of [
    '0.1',
    '0.3333333333333333',
    '5e-324',
    '1.7976931348623157e308',
    '-0',
    'Infinity',
  ].entries()) {
    const process = {
      product: 'plums',
      method: 'dial-gauge',
      pack: 'hot',
      fromM: 0,
      toM: 300,
      minutes: 10,
      acid: 'none',
    }
    const noted = {
      source: hardTexts[n % hardTexts.length] ?? '',
      notedBy: 'x',
      notedOn: new Date('2024-02-29T00:00:00Z'),
    }
    await prisma.localProcess.create({
      data: {
        coopId,
        id: `hard-${n}`,
        ...process,
        ...noted,
        jars: n === 0 ? [] : [...hardTexts],
        kPa: 0,
        headspaceMm: 12.7,
      },
    })
    // Prisma rounds the extremes: PostgreSQL reads them itself
    await prisma.$executeRaw`UPDATE "LocalProcess" SET "kPa" = ${kPa}::text::float8 WHERE "id" = ${`hard-${n}`}`
  }
  await prisma.session.create({
    data: {
      id: 'session',
      tokenHash: 'hash-of-a-session-that-must-not-be-kept',
      coopId,
      memberId: 'hard',
      device: 'a phone',
      createdAt: new Date(),
      lastUsedAt: new Date(),
      expiresAt: new Date('2027-01-01T00:00:00Z'),
    },
  })
  return { coopId }
}
