import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { batchCode } from '../../../src/core/labels/index.ts'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, htmlOf, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { addJars } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  const { coopId } = app
  await app.prisma.household.create({ data: { coopId, id: 'hedger', name: 'Hedger' } })
  await app.prisma.place.createMany({
    data: [
      { coopId, id: 'cellar', name: 'cellar', kind: 'cellar' },
      { coopId, id: 'chest', name: 'chest freezer', kind: 'freezer' },
      { coopId, id: 'attic', name: 'attic', kind: 'pantry', closed: true },
      { coopId: neighboursId, id: 'their-place', name: 'their pantry', kind: 'pantry' },
    ],
  })
})
afterAll(() => app?.close())

const stockOf = async (id: string) =>
  (await app.prisma.jarBatch.findUniqueOrThrow({ where: { coopId_id: { coopId: app.coopId, id } } })).stock
const entriesOf = (jarBatchId: string) =>
  app.prisma.shelfEntry.findMany({ where: { coopId: app.coopId, jarBatchId }, orderBy: { order: 'asc' } })
const jarsPath = (id: string, does = '') => `/shelf/jars/${id}${does && `/${does}`}`
/** Sends one of the forms of a line's page. */
const send = (id: string, does: string, fields: Record<string, string>) =>
  app.postForm(jarsPath(id, does), fields, { from: jarsPath(id) })
const refusedAt = (id: string, does: string, fields: Record<string, string>) =>
  app.postRefused(jarsPath(id, does), fields, { from: jarsPath(id) })

