import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { addLot } from '../recalls/chain.ts'
import { addJars } from '../shelf/jars.ts'

let app: TestApp
let code: string
let jarBatchId: string
const jam = starters.find(({ method }) => method === 'water-bath-canned')
const pack = jam?.definition.packs[0]
if (jam === undefined || pack === undefined) throw new Error('no starter is canned in a water bath')

beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  const { prisma, coopId } = app
  await prisma.household.create({ data: { coopId, id: 'hedger', name: 'Hedger' } })
  await prisma.recipe.create({
    data: { coopId, id: 'damson-jam', name: jam.name, method: jam.method, definition: { ...jam.definition } },
  })
  await prisma.place.createMany({
    data: [
      { coopId, id: 'cellar', name: 'Cellar', kind: 'cellar' },
      { coopId, id: 'chest', name: 'chest freezer', kind: 'freezer' },
    ],
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  const jars = await addJars(app, 10)
  jarBatchId = jars.jarBatchId
  code = (await app.prisma.batch.findFirstOrThrow({ where: { id: jars.batchId } })).code
})

const stockIn = '/files/stock/import'
const lotsIn = '/files/lots/import'
const stepsIn = ($: Awaited<ReturnType<TestApp['getPage']>>) => textsAt($, '[aria-labelledby=looked-heading] tbody tr')
/** Looks at a table, and gives the page with what each line would do. */
async function look(path: string, table: string, status = 200) {
  const answer = await app.postForm(path, { table, does: 'look' })
  expect(answer.statusCode).toBe(status)
  const { load } = await import('cheerio')
  return load(answer.payload)
}
/** Looks at a table and brings in what was shown. */
async function bring(path: string, table: string) {
  const $ = await look(path, table)
  const seen = String($('input[name=seen]').attr('value'))
  return { seen, answer: await app.postForm(path, { table, does: 'bring', seen }) }
}
const stockOf = async (id: string) => (await app.prisma.jarBatch.findFirstOrThrow({ where: { id } })).stock

describe('stock from before', () => {
  const table = () =>
    `product,pack,made on,best by,place,household,units\n${jam.name},${pack.key},2026-03-01,2027-03-01,cellar,hedger,24\n`

  test('is shown first and written by nobody', async () => {
    const before = await app.prisma.batch.count()
    const $ = await look(stockIn, table())
    expect(stepsIn($)[0]).toMatch(
      new RegExp(`^2Puts 24 .* of ${jam.name} in Cellar, of Hedger: a batch of its own, made on`),
    )
    expect(textAt($, '[aria-labelledby=looked-heading] .lead')).toBe(
      'Nothing was written yet. 1 line of 1 would change something.',
    )
    expect(await app.prisma.batch.count()).toBe(before)
  })

  test('becomes a batch of its own with its jars, once', async () => {
    const { answer } = await bring(stockIn, table())
    expect([answer.statusCode, answer.headers.location]).toEqual([303, '/files'])
    const batch = await app.prisma.batch.findFirstOrThrow({
      where: { coopId: app.coopId, note: { startsWith: 'Brought in from a table' } },
      include: { jarBatches: { include: { entries: true } } },
    })
    expect(batch).toMatchObject({ product: jam.name, pack: pack.key, units: 24, keeping: 'shelf', process: null })
    expect(batch.jarBatches).toMatchObject([
      { stock: 24, placeId: 'cellar', householdId: 'hedger', entries: [{ kind: 'put', units: 24 }] },
    ])
    // the same table again, with other line ends
    const again = table().replaceAll('\n', '\r\n')
    const $ = await look(stockIn, again)
    expect($('[aria-labelledby=looked-heading]').text()).toContain('This table was brought in before, by Rosalind Pike')
    expect($('button[value=bring]').length).toBe(0)
    const seen = String($('input[name=seen]').attr('value'))
    expect((await app.postForm(stockIn, { table: again, does: 'bring', seen })).statusCode).toBe(409)
    expect(await app.prisma.batch.count({ where: { note: { startsWith: 'Brought in' } } })).toBe(1)
    expect(await app.prisma.change.count({ where: { noun: 'table' } })).toBe(1)
  })

  test.each([
    ['Nobody’s jam,,2026-03-01,,cellar,,4', /^2No recipe here is called “Nobody’s jam”/],
    ['JAM,no such pack,2026-03-01,,cellar,,4', /^2Choose one of the packs of/],
    ['JAM,PACK,2027-03-01,,cellar,,4', /^2Enter the day on which it was made/],
    ['JAM,PACK,2026-03-01,2025-03-01,cellar,,4', /^2Enter the day until which it is best/],
    ['JAM,PACK,2026-03-01,,attic,,4', /^2No place in use is called “attic”/],
    ['JAM,PACK,2026-03-01,,chest freezer,,4', /^2.* cannot be kept in chest freezer/],
    ['JAM,PACK,2026-03-01,,cellar,Strange,4', /^2No household here is called “Strange”/],
    ['JAM,PACK,2026-03-01,,cellar,,four', /^2“four” is no number of units/],
    ['JAM,PACK,2026-03-01,,cellar,,0', /^2Enter how many there are, from 1/],
    ['JAM,PACK,2026-03-01,,cellar,,4,5', /^2This line has more fields/],
  ])('with a fault in %s is told by its line', async (line, words) => {
    const row = line.replace('JAM', `"${jam.name}"`).replace('PACK', pack.key)
    const $ = await look(stockIn, `product,pack,made on,best by,place,household,units\n${row}\n`, 422)
    expect(stepsIn($)[0]).toMatch(words)
    expect($('textarea').text()).toContain(row)
  })
})

