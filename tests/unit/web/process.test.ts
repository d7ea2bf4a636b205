import { mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { dateIn, fixedClock, todayIn } from '../../../src/clock.ts'
import { idText, randomId } from '../../../src/ids.ts'
import type { ServiceState } from '../../../src/web/dependencies.ts'
import { loggedError } from '../../../src/web/log.ts'
import { keptSecret } from '../../../src/web/secret.ts'
import { makeStop } from '../../../src/web/stopping.ts'

describe('the kept secret', () => {
  let dataDir = ''
  beforeEach(async () => {
    dataDir = await mkdtemp(join(tmpdir(), 'secret-'))
  })
  afterEach(() => rm(dataDir, { recursive: true }))

  it('is made once, of 32 bytes, for its owner only', async () => {
    const folder = join(dataDir, 'new', 'folder')
    const first = await keptSecret({ secret: null, dataDir: folder })
    expect(first).toMatch(/^[0-9a-f]{64}$/)
    expect(await keptSecret({ secret: null, dataDir: folder })).toBe(first)
    expect((await stat(join(folder, 'secret'))).mode & 0o777).toBe(0o600)
  })

  it('is one and the same when two processes start together', async () => {
    const both = await Promise.all([keptSecret({ secret: null, dataDir }), keptSecret({ secret: null, dataDir })])
    expect(both[0]).toBe(both[1])
    expect((await readFile(join(dataDir, 'secret'), 'utf8')).trim()).toBe(both[0])
  })

  it('is the setting where there is one, and never too short', async () => {
    expect(await keptSecret({ secret: 'x'.repeat(40), dataDir })).toBe('x'.repeat(40))
    await writeFile(join(dataDir, 'secret'), 'short\n')
    await expect(keptSecret({ secret: null, dataDir })).rejects.toThrow('too short')
  })
})

function stage(stops: (() => Promise<void>)[]) {
  const state: ServiceState = { phase: 'ready' }
  const seen: string[] = []
  const stop = makeStop({
    state,
    limitMs: 50,
    tell: ({ step }) => seen.push(`told of ${step}`),
    exit: (code) => seen.push(`exit ${code}`),
    steps: stops.map((one, i) => ({
      name: `step ${i}`,
      stop: async () => {
        seen.push(`step ${i} ${state.phase}`)
        await one()
      },
    })),
  })
  return { stop, seen }
}

describe('stopping', () => {
  it('takes every step in order, not ready any more, and exits well', async () => {
    const { stop, seen } = stage([async () => {}, async () => {}])
    await stop.asked()
    expect(seen).toEqual(['step 0 closing', 'step 1 closing', 'exit 0'])
  })

  it('goes on after a step that fails, and says so', async () => {
    const failing = async () => {
      throw new Error('stuck')
    }
    const { stop, seen } = stage([failing, async () => {}])
    await stop.asked()
    expect(seen).toEqual(['step 0 closing', 'told of step 0', 'step 1 closing', 'exit 1'])
  })

  it('is cut off after its time, and at once when asked again', async () => {
    const { stop, seen } = stage([() => new Promise(() => {})])
    void stop.asked()
    await stop.asked()
    expect(seen).toEqual(['step 0 closing', 'exit 1'])
    await new Promise((resolve) => setTimeout(resolve, 80))
    expect(seen).toEqual(['step 0 closing', 'exit 1', 'told of stopping', 'exit 1'])
  })
})

describe('stopping for a failure', () => {
  const settled = () => new Promise<void>((resolve) => setTimeout(resolve, 5))

  it('takes every step, and exits badly', async () => {
    const { stop, seen } = stage([settled, async () => {}])
    await stop.failed()
    expect(seen).toEqual(['step 0 closing', 'step 1 closing', 'exit 1'])
  })

  it('cuts nothing short that is stopping already, and is told by its exit code', async () => {
    const { stop, seen } = stage([settled, async () => {}])
    const stopped = stop.asked()
    await stop.failed()
    expect(seen).toEqual(['step 0 closing'])
    await stopped
    expect(seen).toEqual(['step 0 closing', 'step 1 closing', 'exit 1'])
  })
})

describe('what is written down of an error', () => {
  it('has no message where that can quote data', () => {
    class PrismaClientValidationError extends Error {
      override name = 'PrismaClientValidationError'
    }
    const quoted = loggedError(new PrismaClientValidationError('name: "canary"\n at canary'))
    expect(JSON.stringify(quoted)).not.toContain('canary"')
    expect(quoted.kind).toBe('PrismaClientValidationError')
    expect(loggedError(new Error('the beam is not full')).message).toBe('the beam is not full')
    expect(loggedError('text')).toEqual({ kind: 'string', at: [] })
  })
})

describe('clock and ids', () => {
  it('tell the day of the co-op, not of the machine', () => {
    const clock = fixedClock('2026-09-11T23:30:00Z')
    expect(todayIn(clock, 'Europe/London')).toBe('2026-09-12')
    expect(todayIn(clock, 'America/New_York')).toBe('2026-09-11')
    expect(dateIn(new Date('2026-03-29T01:30:00Z'), 'Asia/Kathmandu')).toBe('2026-03-29')
    expect(() => fixedClock('yesterday')).toThrow(RangeError)
  })

  it('make ids that read well and are not in order', () => {
    const ids = Array.from({ length: 1000 }, randomId)
    expect(new Set(ids).size).toBe(1000)
    expect(ids.every((id) => /^[2-9a-hjkmnp-z]{12}$/.test(id))).toBe(true)
    expect([...ids].sort()).not.toEqual(ids)
    expect(idText.safeParse(ids[0]).success).toBe(true)
    for (const odd of ['', '../x', 'A', '-a', 'x'.repeat(41), "1'--"]) expect(idText.safeParse(odd).success).toBe(false)
  })
})
