import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import { jarBatchFor, moveUnits, undoEntry, writeEntry } from '../../../src/features/shelf/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addJars, writingFor } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'hedger', name: 'Hedger' } })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await emptyTables(app.prisma, 'Batch', 'Place', 'ShelfEntry', 'Supply')
})

const written = <T>(work: (writing: ReturnType<typeof writingFor>) => Promise<T>) =>
  inTransaction(app.prisma, (transaction) => work(writingFor(app, transaction)))
const supply = (id: string, key: string, more = {}) =>
  app.prisma.supply.create({
    data: {
      ...{ coopId: app.coopId, id, key, name: key, unit: 'jar', onHand: 0, packSize: 12, packPriceMinor: 900 },
      ...{ packsAtMost: 2, ...more },
    },
  })
const onHand = async (id: string) => (await app.prisma.supply.findFirstOrThrow({ where: { id } })).onHand
const rows = async () => rowsAt(await app.getPage('/shelf/empties'), 'table').slice(1)

describe('jars to bring back', () => {
  test('are those a household took, was given as its own, or was shared; less what went back', async () => {
    const { jarBatchId, batchId } = await addJars(app, 40)
    await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -3, householdId: 'pike' }))
    const own = await written((w) =>
      moveUnits(w, jarBatchId, { placeId: 'pantry', householdId: 'hedger' }, 10, { kind: 'share' }),
    )
    // what a household takes of its own was counted when it became its own
    await written((w) => writeEntry(w, { jarBatchId: own.toId, kind: 'take', units: -2, householdId: 'hedger' }))
    // one of Hedger's goes to Pike, two go back to all, one breaks at Hedger's and is owed still
    await written((w) => writeEntry(w, { jarBatchId: own.toId, kind: 'take', units: -1, householdId: 'pike' }))
    await written((w) => moveUnits(w, own.toId, { placeId: 'pantry', householdId: null }, 2))
    await written((w) => writeEntry(w, { jarBatchId: own.toId, kind: 'break', units: -1 }))
    // given to strangers, and taken back: nobody's
    await written((w) => writeEntry(w, { jarBatchId, kind: 'give', units: -5 }))
    const mistake = await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -9, householdId: 'pike' }))
    await written((w) => undoEntry(w, mistake.id))
    // a batch of Hedger's own
    await written(async (w) => {
      const id = await jarBatchFor(w, { batchId, placeId: 'pantry', householdId: 'hedger' })
      await writeEntry(w, { jarBatchId: id, kind: 'put', units: 4 })
    })
    // bags are no jars
    const bags = await addJars(app, 5, { jar: null })
    await written((w) => writeEntry(w, { jarBatchId: bags.jarBatchId, kind: 'take', units: -5, householdId: 'pike' }))
    expect(await rows()).toEqual([
      ['Hedger', 'half-pints', '11', '0', '11'],
      ['Pike', 'half-pints', '4', '0', '4'],
    ])
  })

  test('come back into the supplies of their size, and the same form counts once', async () => {
    await supply('jars', 'jar-half-pint', { name: 'half-pint jars', onHand: 5 })
    const { jarBatchId } = await addJars(app, 10)
    await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -6, householdId: 'hedger' }))
    const back = { householdId: 'hedger', jar: 'half-pint', units: '4', _submission: 'once-only-44' }
    for (let i = 0; i < 2; i++) expect(await app.postTaken('/shelf/empties', back)).toBe('/shelf/empties')
    expect(await onHand('jars')).toBe(9)
    expect(await rows()).toEqual([['Hedger', 'half-pints', '6', '4', '2']])
    expect(textAt(await app.getPage('/shelf/empties'), '.lead')).toBe('2 jars are with households, full or empty.')
    const entry = await app.prisma.shelfEntry.findFirstOrThrow({ where: { kind: 'return' } })
    const ledger = '/shelf/ledger?household=hedger'
    expect(await app.postTaken(`/shelf/entries/${entry.id}/undo`, {}, { from: ledger })).toBe('/shelf/ledger')
    expect(await rows()).toEqual([['Hedger', 'half-pints', '6', '0', '6']])
  })

  test.each([
    [{ householdId: '' }, 'Choose who brings them back'],
    [{ jar: 'quart' }, 'Choose which jars'],
    [{ units: '0' }, 'Enter how many: a whole number from 1'],
  ])('are refused with %o', async (part, words) => {
    await supply('jars', 'jar-half-pint')
    const fields = { householdId: 'pike', jar: 'half-pint', units: '2', ...part }
    const $ = await app.postRefused('/shelf/empties', fields)
    expect(problemsIn($)).toEqual([words])
    expect(formFields($)['units']).toBe(fields.units)
  })

  test('need jars among the supplies', async () => {
    await supply('sugar', 'sugar', { unit: 'g' })
    const $ = await app.getPage('/shelf/empties')
    expect($('form').length).toBe(0)
    expect($('main').text()).toContain('No jars are among the supplies.')
  })
})