describe('a stock-take as a table', () => {
  test('writes the difference for each batch and place, and leaves alone what agrees', async () => {
    const other = await addJars(app, 3)
    const otherCode = (await app.prisma.batch.findFirstOrThrow({ where: { id: other.batchId } })).code
    const table = `code;place;units\n${code};pantry;8\n${otherCode};Pantry;3\n${otherCode.toLowerCase()};cellar;2\n`
    const $ = await look(stockIn, table)
    expect(stepsIn($)).toEqual([
      `2Counts 8 half-pint jars of Damson jam ${code} in pantry, shared; 10 are noted now.`,
      `33 half-pint jars of Damson jam ${otherCode} in pantry, shared: so it is.`,
      `4Counts 2 half-pint jars of Damson jam ${otherCode} in Cellar, shared; 0 are noted now.`,
    ])
    expect((await bring(stockIn, table)).answer.statusCode).toBe(303)
    expect([await stockOf(jarBatchId), await stockOf(other.jarBatchId)]).toEqual([8, 3])
    const entry = await app.prisma.shelfEntry.findFirstOrThrow({ where: { jarBatchId, kind: 'count' } })
    expect(entry).toMatchObject({ units: -2, stockAfter: 8 })
  })

  test('is not written over a taking that came in between', async () => {
    const table = `code,place,units\n${code},pantry,9\n`
    const seen = String((await look(stockIn, table))('input[name=seen]').attr('value'))
    await app.postTaken(
      `/shelf/jars/${jarBatchId}/take`,
      { 'take.units': '4', 'take.householdId': 'hedger' },
      { from: `/shelf/jars/${jarBatchId}` },
    )
    const answer = await app.postForm(stockIn, { table, does: 'bring', seen })
    expect(answer.statusCode).toBe(409)
    expect(answer.payload).toContain('has changed since it was shown')
    expect(answer.payload).toContain('6 are noted now')
    expect(await stockOf(jarBatchId)).toBe(6)
  })

  test('is all or nothing, and finds no other co-op’s batch', async () => {
    const table = `code,place,units\n${code},pantry,8\nTHEIR,pantry,1\n${code},pantry,7\n`
    const $ = await look(stockIn, table, 422)
    expect(stepsIn($).slice(1)).toEqual([
      '3No batch here has the code “THEIR”.',
      '4Line 2 counts the same jars: leave one of the two out.',
    ])
    expect(problemsIn($)).toEqual(['Some lines cannot be brought in: they are named below'])
    const seen = String($('input[name=seen]').attr('value'))
    expect((await app.postForm(stockIn, { table, does: 'bring', seen })).statusCode).toBe(422)
    expect(await stockOf(jarBatchId)).toBe(10)
  })

  test('of what was taken out says that nothing changes', async () => {
    const out = (await app.app.inject({ url: '/files/stock.csv?mark=yes' })).payload
    const $ = await look(stockIn, out)
    expect(textAt($, '[aria-labelledby=looked-heading] .lead')).toBe(
      'All that it says is so already. Nothing was written.',
    )
  })
})

