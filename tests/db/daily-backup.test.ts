import { mkdtempSync, readdirSync, rmSync, utimesSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { fixedClock } from '../../src/clock.ts'
import { type Database, openDatabase } from '../../src/db/client.ts'
import { createBackups } from '../../src/keeping/backups.ts'
import { makeIfDue } from '../../src/keeping/daily.ts'
import { readBackup } from '../../src/keeping/read-backup.ts'
import { startKeeping } from '../../src/keeping/running.ts'
import { lastBackupKnown, noteFailure } from '../../src/keeping/status.ts'
import { dailyBackupTurn } from '../../src/keeping/turns.ts'
import { readSettings } from '../../src/settings.ts'
import { describeServer, type FreshDatabase, freshDatabase } from '../support/database.ts'
import { addHardRows } from '../support/hard-rows.ts'

// Two services, each with connections, a data folder and backups of its own, on one server.
describeServer('REL-055 the daily backup of several processes', () => {
  const folder = mkdtempSync(join(tmpdir(), 'glutworks-daily-'))
  let fresh: FreshDatabase
  let services: Database[]

  beforeAll(async () => {
    fresh = await freshDatabase()
    await addHardRows(fresh.database.prisma)
    services = [fresh.database, await openDatabase({ url: fresh.options.url })]
  })
  afterAll(async () => {
    await services?.[1]?.close()
    await fresh?.dispose()
    rmSync(folder, { recursive: true, force: true })
  })

  /** All look at the same moment; the files that were made. */
  async function look(day: string, folders: readonly string[]): Promise<string[]> {
    const at = `${day}T03:00:00.000Z`
    const clock = fixedClock(at)
    const done = await Promise.all(
      services.map((database, at) => {
        const backups = createBackups({ database, dataDir: mkdtempSync(join(folder, 'data-')), clock })
        const once = dailyBackupTurn(database)
        return makeIfDue({ folder: folders[at] ?? '', keep: 9, backups, once, clock })
      }),
    )
    const files = done.flatMap((one) => (one === null ? [] : [one.made.file]))
    for (const file of files) utimesSync(file, new Date(at), new Date(at))
    return files
  }

  test.each([
    ['in one folder', 'shared', 'shared', 0],
    ['in a folder each', 'here', 'there', 10],
  ])('REL-055 %s is made by one of them, each day once', async (_where, first, second, days) => {
    const folders = [join(folder, first), join(folder, second)]
    for (let n = 1; n <= 3; n++) {
      const day = `2026-09-${String(days + n).padStart(2, '0')}`
      const made = await look(day, folders)
      expect(made, day).toHaveLength(1)
      expect(made[0]).toMatch(new RegExp(`glutworks-${day}\\.backup$`))
      expect(await look(day, folders), `${day}, looked again`).toEqual([])
      for await (const part of readBackup(made[0] ?? '')) void part
    }
    const files = [...new Set(folders)].flatMap((one) => readdirSync(one))
    expect(files.filter((name) => name.endsWith('.backup'))).toHaveLength(3)
  })

  test('REL-055 is left to another when it fails, and when whoever makes it is cut off', async () => {
    const [mine, others] = services.map(dailyBackupTurn)
    if (mine === undefined || others === undefined) throw new Error('there are two')
    await expect(mine('2026-09-20', () => Promise.reject(new Error('the disk is full')))).rejects.toThrow(
      'disk is full',
    )
    expect(await others('2026-09-20', async () => 'made')).toBe('made')
    expect(await mine('2026-09-20', async () => 'made twice')).toBeNull()

    let finish = (_what: string) => {}
    let began = () => {}
    const begun = new Promise<void>((resolve) => {
      began = resolve
    })
    const slow = mine('2026-09-21', () => {
      began()
      return new Promise<string>((resolve) => {
        finish = resolve
      })
    })
    const cutOff = expect(slow).rejects.toThrow()
    await begun
    expect(await others('2026-09-21', async () => 'made beside it')).toBeNull()
    const ended = await fresh.database.prisma.$queryRaw<{ ended: boolean }[]>`
      SELECT pg_terminate_backend(pid) AS ended FROM pg_locks
      WHERE locktype = 'advisory' AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`
    expect(ended).toEqual([{ ended: true }])
    await expect.poll(() => others('2026-09-21', async () => 'made instead'), { timeout: 10_000 }).toBe('made instead')
    finish('too late')
    await cutOff
    expect(await mine('2026-09-21', async () => 'made twice')).toBeNull()
  })

  test('REL-055 is known to stewards of each process that has the folder, whichever made it', async () => {
    const kept = join(folder, 'known')
    const [file] = await look('2026-09-25', [kept, kept])
    const known = () =>
      lastBackupKnown(readSettings({ DATA_DIR: mkdtempSync(join(folder, 'data-')), BACKUP_DIR: kept }))
    expect(await known()).toMatchObject({
      ok: true,
      good: { file: file?.split('/').at(-1), at: '2026-09-25T03:00:00.000Z' },
    })
    const dataDir = mkdtempSync(join(folder, 'data-'))
    const own = readSettings({ DATA_DIR: dataDir, BACKUP_DIR: kept })
    await noteFailure(dataDir, new Error('unknown'), new Date('2026-09-26T03:00:00Z'))
    expect(await lastBackupKnown(own), 'a later failure of its own').toMatchObject({
      ok: false,
      at: '2026-09-26T03:00:00.000Z',
      good: { at: '2026-09-25T03:00:00.000Z' },
    })
    expect(await lastBackupKnown(readSettings({ DATA_DIR: join(folder, 'none') }))).toBeNull()
  })

  test('REL-055 is made by one of two services that start at once', async () => {
    const told: string[] = []
    const clock = fixedClock('2026-10-01T03:00:00Z')
    const log = {
      info: (_details: object, words: string) => void told.push(words),
      error: (_details: object, words: string) => void told.push(words),
    }
    const kept = join(folder, 'services')
    const running = await Promise.all(
      services.map((database, at) => {
        const own = { DATA_DIR: mkdtempSync(join(folder, 'data-')), BACKUP_DIR: join(kept, String(at)) }
        return startKeeping({ settings: readSettings(own), database, clock, log })
      }),
    )
    await expect.poll(() => told, { timeout: 10_000 }).toEqual(['a backup was made'])
    // the other one's look has ended, too, when its turn is asked for again
    expect(await Promise.all(services.map((one) => dailyBackupTurn(one)('2026-10-01', async () => 1)))).toEqual([
      null,
      null,
    ])
    for (const one of running) await one.close()
    const files = readdirSync(kept, { recursive: true, encoding: 'utf8' })
    expect(files.filter((name) => name.endsWith('.backup'))).toHaveLength(1)
    expect(told).toEqual(['a backup was made'])
  })
})
