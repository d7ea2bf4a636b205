import { rm } from 'node:fs/promises'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { PGlite } from '@electric-sql/pglite'
import { afterEach, expect, it } from 'vitest'
import { openDatabase } from '../../src/db/client.ts'
import { isUnreachable } from '../../src/db/errors.ts'
import { inTransaction } from '../../src/db/transaction.ts'
import { describeEmbedded, type FreshDatabase, freshDatabase, freshPlace } from '../support/database.ts'
import { failure } from './failure.ts'

const COMMITS = 25
/** Minutes of work for PostgreSQL. */
const ENDLESS = 'SELECT count(*)::text FROM generate_series(1, 100000) a, generate_series(1, 100000) b'

let fresh: FreshDatabase | undefined
afterEach(async () => {
  await fresh?.dispose()
  fresh = undefined
})

describeEmbedded('what is acknowledged is on the disk', () => {
  it('flushes at least once for each commit', async () => {
    expect(await flushesOfCommits({})).toBeGreaterThanOrEqual(COMMITS)
  })

  it('would not without the flush put in: the count is one of real flushes', async () => {
    expect(await flushesOfCommits({ flush: false })).toBe(0)
  })

  async function flushesOfCommits(open: { flush?: boolean }): Promise<number> {
    fresh = await freshDatabase({ open })
    const { prisma, embedded } = fresh.database
    const before = (await embedded?.flushes()) ?? Number.NaN
    for (let number = 0; number < COMMITS; number += 1) await prisma.coop.create({ data: coop(`c${number}`) })
    return ((await embedded?.flushes()) ?? Number.NaN) - before
  }
})

describeEmbedded('a dump', () => {
  it('holds what was acknowledged and nothing of a transaction still open', async () => {
    fresh = await freshDatabase()
    const { prisma, embedded } = fresh.database
    await prisma.coop.create({ data: coop('larkrise') })
    const dump = await inTransaction(prisma, async (transaction) => {
      await transaction.household.create({ data: { coopId: 'larkrise', id: 'h1', name: 'Pellow' } })
      return embedded?.dump()
    })
    const copy = await PGlite.create({
      loadDataDir: new Blob([new Uint8Array(dump ?? [])], { type: 'application/gzip' }),
    })
    const counted = await copy.query(
      'SELECT (SELECT count(*)::int FROM "Coop") c, (SELECT count(*)::int FROM "Household") h',
    )
    await copy.close()
    expect(counted.rows).toEqual([{ c: 1, h: 0 }])
  })
})

describeEmbedded("the database's thread", () => {
  it('leaves the event loop free while the database works', async () => {
    fresh = await freshDatabase({ open: { callLimitMs: 1_500 } })
    const busy = failure(fresh.database.prisma.$queryRawUnsafe(ENDLESS))
    let ticks = 0
    const ticking = setInterval(() => {
      ticks += 1
    }, 50)
    await busy
    clearInterval(ticking)
    expect(ticks).toBeGreaterThan(10)
  })

  it('is ended when it does not answer in time, and the next call opens the database again', async () => {
    fresh = await freshDatabase({ open: { callLimitMs: 1_000 } })
    const { prisma } = fresh.database
    await prisma.coop.create({ data: coop('larkrise') })
    const began = performance.now()
    const stuck = failure(prisma.$queryRawUnsafe(ENDLESS))
    const behind = failure(prisma.coop.count())
    expect(isUnreachable(await stuck)).toBe(true)
    expect(isUnreachable(await behind)).toBe(true)
    expect(performance.now() - began).toBeLessThan(5_000)
    expect(await prisma.coop.count()).toBe(1)
  })

  it('does not take a queue of quick calls for a stuck one', async () => {
    fresh = await freshDatabase({ open: { callLimitMs: 700 } })
    const { prisma } = fresh.database
    const slowish = () => prisma.$queryRawUnsafe(`SELECT pg_sleep(0.1)::text`)
    const began = performance.now()
    await Promise.all(Array.from({ length: 15 }, slowish))
    expect(performance.now() - began, 'longer in all than one call may take').toBeGreaterThan(700)
  })

  it('takes its waiting calls and its open transaction with it when it dies, and nothing that was acknowledged', async () => {
    fresh = await freshDatabase()
    const { prisma, embedded } = fresh.database
    await prisma.coop.create({ data: coop('larkrise') })
    const inside = failure(
      inTransaction(prisma, async (transaction) => {
        await transaction.household.create({ data: { coopId: 'larkrise', id: 'h1', name: 'Pellow' } })
        await embedded?.crash()
        await transaction.household.create({ data: { coopId: 'larkrise', id: 'h2', name: 'Tolley' } })
      }),
    )
    expect(isUnreachable(await inside)).toBe(true)

    const waiting = [failure(prisma.$queryRawUnsafe(ENDLESS)), failure(prisma.coop.count())]
    await sleep(200)
    await embedded?.crash()
    for (const error of await Promise.all(waiting)) expect(isUnreachable(error)).toBe(true)

    expect(await prisma.coop.count()).toBe(1)
    expect(await prisma.household.count(), 'the transaction was not continued after the death').toBe(0)
  })

  it('refuses calls after close', async () => {
    fresh = await freshDatabase()
    const { prisma } = fresh.database
    await fresh.database.close()
    expect(isUnreachable(await failure(prisma.coop.count()))).toBe(true)
    expect(await fresh.database.checkReady()).toMatchObject({ ready: false })
  })

  it('says which folder holds no database it can open', async () => {
    const place = await freshPlace()
    await rm(join(place.options.dataDir ?? '', 'database', 'global'), { recursive: true })
    await expect(openDatabase(place.options)).rejects.toThrow(/The embedded database in .*database failed/)
    await place.remove()
  })
})

function coop(id: string) {
  const place = { town: 'Upper Ansley', altitudeM: 640, timeZone: 'Europe/London', locale: 'en-GB' }
  return { id, name: 'Larkrise Lane Kitchen', ...place, units: 'metric', currency: 'GBP' }
}
