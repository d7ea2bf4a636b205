import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { moveUnits, undoEntry, writeEntry } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars, addManyJars, writingFor } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await emptyTables(app.prisma, 'Batch', 'Place', 'ShelfEntry')
  const { coopId } = app
  await app.prisma.place.create({ data: { coopId, id: 'cellar', name: 'cellar', kind: 'cellar' } })
})

const written = <T>(work: (writing: ReturnType<typeof writingFor>) => Promise<T>) =>
  inTransaction(app.prisma, (transaction) => work(writingFor(app, transaction)))
const recipe = (id: string, name: string) =>
  app.prisma.recipe.createMany({
    data: [{ coopId: app.coopId, id, name, method: 'frozen', definition: {} }],
    skipDuplicates: true,
  })
const day = (iso: string) => new Date(`${iso}T00:00:00Z`)

describe('the shelf', () => {
  test('that is empty says so, and that a place comes first', async () => {
    await app.prisma.place.deleteMany({ where: { coopId: app.coopId } })
    const $ = await app.getPage('/shelf')
    expect(textsAt($, '.lead')).toEqual([
      'No place is known yet. Add one, a pantry or a cellar: then finished batches can be put there.',
      'Nothing is on the shelf yet.',
    ])
    expect($('a.button').attr('href')).toBe('/shelf/places/new')
  })

  test('groups by product: how many, whose, the oldest date, where', async () => {
    const { jarBatchId } = await addJars(app, 12)
    await addJars(app, 5, { bestBy: day('2026-08-01') })
    await written((w) => moveUnits(w, jarBatchId, { placeId: 'cellar', householdId: 'hedger' }, 4))
    await recipe('peas', 'Peas')
    const peas = { recipeId: 'peas', product: 'Peas', pack: 'bag', unit: 'bag', unitsName: 'bags', jar: null }
    await addJars(app, 1, { ...peas, keeping: 'freezer', bestBy: day('2026-10-01') })
    await addJars(app, 0, { ...peas, pack: 'gone' })
    const $ = await app.getPage('/shelf')
    expect(textAt($, '#stock .lead')).toBe('18 jars, bags and crocks of 2 products.')
    expect(rowsAt($, 'table').slice(1)).toEqual([
      [
        'Damson jam',
        '17 half-pint jars',
        '13 shared, 4 of Hedger',
        expect.stringMatching(/^past its best since Sat,? 1 Aug 2026$/),
        'cellar and pantry',
      ],
      ['Peas', '1 bag', '1 shared', expect.stringMatching(/^by Thu,? 1 Oct 2026, in 20 days$/), 'pantry'],
    ])
    expect($('tbody a').attr('href')).toBe('/shelf/products/damson-jam/half-pint')
  })

  test.each([
    ['q=JAM', ['Damson jam']],
    ['q=farl', ['Damson jam']],
    ['q=%25', []],
    ['q=_', []],
    ['q=pEASE', ['Peas']],
    ['place=cellar', ['Damson jam']],
    ['whose=hedger', ['Damson jam']],
    ['whose=shared&keeping=freezer', ['Peas']],
    ['whose=their-household', []],
    ['q=&place=&whose=&keeping=', ['Damson jam', 'Peas']],
    ['page=2', []],
  ])('is narrowed by %s', async (query, products) => {
    const { jarBatchId } = await addJars(app, 12, { variety: 'Farleigh' })
    await written((w) => moveUnits(w, jarBatchId, { placeId: 'cellar', householdId: 'hedger' }, 4))
    await recipe('peas', 'Peas')
    await addJars(app, 1, { recipeId: 'peas', product: 'Peas', keeping: 'freezer', code: 'PEASE' })
    const $ = await app.getPage(`/shelf?${query}`)
    expect(textsAt($, '#stock tbody th')).toEqual(products)
  })

  test('refuses an address that makes no sense, and bears any search', async () => {
    for (const query of ['page=0', 'place=%00', 'keeping=warm', `q=${'x'.repeat(101)}`])
      expect((await app.app.inject({ url: `/shelf?${query}` })).statusCode, query).toBe(400)
    for (const q of ['%00', "'; DROP", '🍑', '%5C', '%F0'])
      expect((await app.app.inject({ url: `/shelf?q=${q}` })).statusCode, q).toBe(200)
  })

  test('has a page for each 50 products', async () => {
    const names = Array.from({ length: 53 }, (_, i) => `Pickle ${String(i).padStart(3, '0')}`)
    await app.prisma.recipe.createMany({
      data: names.map((name, i) => ({ coopId: app.coopId, id: `pickle-${i}`, name, method: 'frozen', definition: {} })),
    })
    await addManyJars(app, 53, (i) => ({ recipeId: `pickle-${i}`, product: names[i] }))
    const $ = await app.getPage('/shelf?q=pickle')
    expect($('#stock tbody tr').length).toBe(50)
    expect(textAt($, '.lead')).toContain('53 jars, bags and crocks of 53 products')
    const more = await app.getPage($('a:contains("More products")').attr('href') ?? '')
    expect(textsAt(more, '#stock tbody th')).toEqual(['Pickle 050', 'Pickle 051', 'Pickle 052'])
    expect(more('a:contains("More products")').length).toBe(0)
    await emptyTables(app.prisma, 'Batch')
    await app.prisma.recipe.deleteMany({ where: { id: { startsWith: 'pickle-' } } })
  })
})

