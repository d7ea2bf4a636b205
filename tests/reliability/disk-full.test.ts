import { spawnSync } from 'node:child_process'
import { appendFileSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { htmlOf, textAt } from '../support/html.ts'
import { type RunningService, startService } from '../support/service.ts'
import { enterDemonstration, type Visitor } from '../support/visitor.ts'

// The embedded database on a disk that becomes full: a small one in memory, mounted for this process's eyes only.
const diskMegabytes = 400
const folder = mkdtempSync(join(tmpdir(), 'glutworks-full-'))
const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${diskMegabytes}m`, 'tmpfs', folder])
const possible = mounted.status === 0
if (!possible) {
  const why = mounted.error?.message ?? mounted.stderr.toString().trim()
  process.stdout.write(`Not run here: a full disk is imitated by mounting a small one, which is refused (${why}).\n`)
}

describe.runIf(possible)('a full disk', () => {
  const filler = join(folder, 'filler')
  let service: RunningService
  let visitor: Visitor
  const acknowledged: string[] = []

  beforeAll(async () => {
    service = await startService({ DATA_DIR: join(folder, 'data'), SOLVE_SECONDS: '1', LOG_LEVEL: 'warn' })
    visitor = await enterDemonstration(service.address)
  }, 300_000)

  afterAll(async () => {
    await service?.stop()
  }, 60_000)

  test('refuses writes in words, goes on to be read, loses nothing acknowledged, and takes writes when there is room', async () => {
    expect(await addLot()).toBe(201)
    fill()
    let refused: Response | null = null
    for (let number = 0; number < 3_000 && refused === null; number++) {
      const answer = await send()
      if (answer.status === 201) acknowledged.push(((await answer.json()) as { id: string }).id)
      else refused = answer
    }
    if (refused === null) throw new Error('the disk was full, and every lot was taken')
    const { error } = (await refused.json()) as { error: { code: string; message: string } }
    process.stdout.write(`${acknowledged.length} lots acknowledged, then ${refused.status} ${error.code}\n`)
    expect([refused.status, error.code]).toEqual([507, 'no-room'])
    expect(error.message).toContain('disk')

    const page = await visitor.get('/lots', { accept: 'text/html' })
    expect(page.status).toBe(200)
    expect(textAt(htmlOf(await page.text()), 'h1')).not.toBe('')

    rmSync(filler)
    await expect.poll(addLot, { timeout: 30_000, interval: 500 }).toBe(201)
    for (const id of acknowledged) expect((await visitor.get(`/api/lots/${id}`)).status, id).toBe(200)
    await service.stop()
    service = await startService({ DATA_DIR: join(folder, 'data'), SOLVE_SECONDS: '1', LOG_LEVEL: 'warn' })
    visitor = await enterDemonstration(service.address)
    for (const id of acknowledged) expect((await visitor.get(`/api/lots/${id}`)).status, id).toBe(200)
  }, 400_000)

  /** Takes what room there is, to the last block. */
  function fill(): void {
    writeFileSync(filler, '')
    const block = Buffer.alloc(64 * 1024)
    try {
      for (;;) appendFileSync(filler, block)
    } catch (error) {
      if (!(error instanceof Error && 'code' in error && error.code === 'ENOSPC')) throw error
    }
    const { bfree } = statfsSync(folder)
    if (bfree > 16) throw new Error(`the disk still has ${bfree} blocks`)
  }

  async function addLot(): Promise<number> {
    const answer = await send()
    if (answer.status === 201) acknowledged.push(((await answer.json()) as { id: string }).id)
    return answer.status
  }

  function send(): Promise<Response> {
    const lot = { crop: 'damson', weight: '3 lb', source: 'gleaned', storage: 'cool', class: 'ripe' }
    return visitor.call('POST', '/api/lots', { ...lot, broughtBy: 'Wren Tolley' })
  }
})

afterAll(() => {
  if (possible) spawnSync('umount', [folder])
  rmSync(folder, { recursive: true, force: true })
})
