import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { csvStream } from '../../../src/features/files/out/stream.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addLot } from '../recalls/chain.ts'
import { addJars } from '../shelf/jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  const { prisma, coopId } = app
  await prisma.household.create({ data: { coopId, id: 'hedger', name: 'Hedger; "the hedge", Mill\nLane' } })
  const { batchId, jarBatchId } = await addJars(app, 9, { product: '=cmd|jam', variety: '+Farleigh' })
  await addJars(app, 4)
  await app.postTaken(
    `/shelf/jars/${jarBatchId}/take`,
    { 'take.units': '2', 'take.householdId': 'hedger' },
    { from: `/shelf/jars/${jarBatchId}` },
  )
  await addLot(app, { note: '-2 kg, "wet"\nand cold', variety: "'Shropshire" })
  // the neighbours have one of each, which no table of ours may name
  const { process: _, ...batch } = await prisma.batch.findFirstOrThrow({ where: { id: batchId } })
  const theirs = { coopId: neighboursId }
  await prisma.place.create({ data: { ...theirs, id: 'their-place', name: 'their pantry', kind: 'pantry' } })
  await prisma.batch.create({
    data: { ...batch, ...theirs, id: 'their-batch', code: 'THEIR', product: 'their jam', recipeId: 'their-jam' },
  })
  const at = new Date()
  await prisma.jarBatch.create({
    data: { ...theirs, id: 'their-jars', batchId: 'their-batch', placeId: 'their-place', createdAt: at },
  })
  await prisma.shelfEntry.create({
    data: { ...theirs, id: 'their-entry', at, jarBatchId: 'their-jars', kind: 'put', units: 5, by: 'them' },
  })
  await addLot(app, { coopId: neighboursId, householdId: null, broughtBy: 'their uncle' })
})
afterAll(() => app?.close())

// An independent reading: the library as it is, without anything of the service's own.
const rowsOf = (text: string): Record<string, string>[] => parse(text, { columns: true, record_delimiter: '\r\n' })

describe('a table that is taken out', () => {
  test('has what is in stock, formulas made harmless, numbers as they are', async () => {
    const answer = await app.app.inject({ url: '/files/stock.csv' })
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8; header=present')
    expect(answer.headers['content-disposition']).toBe('attachment; filename="stock.csv"')
    expect(rowsOf(answer.payload)).toMatchObject([
      {
        product: "'=cmd|jam",
        variety: "'+Farleigh",
        place: 'pantry',
        household: '',
        units: '7',
        'made on': '2026-09-12',
      },
      { product: 'Damson jam', units: '4', recalled: '' },
    ])
  })

  test('has the ledger entry by entry, with minus as minus', async () => {
    const rows = rowsOf((await app.app.inject({ url: '/files/ledger.csv' })).payload)
    expect(rows.map((row) => [row['what'], row['units'], row['then left']])).toEqual([
      ['put', '9', '9'],
      ['put', '4', '4'],
      ['take', '-2', '7'],
    ])
    expect(rows[2]).toMatchObject({ household: 'Hedger; "the hedge", Mill\nLane', 'written by': 'Rosalind Pike' })
  })

  test('has the lots', async () => {
    expect(rowsOf((await app.app.inject({ url: '/files/lots.csv' })).payload)).toMatchObject([
      {
        crop: 'damson',
        variety: "''Shropshire",
        weight: '18 kg',
        ripeness: 'ripe',
        household: 'Pike',
        note: '\'-2 kg, "wet"\nand cold',
      },
    ])
  })

  test.each(['stock', 'ledger', 'lots'])(
    'of %s is the same to programs, and has a mark in front where asked',
    async (table) => {
      const page = await app.app.inject({ url: `/files/${table}.csv` })
      const call = await app.app.inject({ url: `/api/files/${table}.csv` })
      expect(call.statusCode).toBe(200)
      expect(call.rawPayload.equals(page.rawPayload)).toBe(true)
      expect(page.payload).not.toMatch(/their|THEIR|them\b/)
      const marked = await app.app.inject({ url: `/files/${table}.csv?mark=yes` })
      expect(marked.rawPayload.subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]))
      expect(marked.rawPayload.subarray(3).equals(page.rawPayload)).toBe(true)
    },
  )

  test.each(['stock', 'ledger', 'lots'] as const)(
    'of %s does not depend on how many rows are read at once',
    async (table) => {
      await addLot(app)
      const read = async (rowsAtOnce: number) => {
        const chunks: string[] = []
        for await (const chunk of csvStream(app.prisma, app, table, { mark: false, rowsAtOnce }))
          chunks.push(String(chunk))
        return chunks
      }
      const [one, all] = [await read(1), await read(5_000)]
      expect(one.length).toBeGreaterThan(all.length)
      expect(one.join('')).toBe(all.join(''))
    },
  )

  test('is linked from the page of tables', async () => {
    const $ = await app.getPage('/files')
    const links = $('tbody a')
      .toArray()
      .map((a) => $(a).attr('href'))
    for (const href of [
      '/files/stock.csv',
      '/files/ledger.csv',
      '/files/lots.csv',
      '/files/stock/import',
      '/files/ledger/import',
      '/files/lots/import',
    ])
      expect(links).toContain(href)
  })
})
