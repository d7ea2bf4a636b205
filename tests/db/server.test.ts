import { connect, createServer, type Socket } from 'node:net'
import { afterEach, expect, it } from 'vitest'
import { type Database, openDatabase } from '../../src/db/client.ts'
import { databaseFailure, isUnreachable } from '../../src/db/errors.ts'
import { describeServer, type FreshDatabase, freshDatabase } from '../support/database.ts'
import { failure } from './failure.ts'

const SLEEP = 'SELECT pg_sleep(30)::text'

let fresh: FreshDatabase | undefined
let proxy: Proxied | undefined
let through: Database | undefined
afterEach(async () => {
  proxy?.cut()
  await through?.close()
  await proxy?.close()
  await fresh?.dispose()
  fresh = undefined
  proxy = undefined
  through = undefined
})

describeServer('the connections to a server', () => {
  it('end a statement that takes too long, and go on', async () => {
    fresh = await freshDatabase({ open: { callLimitMs: 500, poolSize: 1 } })
    expect(isUnreachable(await failure(fresh.database.prisma.$queryRawUnsafe(SLEEP)))).toBe(true)
    expect(await fresh.database.checkReady()).toEqual({ ready: true })
  })

  it('tell when none is free in time', async () => {
    fresh = await freshDatabase({ open: { connectLimitMs: 300, callLimitMs: 1_500, poolSize: 1 } })
    const busy = failure(fresh.database.prisma.$queryRawUnsafe(SLEEP))
    expect(databaseFailure(await failure(fresh.database.prisma.coop.count()))).toEqual({ meaning: 'unreachable' })
    await busy
  })

  it('tell when the server is cut off in the middle, and come back by themselves', async () => {
    await openThroughProxy()
    const { prisma } = through ?? expect.fail('opened')
    const asking = failure(prisma.$queryRawUnsafe(SLEEP))
    await new Promise((resolve) => setTimeout(resolve, 300))
    proxy?.cut()
    expect(databaseFailure(await asking)).toEqual({ meaning: 'unreachable' })
    expect(await prisma.coop.count()).toBe(0)
  })

  it('tell when the server says nothing any more', async () => {
    await openThroughProxy({ callLimitMs: 300 })
    const { prisma } = through ?? expect.fail('opened')
    expect(await prisma.coop.count()).toBe(0)
    proxy?.freeze()
    expect(databaseFailure(await failure(prisma.coop.count())), 'on an open connection').toEqual({
      meaning: 'unreachable',
    })
    expect(databaseFailure(await failure(prisma.coop.count())), 'on a new one').toEqual({ meaning: 'unreachable' })
  })

  it('tell when the server ends a session', async () => {
    fresh = await freshDatabase({ open: { poolSize: 1 } })
    const other = await openDatabase(fresh.options)
    const asking = failure(fresh.database.prisma.$queryRawUnsafe(SLEEP))
    await new Promise((resolve) => setTimeout(resolve, 300))
    await other.prisma.$queryRaw`
      SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query LIKE ${`${SLEEP}%`} AND datname = current_database()`
    expect(databaseFailure(await asking)).toEqual({ meaning: 'unreachable' })
    expect(await fresh.database.prisma.coop.count()).toBe(0)
    await other.close()
  })
})

async function openThroughProxy(limits: { callLimitMs?: number } = {}): Promise<void> {
  fresh = await freshDatabase()
  const url = new URL(fresh.options.url ?? expect.fail('a server has a url'))
  proxy = await startProxy(url.hostname, Number(url.port || 5432))
  url.hostname = '127.0.0.1'
  url.port = String(proxy.port)
  through = await openDatabase({ url: url.href, poolSize: 1, connectLimitMs: 1_000, ...limits })
}

type Proxied = { port: number; cut(): void; freeze(): void; close(): Promise<void> }

/** Stands between the service and the server, so that a test can cut the wire or hold everything up. */
async function startProxy(host: string, port: number): Promise<Proxied> {
  const sockets = new Set<Socket>()
  let frozen = false
  const server = createServer((near) => {
    const far = connect(port, host)
    for (const [from, to] of [
      [near, far],
      [far, near],
    ] as const) {
      sockets.add(from)
      from.on('data', (bytes) => {
        if (!frozen) to.write(bytes)
      })
      from.on('error', () => to.destroy())
      from.on('close', () => to.destroy())
    }
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const address = server.address()
  if (address === null || typeof address === 'string') throw new Error('The proxy has no port.')
  const cut = () => {
    for (const socket of sockets) socket.destroy()
    sockets.clear()
  }
  return {
    port: address.port,
    cut,
    freeze: () => {
      frozen = true
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  }
}
