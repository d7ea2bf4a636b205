import { execFile } from 'node:child_process'
import { existsSync, mkdtempSync, readdirSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { fixedClock, systemClock } from '../../src/clock.ts'
import { openDatabase } from '../../src/db/client.ts'
import { readMigrations } from '../../src/db/migration-files.ts'
import { createBackups } from '../../src/keeping/backups.ts'
import { makeIfDue } from '../../src/keeping/daily.ts'
import { checkBackup } from '../../src/keeping/read-backup.ts'
import { startKeeping } from '../../src/keeping/running.ts'
import { lastBackup } from '../../src/keeping/status.ts'
import { dailyBackupTurn } from '../../src/keeping/turns.ts'
import { readSettings } from '../../src/settings.ts'
import { type FreshDatabase, freshDatabase } from '../support/database.ts'
import { addHardRows } from '../support/hard-rows.ts'
import { contentsOf } from '../support/kept.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'glutworks-command-'))
const quiet = { info: () => undefined, error: () => undefined }

let source: FreshDatabase
/** The settings by which the command finds that database. */
let settings: Record<string, string>
beforeAll(async () => {
  source = await freshDatabase()
  await addHardRows(source.database.prisma)
  settings = settingsFor(source)
}, 120_000)
afterAll(async () => {
  await source?.dispose()
  rmSync(folder, { recursive: true, force: true })
})

function settingsFor({ options }: FreshDatabase): Record<string, string> {
  return options.url === undefined
    ? { DATA_DIR: options.dataDir ?? '' }
    : { DATABASE_URL: options.url, DATA_DIR: join(folder, 'data') }
}

/** The command as it is typed, in a process of its own. */
async function command(name: 'backup' | 'restore', args: string[], environment: Record<string, string>) {
  const given = ['--import', 'tsx', `scripts/${name}.ts`, ...args]
  return promisify(execFile)(process.execPath, given, { cwd: root, env: { ...process.env, ...environment } }).then(
    ({ stdout }) => ({ code: 0, said: stdout }),
    (error: { code: number; stdout: string; stderr: string }) => ({
      code: error.code,
      said: error.stdout + error.stderr,
    }),
  )
}

describe('the commands', () => {
  test('REL-053 a backup is made while the service has the database, by whichever of the two may, and is noted', async () => {
    const keeping = await startKeeping({
      settings: readSettings(settings),
      database: source.database,
      clock: systemClock,
      log: quiet,
    })
    const file = join(folder, 'running.backup')
    const { code, said } = await command('backup', [file], settings)
    await keeping.close()
    expect(said).toContain('read back and found whole')
    expect(code).toBe(0)
    const { total } = await checkBackup(file, await readMigrations())
    const all = Object.values(await contentsOf(source.database)).reduce((sum, rows) => sum + rows.length, 0)
    expect(total).toBe(all)
    expect(statSync(file).mode & 0o777).toBe(0o600)
    expect(await lastBackup(settings['DATA_DIR'] ?? '')).toMatchObject({
      ok: true,
      good: { file: 'running.backup', rows: all },
    })
  }, 60_000)

  test('REL-021 nothing is put back into a database that a service has', async () => {
    const before = await contentsOf(source.database)
    const { code, said } = await command('restore', [join(folder, 'running.backup'), '--replace'], settings)
    expect(said).toMatch(/in use by process|The service is running on this database/)
    expect(code).toBe(1)
    expect(await contentsOf(source.database)).toEqual(before)
  }, 60_000)

  test('REL-054 what was backed up is put back into an empty database, and backed up again gives the same', async () => {
    const target = await freshDatabase({ migrated: false })
    await target.database.close()
    const restored = await command('restore', [join(folder, 'running.backup')], settingsFor(target))
    expect(restored.said).toContain('Everybody signs in anew.')
    expect(restored.code).toBe(0)
    const again = await command('backup', [join(folder, 'again.backup')], settingsFor(target))
    expect(again.code, again.said).toBe(0)
    const opened = await openDatabase(target.options)
    expect(await contentsOf(opened)).toEqual(await contentsOf(source.database))
    await opened.close()
    await target.dispose()
  }, 120_000)

  test('say what is wrong in words, with a code that tells scripts', async () => {
    const nowhere = { DATA_DIR: join(folder, 'nothing here') }
    expect(await command('backup', ['a', 'b'], nowhere)).toEqual({ code: 2, said: 'Usage: npm run backup -- [FILE]\n' })
    expect(await command('restore', [], nowhere)).toEqual({
      code: 2,
      said: 'Usage: npm run restore -- FILE [--replace]\n',
    })
    expect(await command('backup', [], { PORT: 'x' })).toMatchObject({ code: 2, said: expect.stringMatching(/PORT/) })
    const { code, said } = await command('backup', [join(folder, 'x.backup')], nowhere)
    expect([code, said]).toEqual([1, `There is no database in ${nowhere.DATA_DIR}.\n`])
    expect(existsSync(join(folder, 'x.backup'))).toBe(false)
  }, 60_000)
})

describe('daily backups', () => {
  test('REL-055 are made once a day, the newest stay, and nothing that is not theirs is removed', async () => {
    const daily = join(folder, 'daily')
    const dataDir = settings['DATA_DIR'] ?? ''
    const once = dailyBackupTurn(source.database)
    const made: (string | undefined)[] = []
    const day = (n: number) => new Date(Date.UTC(2026, 8, n, 3, 0))
    for (let n = 1; n <= 6; n++) {
      const clock = fixedClock(day(n).toISOString())
      const backups = createBackups({ database: source.database, dataDir, clock })
      const first = await makeIfDue({ folder: daily, keep: 3, backups, once, clock })
      made.push(first?.made.file.split('/').at(-1))
      if (first !== null) utimesSync(first.made.file, day(n), day(n))
      if (n === 1) writeFileSync(join(daily, 'letter.txt'), 'not a backup')
      expect(await makeIfDue({ folder: daily, keep: 3, backups, once, clock }), 'again on that day').toBeNull()
    }
    expect(made).toEqual([1, 2, 3, 4, 5, 6].map((n) => `glutworks-2026-09-0${n}.backup`))
    expect(readdirSync(daily).sort()).toEqual([
      'glutworks-2026-09-04.backup',
      'glutworks-2026-09-05.backup',
      'glutworks-2026-09-06.backup',
      'last-backup.json',
      'letter.txt',
    ])
  }, 120_000)

  test('REL-055 one that fails is noted with its reason, beside the last that went well; old ones stay', async () => {
    const dataDir = settings['DATA_DIR'] ?? ''
    const backups = createBackups({ database: source.database, dataDir, clock: fixedClock('2026-09-08T03:00:00Z') })
    await expect(backups.make(join(folder, 'not a folder', 'x.backup'))).rejects.toThrow(/There is no folder/)
    expect(await lastBackup(dataDir)).toMatchObject({
      at: '2026-09-08T03:00:00.000Z',
      ok: false,
      says: expect.stringContaining('There is no folder'),
      good: { at: '2026-09-06T03:00:00.000Z', file: 'glutworks-2026-09-06.backup' },
    })
    expect(readdirSync(join(folder, 'daily'))).toHaveLength(5)
  })
})
