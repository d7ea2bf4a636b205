import { spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { describe, expect, it, onTestFinished } from 'vitest'
import { type DatabaseOptions, openDatabase } from '../../src/db/client.ts'
import { freshPlace } from '../support/database.ts'

const ROUNDS = 20
const SEED = 640
const WRITER = fileURLToPath(new URL('../db/writer.ts', import.meta.url))

describe('sudden death', () => {
  it(`loses nothing that was acknowledged, ${ROUNDS} times over (seed ${SEED})`, { timeout: 600_000 }, async () => {
    const { options, remove } = await freshPlace()
    await addCoop(options)
    const chance = seededChance(SEED)
    const acknowledged: string[] = []
    let stored: string[] = []

    for (let round = 1; round <= ROUNDS; round += 1) {
      // From the first lot on: within a commit, between two, or in the first checkpoint's work.
      const lots = await writeUntilKilled(options, round, Math.floor(chance() * 600))
      expect(lots.length, `round ${round}: it was killed at work, not before`).toBeGreaterThan(0)
      acknowledged.push(...lots)

      stored = await storedLots(options)
      const kept = new Set(stored)
      expect(
        acknowledged.filter((id) => !kept.has(id)),
        `lost by round ${round}`,
      ).toEqual([])
    }

    // In each round at most one lot may be there whose acknowledgement was cut off.
    expect(stored.length - acknowledged.length).toBeLessThanOrEqual(ROUNDS)
    process.stdout.write(`${ROUNDS} kills, ${acknowledged.length} lots acknowledged, ${stored.length} found.\n`)
    await remove()
  })
})

async function addCoop(options: DatabaseOptions): Promise<void> {
  const database = await openDatabase(options)
  const place = { town: 'Upper Ansley', altitudeM: 640, timeZone: 'Europe/London', locale: 'en-GB' }
  await database.prisma.coop.create({
    data: { id: 'larkrise', name: 'Larkrise Lane Kitchen', ...place, units: 'metric', currency: 'GBP' },
  })
  await database.close()
}

/** Lets a process add lots, kills it so many milliseconds after the first, and gives the ids it acknowledged. */
function writeUntilKilled({ url, dataDir }: DatabaseOptions, round: number, afterMs: number): Promise<string[]> {
  return new Promise((resolve, reject) => {
    const args = ['--import', 'tsx', WRITER, url ?? dataDir ?? '', 'larkrise', String(round * 1_000_000)]
    const writer = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] })
    onTestFinished(() => {
      writer.kill('SIGKILL')
    })
    let output = ''
    let timer: NodeJS.Timeout | undefined
    writer.stdout.setEncoding('utf8').on('data', (text: string) => {
      output += text
      if (timer === undefined && output.includes('lot-')) timer = setTimeout(() => writer.kill('SIGKILL'), afterMs)
    })
    writer.once('close', (code, signal) => {
      clearTimeout(timer)
      // What follows the last line end is an acknowledgement that was cut off.
      const lines = output.slice(0, output.lastIndexOf('\n')).split('\n')
      if (signal === 'SIGKILL') resolve(lines.filter((line) => line.startsWith('lot-')))
      else reject(new Error(`The writer ended by itself, with code ${code}.`))
    })
  })
}

async function storedLots(options: DatabaseOptions): Promise<string[]> {
  const database = await openDatabase(options)
  try {
    const lots = await database.prisma.lot.findMany({ select: { id: true, weightGrams: true } })
    for (const lot of lots) expect(lot.id, 'each row is whole').toBe(`lot-${lot.weightGrams}`)
    return lots.map(({ id }) => id)
  } finally {
    await database.close()
  }
}

/** Numbers from 0 up to 1, the same for the same seed (the mulberry32 generator). */
function seededChance(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}