describe('a table that is none', () => {
  test.each([
    ['', /Paste a table/],
    ['x'.repeat(250_001), /250000 characters or fewer/],
  ])('is refused at its field', async (table, words) => {
    const $ = await app.postRefused(stockIn, { table })
    expect(problemsIn($)[0]).toMatch(words)
  })

  test.each([
    ['code,place\nx,y\n', /names no column “units”/],
    ['code,place,units\n', /nothing to bring in/],
    ['code,place,units\nA,"b,1\n', /^2A field begins with a quote that is never closed/],
    [`code,place,units\n${'A,b,1\n'.repeat(2_001)}`, /more than 2000 lines/],
    ['code,code,place,units\nA,A,b,1\n', /Two columns are called “code”/],
    ['code,place,units\nA,b\uFFFD,1\n', /CSV in UTF-8/],
  ])('is told why', async (table, words) => {
    expect(stepsIn(await look(stockIn, table, 422))[0]).toMatch(words)
  })
})

describe('lots as a table', () => {
  test('are taken in as by the form; those that are here stay', async () => {
    const id = await addLot(app)
    const table = `lot,came in on,crop,weight,ripeness,storage,source,brought by,household,price,note,colour\n${id},,damson,1 kg,,,,,,,,\n,2026-09-10,Damsons,2 1/2 kg,soft,cool,gleaned,Mara,Pike,3.50,"wet, ""cold""",blue\n,,plum,500 g,,,,,,,,\n`
    const $ = await look(lotsIn, table)
    expect(stepsIn($)[0]).toBe('2This lot is here already and stays as it is.')
    expect(stepsIn($)[1]).toMatch(
      /^3Takes in 2\.5 kg of damsons, soft, in the cool, brought by Mara on Thu,? 10 Sept? 2026\.$/,
    )
    expect($('[aria-labelledby=looked-heading]').text()).toContain('no such column is known here: colour')
    expect((await bring(lotsIn, table)).answer.statusCode).toBe(303)
    const lots = await app.prisma.lot.findMany({
      where: { coopId: app.coopId, id: { not: id } },
      orderBy: { weightGrams: 'asc' },
    })
    expect(lots).toMatchObject([
      { crop: 'plum', weightGrams: 500, source: 'donated', storage: 'room', broughtBy: 'Rosalind Pike' },
      {
        crop: 'damson',
        weightGrams: 2500,
        source: 'gleaned',
        householdId: 'pike',
        priceMinor: 350,
        note: 'wet, "cold"',
      },
    ])
  })

  test('with a fault are told by their lines', async () => {
    const $ = await look(lotsIn, 'crop,weight,came in on\nstones,1 kg,\ndamson,much,\ndamson,1 kg,2031-01-01\n', 422)
    expect(stepsIn($)).toEqual([
      '2“stones” is no crop that is known here.',
      expect.stringMatching(/^3Enter the weight/),
      expect.stringMatching(/^4Enter a date that is not after today/),
    ])
  })
})