describe('a product', () => {
  test('has its batches where they stand, the oldest first, and what left the shelf', async () => {
    const young = await addJars(app, 12, { code: 'YOUNG' })
    await addJars(app, 5, { code: 'OLDER', bestBy: day('2026-10-01'), variety: 'Farleigh' })
    await written((w) => moveUnits(w, young.jarBatchId, { placeId: 'cellar', householdId: 'hedger' }, 4))
    await written((w) => writeEntry(w, { jarBatchId: young.jarBatchId, kind: 'take', units: -2, householdId: 'pike' }))
    const $ = await app.getPage('/shelf/products/damson-jam/half-pint')
    expect(textAt($, '.lead')).toBe('15 half-pint jars in stock.')
    expect(textsAt($, 'table:first tbody th').slice(0, 1)).toEqual(['OLDERFarleigh'])
    expect(
      rowsAt($, 'section[aria-labelledby=history-heading] table')
        .slice(1)
        .map((row) => row.slice(1, 4)),
    ).toEqual([['taken', '−2', '6']])
  })

  test('is not found where nobody ever made it', async () => {
    await addJars(app, 1)
    for (const url of ['/shelf/products/damson-jam/pint', '/shelf/products/nothing/half-pint'])
      expect((await app.app.inject({ url })).statusCode).toBe(404)
  })
})

