import { PGlite } from '@electric-sql/pglite'
import type { SqlDriverAdapter } from '@prisma/driver-adapter-utils'
import { PrismaPGlite } from 'pglite-prisma-adapter'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { connectMendedAdapter } from '../../src/db/embedded/mended-adapter.ts'
import { describeEmbedded } from '../support/database.ts'

// Each case is shown twice: in the adapter as published, where the fault is, and mended. Once a newer version of the
// adapter no longer has a fault, its first half fails, and the mend can go.

describeEmbedded('the adapter for PGlite', () => {
  let client: PGlite
  let published: SqlDriverAdapter
  let mended: SqlDriverAdapter
  beforeAll(async () => {
    client = await PGlite.create()
    await client.exec(`CREATE TABLE "Shelf" (id int PRIMARY KEY);
      CREATE TABLE "Jar" (id int PRIMARY KEY, shelf int REFERENCES "Shelf" DEFERRABLE INITIALLY DEFERRED)`)
    published = await new PrismaPGlite(client).connect()
    mended = await connectMendedAdapter(client)
  })
  afterAll(() => client.close())

  it('reports a COMMIT that fails', async () => {
    const orphan = statement('INSERT INTO "Jar" VALUES (1, 7)')

    const first = await published.startTransaction()
    await first.executeRaw(orphan)
    await expect(first.commit(), 'as published: a success').resolves.toBeUndefined()
    expect(await jars()).toBe(0)

    const second = await mended.startTransaction()
    await second.executeRaw(orphan)
    await expect(second.commit()).rejects.toMatchObject({
      name: 'DriverAdapterError',
      cause: { kind: 'ForeignKeyConstraintViolation', originalCode: '23503' },
    })
    expect(await jars()).toBe(0)
  })

  it('goes on after a COMMIT that failed, and after a rollback', async () => {
    const undone = await mended.startTransaction()
    await undone.executeRaw(statement('INSERT INTO "Shelf" VALUES (1)'))
    await undone.rollback()
    const kept = await mended.startTransaction()
    await kept.executeRaw(statement('INSERT INTO "Shelf" VALUES (2)'))
    await kept.commit()
    expect((await mended.queryRaw(statement('SELECT id FROM "Shelf"'))).rows).toEqual([[2]])
  })

  it('reports a script that fails', async () => {
    const script = 'CREATE TABLE "Crate" (id int); INSERT INTO "Nowhere" VALUES (1)'
    const stray = nextUnhandledRejection()
    await expect(published.executeScript(script), 'as published: a success').resolves.toBeUndefined()
    expect(String(await stray)).toContain('"Nowhere" does not exist')

    await expect(mended.executeScript(script)).rejects.toMatchObject({
      name: 'DriverAdapterError',
      cause: { kind: 'TableDoesNotExist', originalCode: '42P01' },
    })
    const { rows } = await mended.queryRaw(statement(`SELECT to_regclass('"Crate"')::text`))
    expect(rows, 'undone as a whole').toEqual([[null]])
  })

  it('sets the isolation level inside the transaction', async () => {
    const level = statement(`SELECT current_setting('transaction_isolation')`)
    const first = await published.startTransaction('SERIALIZABLE')
    expect((await first.queryRaw(level)).rows, 'as published: no effect').toEqual([['read committed']])
    await first.rollback()

    const second = await mended.startTransaction('SERIALIZABLE')
    expect((await second.queryRaw(level)).rows).toEqual([['serializable']])
    await second.rollback()
  })

  async function jars(): Promise<unknown> {
    return (await mended.queryRaw(statement('SELECT count(*)::int FROM "Jar"'))).rows[0]?.[0]
  }
})

function statement(sql: string) {
  return { sql, args: [], argTypes: [] }
}

/** The published adapter leaves one behind, which would fail the run if nobody took it. */
function nextUnhandledRejection(): Promise<unknown> {
  const others = process.listeners('unhandledRejection')
  process.removeAllListeners('unhandledRejection')
  return new Promise((resolve) => {
    process.once('unhandledRejection', (reason) => {
      for (const listener of others) process.on('unhandledRejection', listener)
      resolve(reason)
    })
  })
}