describe('jars of one batch', () => {
  test('stand with their number, place, owner, age and links', async () => {
    const { jarBatchId, batchId } = await addJars(app, 17, { variety: 'Farleigh' })
    const $ = await app.getPage(jarsPath(jarBatchId))
    expect(textAt($, '.shelf-stock')).toBe('17 half-pint jars')
    expect(textAt($, '.lead')).toMatch(/^pantry, shared\. Best by Sun,? 12 Sept? 2027\.$/)
    expect($('nav [aria-current=page]').text()).toBe('Shelf')
    const links = $('main a')
      .toArray()
      .map((a) => $(a).attr('href'))
    for (const href of [`/batches/${batchId}`, `/trace/batches/${batchId}`, `/labels?batch=${batchId}`])
      expect(links).toContain(href)
    expect(textsAt($, 'tbody tr')[0]).toMatch(/put on the shelf \+1717 Damson jam T\d+pantry ?Rosalind Pike$/)
  })

  test('are taken by one press, for the household of whoever asks', async () => {
    const { jarBatchId } = await addJars(app, 1)
    expect(textsAt(await app.getPage(jarsPath(jarBatchId)), '.shelf-press button')[0]).toBe('Take one for Pike')
    expect((await send(jarBatchId, 'take', {})).headers.location).toBe(jarsPath(jarBatchId))
    expect((await entriesOf(jarBatchId)).at(-1)).toMatchObject({ kind: 'take', units: -1, householdId: 'pike' })
    const $ = await app.getPage(jarsPath(jarBatchId))
    expect(textAt($, '.shelf-stock')).toBe('0 half-pint jars')
    expect(textsAt($, '.shelf-press summary')).toEqual(['Count what is there'])
  })

  test('are taken by another household, and the same form counts once', async () => {
    const { jarBatchId } = await addJars(app, 9)
    const again = { 'take.units': '4', 'take.householdId': 'hedger', _submission: `twice-${jarBatchId}` }
    expect((await send(jarBatchId, 'take', again)).statusCode).toBe(303)
    expect((await send(jarBatchId, 'take', again)).statusCode).toBe(303)
    expect(await stockOf(jarBatchId)).toBe(5)
    expect((await entriesOf(jarBatchId)).at(-1)).toMatchObject({ units: -4, householdId: 'hedger' })
  })

  test.each([
    [{ 'take.units': '0' }, 'Enter how many: a whole number from 1'],
    [{ 'take.units': '1.5' }, 'Enter how many: a whole number from 1'],
    [{ 'take.units': '-2' }, 'Enter how many: a whole number from 1'],
    [{ 'take.units': 'some' }, 'Enter how many: a whole number from 1'],
    [{ 'take.householdId': '' }, 'Choose who takes them'],
    [{ 'take.householdId': 'their-household' }, 'Choose who takes them'],
  ])('refuse a taking with %o at its field, and keep what was typed', async (part, words) => {
    const { jarBatchId } = await addJars(app, 3)
    const fields = { 'take.units': '2', 'take.householdId': 'hedger', ...part }
    const $ = await refusedAt(jarBatchId, 'take', fields)
    expect(problemsIn($)).toEqual([words])
    expect($('details[open] summary').text()).toBe('Take several, or for another household')
    expect($('#field-take-units').attr('value')).toBe(fields['take.units'])
    expect(await stockOf(jarBatchId)).toBe(3)
  })

  test('of which too few are left are not taken, and the page says how many there are', async () => {
    const { jarBatchId } = await addJars(app, 3)
    const late = await send(jarBatchId, 'take', { 'take.units': '4' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(textsAt($, '.refused li')).toEqual(['Only 3 of Damson jam are left here.'])
    expect(await stockOf(jarBatchId)).toBe(3)
  })

  test('are given away, and are written off when they broke', async () => {
    const { jarBatchId } = await addJars(app, 6)
    await send(jarBatchId, 'give', { 'give.units': '2', 'give.note': 'the fete' })
    await send(jarBatchId, 'break', { 'break.units': '1', 'break.note': 'dropped' })
    expect((await entriesOf(jarBatchId)).slice(1)).toMatchObject([
      { kind: 'give', units: -2, note: 'the fete', householdId: null },
      { kind: 'break', units: -1, note: 'dropped', stockAfter: 3 },
    ])
  })

  test('are moved to another place and owner, where they stand then', async () => {
    const { jarBatchId } = await addJars(app, 6)
    const to = { 'move.units': '4', 'move.placeId': 'cellar', 'move.householdId': 'hedger' }
    const moved = await send(jarBatchId, 'move', to)
    const $ = await app.getPage(String(moved.headers.location))
    expect(textAt($, '.lead')).toMatch(/^cellar, of Hedger\./)
    expect(textAt($, '.shelf-stock')).toBe('4 half-pint jars')
    expect(textsAt($, '.shelf-press button')[0]).toBe('Take one for Hedger')
    expect(textsAt($, '[aria-labelledby=others-heading] li')).toEqual(['pantry, shared2 half-pint jars'])
  })

  test.each([
    [{ 'move.placeId': 'pantry', 'move.householdId': 'shared' }, 'They stand there already'],
    [
      { 'move.placeId': 'chest', 'move.householdId': 'shared' },
      'They must be kept on a shelf: choose another place than chest freezer',
    ],
    [{ 'move.householdId': 'nobody' }, 'Choose whose they are'],
  ])('are not moved by %o', async (fields, words) => {
    const { jarBatchId } = await addJars(app, 2)
    expect(problemsIn(await refusedAt(jarBatchId, 'move', { 'move.placeId': 'cellar', ...fields }))).toEqual([words])
  })

  test('are not moved to a place that is closed, or of another co-op', async () => {
    const { jarBatchId } = await addJars(app, 2)
    const closed = await send(jarBatchId, 'move', { 'move.placeId': 'attic' })
    expect([closed.statusCode, closed.payload.includes('attic is closed: choose another place.')]).toEqual([409, true])
    expect((await send(jarBatchId, 'move', { 'move.placeId': 'their-place' })).statusCode).toBe(404)
    expect(await stockOf(jarBatchId)).toBe(2)
  })

  test('that are frozen stay frozen', async () => {
    const { jarBatchId } = await addJars(app, 2, { keeping: 'freezer', jar: null })
    const words = 'They must be kept in the freezer: choose another place than cellar'
    expect(problemsIn(await refusedAt(jarBatchId, 'move', { 'move.placeId': 'cellar' }))).toEqual([words])
  })

  test('are counted; a count that is older than a taking is shown again beside what is there now', async () => {
    const { jarBatchId } = await addJars(app, 10)
    await send(jarBatchId, 'count', { 'count.counted': '8' })
    expect(await stockOf(jarBatchId)).toBe(8)
    const late = await send(jarBatchId, 'count', { 'count.shown': '10', 'count.counted': '9' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(formFields($, 'form[action$="/count"]')).toMatchObject({ 'count.shown': '8', 'count.counted': '9' })
    expect(await stockOf(jarBatchId)).toBe(8)
  })
})

describe('the history', () => {
  test('takes an entry back once, and says so', async () => {
    const { jarBatchId } = await addJars(app, 5)
    await send(jarBatchId, 'take', { 'take.units': '2' })
    const entry = (await entriesOf(jarBatchId)).at(-1)
    const undo = `/shelf/entries/${entry?.id}/undo`
    const before = await app.getPage(jarsPath(jarBatchId))
    expect(before(`form[action="${undo}"] button`).text()).toMatch(/^Undo taken, −2 of Damson jam T\d+$/)
    expect(await app.postTaken(undo, {}, { from: jarsPath(jarBatchId) })).toBe(jarsPath(jarBatchId))
    expect(await stockOf(jarBatchId)).toBe(5)
    const $ = await app.getPage(jarsPath(jarBatchId))
    expect($(`form[action="${undo}"]`).length).toBe(0)
    expect(
      rowsAt($, 'table')
        .slice(1)
        .map((row) => [row[1], row[2], row[7]]),
    ).toEqual([
      ['undone', '+2', ''],
      ['taken', '−2', 'was taken back'],
      ['put on the shelf', '+5', ''],
    ])
  })

  test('takes a move back on both sides', async () => {
    const { jarBatchId } = await addJars(app, 5)
    const moved = String(
      (await send(jarBatchId, 'move', { 'move.units': '5', 'move.placeId': 'cellar' })).headers.location,
    )
    const [there] = await entriesOf(moved.replace('/shelf/jars/', ''))
    await app.postTaken(`/shelf/entries/${there?.id}/undo`, {}, { from: moved })
    expect(await stockOf(jarBatchId)).toBe(5)
    expect(textAt(await app.getPage(moved), '.shelf-stock')).toBe('0 half-pint jars')
  })

  test('says what is wrong where an entry cannot go back', async () => {
    const { jarBatchId } = await addJars(app, 5)
    const moved = String(
      (await send(jarBatchId, 'move', { 'move.units': '5', 'move.placeId': 'cellar' })).headers.location,
    )
    await app.postTaken(`${moved}/take`, {}, { from: moved })
    const [there] = await entriesOf(moved.replace('/shelf/jars/', ''))
    const answer = await app.postForm(`/shelf/entries/${there?.id}/undo`, {}, { from: moved })
    expect(answer.statusCode).toBe(409)
    expect(answer.payload).toContain('Only 4 of Damson jam are left here.')
    expect(expectSoundPage(answer.payload)(`main a[href="${moved}"]`).length).toBe(1)
    const [put] = await entriesOf(jarBatchId)
    expect((await app.getPage(jarsPath(jarBatchId)))(`form[action="/shelf/entries/${put?.id}/undo"]`).length).toBe(0)
  })

  test('goes on to older entries', async () => {
    const { jarBatchId } = await addJars(app, 100)
    await app.prisma.shelfEntry.createMany({
      data: Array.from({ length: 60 }, (_, i) => ({
        ...{ coopId: app.coopId, id: `${jarBatchId}-${i}`, at: new Date(), by: 'Bea', kind: 'take', units: -1 },
        jarBatchId,
      })),
    })
    const $ = await app.getPage(jarsPath(jarBatchId))
    expect($('tbody tr').length).toBe(50)
    const older = $('a:contains("Older entries")').attr('href')
    const rest = await app.getPage(String(older))
    expect(rest('tbody tr').length).toBe(11)
    expect(textsAt(rest, 'tbody tr').at(-1)).toContain('+100')
  })
})

describe('a recalled batch', () => {
  test('begins with its notice, can be thrown out, and cannot be taken', async () => {
    const { jarBatchId, batchId } = await addJars(app, 4)
    const { coopId } = app
    await app.prisma.batch.updateMany({ where: { id: batchId }, data: { recalledAt: new Date() } })
    const notice = { reason: 'A lid had lifted.', todo: 'Leave the jars closed.', by: 'Bea', at: new Date() }
    await app.prisma.recall.create({
      data: { coopId, id: `r-${jarBatchId}`, ...notice, batches: { create: { batchId } } },
    })
    const $ = await app.getPage(jarsPath(jarBatchId))
    expect(textsAt($, 'main > *')[0]).toMatch(/^Recalled: do not eat A lid had lifted\. Leave the jars closed\./)
    expect($('form[action$="/take"], form[action$="/give"]').length).toBe(0)
    expect((await send(jarBatchId, 'break', { 'break.units': '4' })).statusCode).toBe(303)
    expect(await stockOf(jarBatchId)).toBe(0)
  })
})

describe('the address in a QR code', () => {
  const open = (code: string) => app.app.inject({ url: `/j/${encodeURIComponent(code)}` })

  test('leads to the jars where they stand in one place, in small letters too', async () => {
    const code = batchCode(20)
    const { jarBatchId } = await addJars(app, 4, { code })
    for (const typed of [code, code.toLowerCase(), `${code.slice(0, 2)}-${code.slice(2)} `]) {
      const answer = await open(typed)
      expect([answer.statusCode, answer.headers.location], typed).toEqual([302, jarsPath(jarBatchId)])
    }
  })

  test('lets choose where the batch stands in several places, and tells when none is left', async () => {
    const { jarBatchId } = await addJars(app, 4, { code: 'TWICE' })
    await send(jarBatchId, 'move', { 'move.units': '1', 'move.placeId': 'cellar' })
    const $ = await app.getPage('/j/twice')
    expect(textsAt($, '.index li').sort()).toEqual(['cellar, shared1 half-pint jar', 'pantry, shared3 half-pint jars'])
    await addJars(app, 0, { code: 'EMPTY' })
    expect(textAt(await app.getPage('/j/EMPTY'), '.lead')).toBe('None of this batch is on the shelf any more.')
  })

  test('that no batch has is told in words', async () => {
    for (const code of ['nothing', '22222', '\u0000', 'x'.repeat(100)]) {
      const answer = await open(code)
      expect(answer.statusCode, code).toBe(404)
      expect(textAt(expectSoundPage(answer.payload), 'main')).toContain('No batch here has the code')
    }
  })
})

test('nobody finds what is unknown or another co-op’s', async () => {
  const { prisma } = app
  const coopId = neighboursId
  const { process: _, ...batch } = await prisma.batch.findFirstOrThrow({ where: { coopId: app.coopId } })
  await prisma.batch.create({
    data: { ...batch, coopId, id: 'their-batch', code: 'THEIR', recipeId: 'their-jam' },
  })
  const at = new Date()
  await prisma.jarBatch.create({
    data: { coopId, id: 'their-jars', batchId: 'their-batch', placeId: 'their-place', createdAt: at },
  })
  await prisma.shelfEntry.create({
    data: { coopId, id: 'their-entry', at, jarBatchId: 'their-jars', kind: 'put', units: 5, by: 'them' },
  })
  for (const url of [
    '/shelf/jars/nowhere',
    '/shelf/jars/their-jars',
    '/shelf/products/their-jam/half-pint',
    '/j/THEIR',
  ])
    expect((await app.app.inject({ url })).statusCode, url).toBe(404)
  const { jarBatchId } = await addJars(app, 1)
  const shown = await app.app.inject({ url: jarsPath(jarBatchId) })
  for (const path of ['/shelf/jars/their-jars/take', '/shelf/entries/their-entry/undo']) {
    const answer = await app.app.inject({
      method: 'POST',
      url: path,
      headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: cookiesOf(shown) },
      payload: encodeFields({ ...formFields(htmlOf(shown.payload)), 'take.units': '1' }),
    })
    expect(answer.statusCode, path).toBe(404)
  }
  const theirs = await prisma.jarBatch.findFirstOrThrow({ where: { coopId } })
  expect(theirs.stock).toBe(5)
})