describe('what to eat first', () => {
  test('is what stands in the cold, then by date; what is recalled is left out', async () => {
    await recipe('kraut', 'Kraut')
    await addJars(app, 1, { code: 'LATER', bestBy: day('2026-11-11') })
    await addJars(app, 1, { code: 'FOUND', bestBy: null })
    await addJars(app, 2, { code: 'SOON2', bestBy: day('2026-11-10') })
    await addJars(app, 1, { code: 'PAST2', bestBy: day('2026-09-10') })
    await addJars(app, 1, { code: 'BADLY', bestBy: day('2026-09-01'), recalledAt: new Date() })
    await addJars(app, 3, {
      code: 'CRISP',
      recipeId: 'kraut',
      product: 'Kraut',
      keeping: 'refrigerator',
      bestBy: day('2026-09-11'),
    })
    const $ = await app.getPage('/shelf/first')
    expect(textsAt($, 'table tbody th')).toEqual(['Kraut CRISP', 'Damson jam PAST2', 'Damson jam SOON2'])
    expect(textAt($, '.lead')).toBe('Eat first: Kraut CRISP, by today, and 2 more batches.')
    expect(textsAt($, 'table tbody .lost')[0]).toMatch(/^past its best since Thu,? 10 Sept? 2026$/)
  })

  test('has a page for each 50 lines, in one order over all of them', async () => {
    // every third in the cold, dates that go backwards and repeat
    const at = (n: number) => day(`2026-09-${String(28 - Math.floor(n / 4)).padStart(2, '0')}`)
    await addManyJars(app, 70, (n) => ({ keeping: n % 3 === 0 ? 'refrigerator' : 'shelf', bestBy: at(n) }))
    const batches = await app.prisma.batch.findMany({ where: { coopId: app.coopId, units: { gt: 0 } } })
    const wanted = batches
      .sort(
        (a, b) =>
          Number(b.keeping === 'refrigerator') - Number(a.keeping === 'refrigerator') ||
          Number(a.bestBy) - Number(b.bestBy) ||
          a.number - b.number,
      )
      .map(({ code }) => `Damson jam ${code}`)
    const $ = await app.getPage('/shelf/first')
    expect(textsAt($, 'table tbody th')).toEqual(wanted.slice(0, 50))
    expect(textAt($, '.lead')).toContain('and 69 more batches')
    const next = await app.getPage($('a:contains("What comes after these")').attr('href') ?? '')
    expect(textsAt(next, 'table tbody th')).toEqual(wanted.slice(50))
    expect(textAt(next, '.lead')).toBe('51 to 70 of 70 that are past or near their best.')
    expect(next('a:contains("What comes after these")').length).toBe(0)
    expect(next('a:contains("What comes before these")').attr('href')).toBe('/shelf/first')
    expect(textAt(await app.getPage('/shelf/first?page=4'), '.lead')).toBe('There are no more: 70 in all.')
  })

  test('and what runs low against the last year’s use, without what was taken back', async () => {
    const { jarBatchId } = await addJars(app, 40, { madeOn: day('2025-09-12') })
    await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -37, householdId: 'pike' }))
    const back = await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -1, householdId: 'pike' }))
    await written((w) => undoEntry(w, back.id))
    await recipe('kraut', 'Kraut')
    const plenty = await addJars(app, 40, { recipeId: 'kraut', product: 'Kraut' })
    await written((w) => writeEntry(w, { jarBatchId: plenty.jarBatchId, kind: 'take', units: -1, householdId: 'pike' }))
    const $ = await app.getPage('/shelf/first')
    // 3 of 40 are left, 37 went in 364 days: 3 x 364 / 37 = 29.5
    expect(rowsAt($, 'section[aria-labelledby=low-heading] table').slice(1)).toEqual([
      ['Damson jam', '3 half-pint jars', '37', 'about 29 days'],
    ])
  })

  test('says when there is nothing', async () => {
    const $ = await app.getPage('/shelf/first')
    expect(textAt($, '.lead')).toBe('Nothing is near its best-by date.')
    expect($('table').length).toBe(0)
  })
})

test('nothing of another co-op is on any page', async () => {
  const coopId = neighboursId
  await app.prisma.place.create({ data: { coopId, id: 'their-place', name: 'their pantry', kind: 'pantry' } })
  const { batchId } = await addJars(app, 1)
  const { process: _, ...batch } = await app.prisma.batch.findFirstOrThrow({ where: { id: batchId } })
  const theirs = { coopId, id: 'their-batch', code: 'THEIR', product: 'Their jam', recipeId: 'their-jam' }
  await app.prisma.batch.create({ data: { ...batch, ...theirs, bestBy: day('2026-09-01') } })
  const at = new Date()
  await app.prisma.jarBatch.create({
    data: {
      coopId,
      id: 'their-jars',
      batchId: 'their-batch',
      placeId: 'their-place',
      householdId: 'their-household',
      createdAt: at,
    },
  })
  for (const [i, kind, units] of [
    [1, 'put', 9],
    [2, 'take', -7],
  ] as const)
    await app.prisma.shelfEntry.create({
      data: {
        coopId,
        id: `their-entry-${i}`,
        at,
        jarBatchId: 'their-jars',
        kind,
        units,
        by: 'them',
        householdId: 'their-household',
      },
    })
  for (const path of [
    '/',
    '/shelf',
    '/shelf/first',
    '/shelf/ledger',
    '/shelf/empties',
    '/shelf/places',
    '/shelf?place=their-place',
    '/shelf/ledger?household=their-household',
  ])
    expect((await app.getPage(path))('main').text(), path).not.toMatch(/their|strange/i)
  for (const path of ['/shelf/places/their-place', '/shelf/places/their-place/count'])
    expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
})