describe('what was bought', () => {
  test('is added in packs, from the page of the supply', async () => {
    await supply('lids', 'lid', { onHand: 5 })
    const $ = await app.getPage('/supplies/lids')
    expect($('main a[href="/shelf/supplies/lids/buy"]').length).toBe(1)
    await app.postTaken('/shelf/supplies/lids/buy', { packs: '2', note: 'the mill shop' })
    expect(await onHand('lids')).toBe(29)
    expect(await app.prisma.shelfEntry.findFirst({ where: { kind: 'buy' } })).toMatchObject({
      units: 24,
      note: 'the mill shop',
    })
    expect(problemsIn(await app.postRefused('/shelf/supplies/lids/buy', { packs: 'two' }))).toEqual([
      'Enter how many packs, from 1 to 10000',
    ])
    expect((await app.app.inject({ url: '/shelf/supplies/nothing/buy' })).statusCode).toBe(404)
  })
})

describe('the ledger', () => {
  test('has the newest entry first, of everybody or of one household', async () => {
    await supply('lids', 'lid', { onHand: 5 })
    const { jarBatchId } = await addJars(app, 10)
    await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -6, householdId: 'hedger' }))
    await written((w) => writeEntry(w, { jarBatchId, kind: 'take', units: -1, householdId: 'pike', note: 'for tea' }))
    const all = await app.getPage('/shelf/ledger')
    expect(
      rowsAt(all, 'table')
        .slice(1)
        .map((row) => row.slice(1, 4)),
    ).toEqual([
      ['takenfor tea', '−1', '3'],
      ['taken', '−6', '4'],
      ['put on the shelf', '+10', '10'],
      ['stock-takeon hand when it was added', '+5', '5'],
    ])
    const one = await app.getPage('/shelf/ledger?household=hedger')
    expect(textAt(one, 'h1')).toBe('Ledger of the shelf: Hedger')
    expect(textsAt(one, 'tbody td.figure')).toEqual(['−6', '4'])
  })

  test('goes on page by page by the order of its entries, none twice and none left out', async () => {
    const { jarBatchId } = await addJars(app, 1000)
    const { coopId } = app
    await app.prisma.shelfEntry.createMany({
      data: Array.from({ length: 250 }, (_, i) => ({
        ...{ coopId, id: `e-${i}`, at: new Date(), by: 'Bea', kind: 'take', units: -1, jarBatchId },
        householdId: 'hedger',
      })),
    })
    const left: string[] = []
    let next: string | undefined = '/shelf/ledger?household=hedger'
    const pages: number[] = []
    while (next !== undefined) {
      const $ = await app.getPage(next)
      const row = rowsAt($, 'table').slice(1)
      pages.push(row.length)
      left.push(...row.map((cells) => cells[3] ?? ''))
      next = $('a:contains("Older entries")').attr('href')
    }
    expect(pages).toEqual([100, 100, 50])
    expect(left).toEqual(Array.from({ length: 250 }, (_, i) => String(750 + i)))
  })
})
