import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, test } from 'vitest'
import { openDatabase } from '../../../src/db/client.ts'
import { lockFolder } from '../../../src/db/embedded/folder-lock.ts'
import { migrateDatabase } from '../../../src/db/migrate.ts'
import { letInCommand, setUpCodeCommand } from '../../../src/features/accounts/commands.ts'
import { hashPassword } from '../../../src/features/accounts/passwords.ts'
import { hashOfSetUpCode } from '../../../src/features/accounts/set-up/code.ts'
import { hashOfSecret, randomSecret } from '../../../src/web/sessions/index.ts'
import { freshPlace } from '../../support/database.ts'

const clean: (() => Promise<void>)[] = []
afterEach(async () => {
  for (const one of clean.splice(0).reverse()) await one()
})

async function run(command: typeof letInCommand, args: string[], environment: Record<string, string>) {
  const said: string[] = []
  const code = await command(args, environment, (line) => said.push(line))
  return { code, said }
}

/** A database with one member who has an account, and the environment that leads to it; closed. */
async function place() {
  const fresh = await freshPlace()
  clean.push(fresh.remove)
  const { url, dataDir } = fresh.options
  const environment: Record<string, string> =
    url === undefined ? { DATA_DIR: dataDir ?? '' } : { DATABASE_URL: url, DATA_DIR: '/nowhere' }
  const open = async () => {
    const database = await openDatabase(fresh.options)
    await migrateDatabase(database)
    return database
  }
  const database = await open()
  const coopId = 'plum-row'
  const ways = { timeZone: 'Europe/London', locale: 'en-GB', units: 'metric', currency: 'GBP' }
  await database.prisma.coop.create({ data: { id: coopId, name: 'Plum Row', town: 'Ansley', altitudeM: 120, ...ways } })
  await database.prisma.household.create({ data: { coopId, id: 'lind', name: 'Lind' } })
  await database.prisma.member.create({
    data: { coopId, id: 'bea', householdId: 'lind', name: 'Bea Lind', role: 'steward' },
  })
  await database.prisma.account.create({
    data: {
      ...{ coopId, memberId: 'bea', signInName: 'bea', handle: randomSecret(), createdAt: new Date() },
      passwordHash: await hashPassword(randomSecret()),
    },
  })
  await database.close()
  return { environment, open, isEmbedded: url === undefined }
}

describe('SEC-009 a host who lets somebody in', () => {
  test('gets a link that holds for an hour, and never a password', async () => {
    const { environment, open } = await place()
    const first = await run(letInCommand, ['bea'], { ...environment, PUBLIC_ADDRESS: 'https://kitchen.example' })
    expect(first.code).toBe(0)
    expect(first.said[0]).toBe('Bea Lind of Plum Row can choose a new password within an hour, at:')
    const secret = /^https:\/\/kitchen\.example\/reset\/([\w-]{43})$/.exec(first.said[1] ?? '')?.[1] ?? ''
    const second = await run(letInCommand, ['BEA'], environment)
    expect(second.said[1]).toMatch(/^http:\/\/localhost:8080\/reset\/[\w-]{43}$/)

    const database = await open()
    clean.push(() => database.close())
    const links = await database.prisma.invitation.findMany({ orderBy: { madeAt: 'asc' } })
    expect(links).toHaveLength(2)
    const [old, held] = links
    // SEC-008: the hash alone is kept, and the newest link counts
    expect(old?.secretHash).toBe(hashOfSecret(secret))
    expect(old?.revokedAt).not.toBeNull()
    expect(held).toMatchObject({ kind: 'reset', memberId: 'bea', forName: 'Bea Lind', usedAt: null, revokedAt: null })
    expect((held?.expiresAt.getTime() ?? 0) - (held?.madeAt.getTime() ?? 0)).toBe(3_600_000)
    const noted = await database.prisma.securityEvent.findMany()
    expect(noted).toHaveLength(2)
    expect(noted[0]).toMatchObject({ kind: 'reset-begun', coopId: 'plum-row', who: 'whoever hosts the service' })
    expect(JSON.stringify([links, noted])).not.toContain(secret)
  })

  test('is told of a name that nobody has, of all names without one, and of a wrong use', async () => {
    const { environment } = await place()
    expect(await run(letInCommand, ['nobody'], environment)).toMatchObject({ code: 1 })
    const names = await run(letInCommand, [], environment)
    expect(names.code).toBe(2)
    expect(names.said[0]).toBe('bea: Bea Lind, steward of Plum Row')
    expect(await run(letInCommand, ['a', 'b'], environment)).toMatchObject({ code: 2 })
    const wrong = await run(letInCommand, ['bea'], { ...environment, PORT: 'canary' })
    expect(wrong.code).toBe(2)
    expect(wrong.said.join()).toContain('PORT')
    expect(wrong.said.join()).not.toContain('canary')
  })

  test('is told to stop the service where it holds the folder, and of a folder without a database', async () => {
    const dataDir = await mkdtemp(join(tmpdir(), 'let-in-'))
    clean.push(() => rm(dataDir, { recursive: true, force: true }))
    const nothing = await run(letInCommand, ['bea'], { DATA_DIR: dataDir })
    expect(nothing).toEqual({ code: 1, said: [`There is no database in ${dataDir}. Start the service first.`] })
    // as a running service holds it
    await mkdir(join(dataDir, 'database'))
    const lock = await lockFolder(dataDir)
    clean.push(() => lock.release())
    const refused = await run(letInCommand, ['bea'], { DATA_DIR: dataDir })
    expect(refused.code).toBe(1)
    expect(refused.said[0]).toContain(String(process.pid))
    expect(refused.said[1]).toBe('Stop the service, make the link, and start it again.')
    const code = await run(setUpCodeCommand, [], { DATA_DIR: dataDir })
    expect(code.code).toBe(1)
    expect(code.said[1]).toMatch(/or start it with a code of your own in SET_UP_CODE\.$/)
  })
})

describe('a host who wants a further co-op', () => {
  test('gets a code for a day, kept as a hash', async () => {
    const { environment, open } = await place()
    const { code, said } = await run(setUpCodeCommand, [], environment)
    expect(code).toBe(0)
    expect(said[0]).toBe('A further co-op can be set up at http://localhost:8080/set-up within 24 hours, once, with:')
    const database = await open()
    clean.push(() => database.close())
    const kept = await database.prisma.setUpCode.findMany()
    expect(kept).toHaveLength(1)
    expect(kept[0]?.codeHash).toBe(hashOfSetUpCode(said[1] ?? ''))
    expect((kept[0]?.expiresAt?.getTime() ?? 0) - (kept[0]?.madeAt.getTime() ?? 0)).toBe(86_400_000)
  })
})
