import { existsSync } from 'node:fs'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { text } from 'node:stream/consumers'
import { setTimeout as sleep } from 'node:timers/promises'
import { afterEach, expect, it } from 'vitest'
import { openDatabase } from '../../src/db/client.ts'
import { FolderLockError } from '../../src/db/embedded/folder-lock.ts'
import { describeEmbedded, type FreshDatabase, freshDatabase, freshPlace } from '../support/database.ts'
import { runName } from '../support/left-overs.ts'
import { exitCode, firstOutput, startWriter } from './start-writer.ts'

let fresh: FreshDatabase | undefined
afterEach(async () => {
  await fresh?.dispose()
  fresh = undefined
})

describeEmbedded('a new data folder', () => {
  it('is made anew after a start that was cut off while making it', { timeout: 60_000 }, async () => {
    const dataDir = await mkdtemp(join(tmpdir(), `${runName()}_new_`))
    const first = startWriter({ options: { dataDir } })
    while (!existsSync(join(dataDir, 'database.new', 'PG_VERSION'))) {
      expect(first.exitCode, 'the first start is still at it').toBeNull()
      await sleep(10)
    }
    first.kill('SIGKILL')
    await exitCode(first)
    expect(existsSync(join(dataDir, 'database'))).toBe(false)

    const database = await openDatabase({ dataDir })
    expect(await database.checkReady()).toEqual({ ready: true })
    await database.close()
    await rm(dataDir, { recursive: true })
  })

  it('of another PostgreSQL is refused with its version', async () => {
    const place = await freshPlace()
    await writeFile(join(place.options.dataDir ?? '', 'database', 'PG_VERSION'), '17\n')
    await expect(openDatabase(place.options)).rejects.toThrow(/made by PostgreSQL 17, and this program has 18/)
    await place.remove()
  })
})

describeEmbedded('the lock on the data folder', () => {
  it('refuses a second process and names the first', async () => {
    fresh = await freshDatabase()
    const second = startWriter(fresh)
    expect(await text(second.stderr)).toContain(`is in use by process ${process.pid}.`)
    expect(second.exitCode ?? (await exitCode(second))).toBe(1)
  })

  it('refuses a second opening in the same process, and the first goes on', async () => {
    fresh = await freshDatabase()
    await expect(openDatabase(fresh.options)).rejects.toThrow(FolderLockError)
    expect(await fresh.database.checkReady()).toEqual({ ready: true })
  })

  it('does not outlive its holder: a start after kill -9 works', async () => {
    const place = await freshPlace()
    const holder = startWriter(place)
    await firstOutput(holder)
    await expect(openDatabase(place.options)).rejects.toThrow(`is in use by process ${holder.pid}.`)
    holder.kill('SIGKILL')
    await exitCode(holder)
    expect(existsSync(join(place.options.dataDir ?? '', 'lock.sock')), 'the dead lock is still there').toBe(true)

    const database = await openDatabase(place.options)
    expect(await database.checkReady()).toEqual({ ready: true })
    await database.close()
    await place.remove()
  })

  it('lets one of two through that find a dead lock together', async () => {
    const place = await freshPlace()
    const holder = startWriter(place)
    await firstOutput(holder)
    holder.kill('SIGKILL')
    await exitCode(holder)

    const opened = await Promise.allSettled([openDatabase(place.options), openDatabase(place.options)])
    const winners = opened.flatMap((result) => (result.status === 'fulfilled' ? [result.value] : []))
    for (const winner of winners) await winner.close()
    await place.remove()
    expect(winners).toHaveLength(1)
  })

  it('is given back by close', async () => {
    const place = await freshPlace()
    await (await openDatabase(place.options)).close()
    await (await openDatabase(place.options)).close()
    await place.remove()
  })

  it('says when the path is too long to lock', async () => {
    const folder = await mkdtemp(join(tmpdir(), `${runName()}_path_`))
    await expect(openDatabase({ dataDir: join(folder, 'd'.repeat(100)) })).rejects.toThrow(/path is too long to lock/)
    await rm(folder, { recursive: true })
  })
})
