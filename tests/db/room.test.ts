import { randomBytes } from 'node:crypto'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { createMeasure } from '../../src/db/room.ts'
import { type FreshDatabase, freshDatabase } from '../support/database.ts'

let fresh: FreshDatabase
const coop = (id: string) => ({
  id,
  name: id,
  town: 'Ansley',
  altitudeM: 300,
  timeZone: 'Europe/London',
  locale: 'en-GB',
  units: 'metric',
  currency: 'GBP',
})
const ROWS = 3_000

beforeAll(async () => {
  fresh = await freshDatabase()
  const { prisma } = fresh.database
  await prisma.coop.createMany({ data: [coop('larkrise'), coop('tanner')] })
})
afterAll(() => fresh?.dispose())

/** Rows of one kind with ids by chance, as the service makes them, and what the files of their table grew by. */
async function grow(table: string, write: (ids: string[]) => Promise<unknown>): Promise<number> {
  const { prisma } = fresh.database
  const size = async () => {
    const found = await prisma.$queryRaw<{ bytes: number }[]>`
      SELECT pg_total_relation_size(to_regclass(quote_ident(${table})))::float8 AS bytes`
    return found[0]?.bytes ?? 0
  }
  const before = await size()
  await write(Array.from({ length: ROWS }, () => randomBytes(9).toString('base64url')))
  return (await size()) - before
}

test('SEC-050 what a co-op takes is what the files grow by, to a third, and nothing of another co-op’s', async () => {
  const { prisma } = fresh.database
  const coopId = 'larkrise'
  const at = new Date('2026-09-11T09:00:00Z')
  const measure = createMeasure(fresh.database)
  expect(await measure(coopId)).toMatchObject({ rows: 0, bytes: 0, tables: [] })
  const lot = { coopId, crop: 'damson', source: 'gleaned', broughtBy: 'Wilfred', arrivedOn: at, storage: 'cool' }
  const grown = {
    Lot: await grow('Lot', (ids) =>
      prisma.lot.createMany({ data: ids.map((id) => ({ ...lot, id, weightGrams: 1000, weightTyped: '1 kg' })) }),
    ),
    Change: await grow('Change', (ids) =>
      prisma.change.createMany({
        data: ids.map((id) => ({ coopId, id, at, who: 'Wilfred', noun: 'lot', nounId: id, what: 'weighed it: 1 kg' })),
      }),
    ),
    // documents: short ones in the row, long ones compressed and apart from it
    Recipe: await grow('Recipe', (ids) =>
      prisma.recipe.createMany({
        data: ids.map((id, at) => ({
          coopId,
          id,
          name: id,
          method: 'boiling-water',
          definition: { text: at % 3 === 0 ? randomBytes(4000).toString('base64') : 'simmer '.repeat(at % 900) },
        })),
      }),
    ),
  }
  const { rows, bytes, tables } = await measure(coopId)
  expect(rows).toBe(3 * ROWS)
  expect(tables.map(({ name }) => name)).toEqual(['Change', 'Lot', 'Recipe'])
  for (const { name, bytes } of tables) {
    const part = bytes / grown[name as keyof typeof grown]
    process.stdout.write(`${name}: measured ${Math.round(part * 100)} % of what the files grew by\n`)
    expect(part, name).toBeGreaterThan(2 / 3)
    expect(part, name).toBeLessThan(4 / 3)
  }
  expect(bytes).toBe(tables.reduce((sum, table) => sum + table.bytes, 0))
  expect(await measure('tanner')).toMatchObject({ rows: 0, bytes: 0, tables: [] })
}, 120_000)
