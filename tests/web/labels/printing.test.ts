import { spawnSync } from 'node:child_process'
import type { LightMyRequestResponse } from 'fastify'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { batchCode, fromPlace, knownSheet, type Place, type SheetGeometry } from '../../../src/core/labels/index.ts'
import { encodeFields, type Fields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, type Html, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { type Area, describePrinted, dotsPerMm, rasterise, readCode, wordsOf } from '../../unit/web/labels/raster.ts'
import { addJars } from '../shelf/jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp({ environment: { ALLOWED_HOSTS: 'larkrise.example,localhost' } })
  await addNeighbours(app)
})
afterAll(() => app?.close())

const host = 'larkrise.example:8080'
const a4 = 'A4, 3 x 8, 70 x 37 mm'
const get = (url: string) => app.app.inject({ url, headers: { host } })

/** Sends the page's form as it stands, with these fields changed, to where labels come from. */
async function send(page: string, fields: Fields = {}): Promise<LightMyRequestResponse> {
  const shown = await get(page)
  expect(shown.statusCode).toBe(200)
  const $ = expectSoundPage(shown.payload)
  expect($('main form').attr('method')).toBe('get')
  const address = $('main form button[formaction]').attr('formaction') ?? ''
  return get(`${address}?${encodeFields({ ...formFields($), ...fields })}`)
}

async function labelsFrom(page: string, fields: Fields = {}): Promise<Buffer> {
  const answer = await send(page, fields)
  expect(answer.statusCode, answer.payload.slice(0, 2000)).toBe(200)
  expect(answer.headers['content-type']).toBe('application/pdf')
  return answer.rawPayload
}

async function refusal(page: string, fields: Fields): Promise<Html> {
  const answer = await send(page, fields)
  expect(answer.statusCode).toBe(422)
  return expectSoundPage(answer.payload)
}

function known(name: string): SheetGeometry {
  const sheet = knownSheet(name)
  if (sheet === null) throw new Error(`no sheet ${name}`)
  return sheet.geometry
}

/** A label's box in dots of the raster. */
function areaOf({ x, y, width, height }: Place): Area {
  const dots = (length: number) => Math.round((length / 100) * dotsPerMm)
  return { x: dots(x), y: dots(y), width: dots(width), height: dots(height) }
}

/** What a phone reads on each of the sheet's labels, page after page; null: nothing. */
function codesOn(pdf: Buffer, geometry: SheetGeometry): (string | null)[][] {
  const places = fromPlace(geometry, geometry.columns * geometry.rows)
  return rasterise(pdf).map((page) => places.map(({ place }) => readCode(page, areaOf(place))?.text ?? null))
}

test('what looks at printed pages is there where everything must hold', () => {
  const there = ['pdftoppm', 'pdftotext'].every((name) => spawnSync(name, ['-v']).status === 0)
  if (process.env['CI'] !== undefined) expect(there, 'pdftoppm and pdftotext').toBe(true)
  else if (!there) process.stdout.write('Not run here: tests of printed labels need poppler-utils.\n')
})

describePrinted('labels of a batch, printed through the page', () => {
  test('carry a code each that leads to the batch, and say what it is', async () => {
    const code = batchCode(7)
    const { batchId } = await addJars(app, 5, {
      code,
      product: 'Green tomato chutney',
      variety: 'Aunt Ruby',
      allergens: ['mustard'],
      bestBy: new Date('2027-03-01T00:00:00Z'),
    })
    const pdf = await labelsFrom(`/labels?batch=${batchId}`)
    const address = `http://${host}/j/${code}`
    const [codes, ...more] = codesOn(pdf, known(a4))
    expect(more).toEqual([])
    expect(codes).toEqual([...Array<string>(5).fill(address), ...Array<null>(19).fill(null)])
    const words = wordsOf(pdf)
    for (const line of [
      'Green tomato chutney',
      'Aunt Ruby',
      'Contains: mustard',
      'Best by 1 Mar 2027',
      'Made 12 Sep 2026',
    ])
      expect(words).toContain(line)
    for (const line of [`Batch ${code}`, 'Half-pint jar', 'Shared shelf', 'Once open, refrigerate'])
      expect(words).toContain(line)
    // the address leads to these jars
    const led = await get(new URL(address).pathname)
    expect(led.statusCode).toBe(302)
    expect((await get(String(led.headers.location))).payload).toContain('Green tomato chutney')
  })

  test('begin at any free label and go on on a second sheet', async () => {
    const code = batchCode(8)
    const { batchId, jarBatchId } = await addJars(app, 3, { code })
    const pdf = await labelsFrom(`/labels?batch=${batchId}`, { start: '23', [`units.${jarBatchId}`]: '4' })
    const pages = codesOn(pdf, known(a4))
    const numbers = pages.map((codes) => codes.flatMap((text, i) => (text === null ? [] : [i + 1])))
    expect(numbers).toEqual([
      [23, 24],
      [1, 2],
    ])
  })

  test('of several batches follow one another, each as often as was typed, with whose they are', async () => {
    const codes = [batchCode(9), batchCode(10)] as const
    const first = await addJars(app, 2, { code: codes[0], product: 'Quince jelly', keeping: 'refrigerator' })
    const second = await addJars(app, 6, {
      code: codes[1],
      product: 'Quince cheese',
      keeping: 'dry',
      jar: null,
      unit: 'slab',
    })
    await app.prisma.jarBatch.updateMany({ where: { id: second.jarBatchId }, data: { householdId: app.householdId } })
    const pdf = await labelsFrom('/labels?q=quince', {
      print: [first.jarBatchId, second.jarBatchId],
      [`units.${second.jarBatchId}`]: '1',
    })
    const [read] = codesOn(pdf, known(a4))
    expect(read?.slice(0, 4)).toEqual([
      `http://${host}/j/${codes[0]}`,
      `http://${host}/j/${codes[0]}`,
      `http://${host}/j/${codes[1]}`,
      null,
    ])
    const words = wordsOf(pdf)
    for (const line of [
      'Keep refrigerated: not',
      'shelf-stable',
      'Keep dry, closed and dark',
      'Slab',
      'Pike',
      'Shared shelf',
    ])
      expect(words).toContain(line)
  })

  test('on the co-op’s own sheet lie where it says, moved as its printer needs it', async () => {
    const sheet = {
      name: 'stickers from the drawer',
      paper: 'other',
      'paper.width': '100 mm',
      'paper.height': '150 mm',
      columns: '1',
      rows: '2',
      shape: 'rectangle',
      'label.width': '80 mm',
      'label.height': '50 mm',
      'margins.top': '15 mm',
      'margins.left': '10 mm',
      'gaps.down': '10 mm',
      'shift.right': '5 mm',
      'shift.down': '-3 mm',
    }
    const path = await app.postTaken('/labels/sheets', sheet, { from: '/labels/sheets/new' })
    const code = batchCode(11)
    const { batchId } = await addJars(app, 2, { code })
    const asked = `/labels?batch=${batchId}`
    // the only one of the co-op's own is chosen before anybody chooses
    const geometry = { ...known(a4), paper: { width: 10_000, height: 15_000 }, columns: 1, rows: 2 }
    const own: SheetGeometry = {
      ...geometry,
      label: { shape: 'rectangle', width: 8000, height: 5000, corner: 0 },
      margins: { top: 1500, left: 1000 },
      gaps: { across: 0, down: 1000 },
    }
    const pdf = await labelsFrom(asked)
    const [page] = rasterise(pdf)
    if (page === undefined) throw new Error('no page')
    expect([page.width, page.height].map((dots) => Math.round(dots / dotsPerMm))).toEqual([100, 150])
    const finders = fromPlace(own, 2, 1, { dx: 500, dy: -300 }).map(({ place }) => readCode(page, areaOf(place)))
    expect(finders.map((found) => found?.text)).toEqual([`http://${host}/j/${code}`, `http://${host}/j/${code}`])
    await app.prisma.labelSheet.updateMany({ data: { shiftRight: 0, shiftDown: 0 } })
    const [unmoved] = rasterise(await labelsFrom(asked))
    if (unmoved === undefined) throw new Error('no page')
    const before = fromPlace(own, 2).map(({ place }) => readCode(unmoved, areaOf(place)))
    const moved = finders.map((found, i) => ({
      x: ((found?.finder.x ?? 0) - (before[i]?.finder.x ?? 0)) / dotsPerMm,
      y: ((found?.finder.y ?? 0) - (before[i]?.finder.y ?? 0)) / dotsPerMm,
    }))
    for (const { x, y } of moved) {
      expect(Math.abs(x - 5)).toBeLessThan(0.2)
      expect(Math.abs(y + 3)).toBeLessThan(0.2)
    }
    await app.postTaken(`${path}/removal`, {})
  })
})

describe('choosing what to print', () => {
  test('a batch’s page has its jars ticked, as many labels as jars, and the file is named by its code', async () => {
    const { batchId, jarBatchId } = await addJars(app, 7, { code: batchCode(20) })
    const $ = await app.getPage(`/labels?batch=${batchId}`)
    expect(formFields($)).toMatchObject({
      print: jarBatchId,
      [`units.${jarBatchId}`]: '7',
      sheet: a4,
      start: '1',
    })
    const answer = await send(`/labels?batch=${batchId}`)
    expect(answer.headers['content-disposition']).toBe(`inline; filename="labels-${batchCode(20)}.pdf"`)
    expect(answer.headers['cache-control']).toBe('no-store')
  })

  test('without a batch the newest twenty in stock are offered, none ticked; a search finds others and keeps what is ticked', async () => {
    const old = await addJars(app, 1, { product: 'Medlar jelly' })
    for (let i = 0; i < 20; i++) await addJars(app, 1, { product: `Plum ketchup ${i}` })
    const gone = await addJars(app, 0, { product: 'Eaten up' })
    const $ = await app.getPage('/labels')
    const rows = textsAt($, '.label-lines label')
    expect(rows).toHaveLength(20)
    expect(rows[0]).toMatch(/^Plum ketchup 19 batch T\d+, made Sat, 12 Sept? 2026; 1 half-pint jar, shared, pantry$/)
    expect(rows.join(' ')).not.toMatch(/Medlar|Eaten/)
    expect(formFields($)['print']).toBeUndefined()
    const ticked = (
      await app.prisma.batch.findFirstOrThrow({ where: { product: 'Plum ketchup 3' }, include: { jarBatches: true } })
    ).jarBatches[0]?.id
    const sent = encodeFields({ ...formFields($), print: String(ticked), [`units.${ticked}`]: '9', q: 'medlar' })
    const searched = await app.getPage(`/labels?${sent}`)
    expect(textsAt(searched, '.label-lines label').map((row) => row.split(' batch')[0])).toEqual([
      'Plum ketchup 3',
      'Medlar jelly',
    ])
    expect(formFields(searched)).toMatchObject({
      print: ticked,
      [`units.${ticked}`]: '9',
      [`units.${old.jarBatchId}`]: '1',
    })
    const none = await app.getPage(`/labels?batch=${gone.batchId}`)
    expect(textAt(none, '.lead')).toBe('None of this batch is on the shelf.')
  })

  test('the chosen sheet is drawn with its labels’ numbers, used ones without', async () => {
    const $ = await app.getPage(`/labels?sheet=${encodeURIComponent('A4, 2 x 3, 75 mm round')}&start=3`)
    expect($('#sheet-drawn circle').length).toBe(6)
    expect(textsAt($, '#sheet-drawn text')).toEqual(['3', '4', '5', '6'])
    expect(textAt($, '#sheet-drawn p')).toBe(
      '6 labels on the sheet, numbered row after row; the first 2 are used. Each is 75 mm round.',
    )
  })

  test('says so where codes would lead nowhere for a phone', async () => {
    const { batchId } = await addJars(app, 1)
    const page = `/labels?batch=${batchId}`
    const there = await get(page)
    expect(expectSoundPage(there.payload)('.caution').length).toBe(0)
    const here = await app.app.inject({ url: page, headers: { host: 'localhost:8080' } })
    expect(textAt(expectSoundPage(here.payload), '.caution')).toContain('which a phone cannot open')
  })

  test.each<[part: (id: string) => Fields, words: string]>([
    [() => ({ print: [] }), 'Tick what to print labels for'],
    ...['', '0', '-1', '1.5', 'all', '1001'].map((typed): [(id: string) => Fields, string] => [
      (id) => ({ [`units.${id}`]: typed }),
      'Enter how many labels, from 1 to 1000',
    ]),
    [() => ({ sheet: 'A4, 9 x 9' }), 'Choose the sheet of labels'],
    [() => ({ sheet: 'own:their-sheet' }), 'Choose the sheet of labels'],
    ...['0', '25', '', 'first'].map((start): [(id: string) => Fields, string] => [
      () => ({ start }),
      'This sheet has labels 1 to 24: enter one of them',
    ]),
  ])('refuses what cannot be printed and keeps what was typed (%#)', async (part, words) => {
    const { batchId, jarBatchId } = await addJars(app, 3)
    const changed: Fields = { outlines: 'yes', start: '5', ...part(jarBatchId) }
    const $ = await refusal(`/labels?batch=${batchId}`, changed)
    expect(problemsIn($)).toEqual([words])
    const kept = formFields($)
    expect(kept['outlines']).toBe('yes')
    expect(kept['start']).toBe(changed['start'])
    expect(kept[`units.${jarBatchId}`]).toBe(changed[`units.${jarBatchId}`] ?? '3')
    if (changed['print'] !== undefined) expect(kept['print']).toBeUndefined()
  })

  test('refuses more than a thousand labels together', async () => {
    const [one, other] = [await addJars(app, 600), await addJars(app, 600)]
    const $ = await refusal('/labels', { print: [one.jarBatchId, other.jarBatchId] })
    expect(problemsIn($)).toEqual(['That makes 1200 labels: print at most 1000 at once, and the others after them'])
  })

  test('says at the sheet what has no room on its labels', async () => {
    const { batchId } = await addJars(app, 2, {
      product: 'Chutney',
      allergens: Array.from({ length: 30 }, (_, i) => `allergen number ${i}`),
    })
    const small = 'A4, 4 x 6, 40 mm round'
    const $ = await refusal(`/labels?batch=${batchId}`, { sheet: small, start: '2' })
    expect(problemsIn($)).toEqual([
      'These labels are too small for what must be said of “Chutney”: choose a sheet with larger ones',
    ])
    expect(textAt($, '#field-sheet-error')).toContain('too small')
    expect(formFields($)).toMatchObject({ sheet: small, start: '2' })
  })

  test('names the characters that labels have no letters for, with the label', async () => {
    const code = batchCode(30)
    const { batchId } = await addJars(app, 2, { product: 'Plum 🍑 jam', code })
    const $ = await refusal(`/labels?batch=${batchId}`, {})
    expect(problemsIn($)).toEqual([
      `The label of “Plum 🍑 jam” (batch ${code}) cannot be printed: its typeface has no 🍑. Write the name with other letters`,
    ])
  })

  test('prints nothing for a recalled batch', async () => {
    const { batchId, jarBatchId } = await addJars(app, 2, { code: batchCode(31) })
    await app.prisma.batch.updateMany({ where: { id: batchId }, data: { recalledAt: new Date() } })
    const page = `/labels?batch=${batchId}`
    expect(formFields(await app.getPage(page))['print']).toBeUndefined()
    const $ = await refusal(page, { print: jarBatchId })
    expect(problemsIn($)).toEqual([`Batch ${batchCode(31)} is recalled: no labels are printed for it`])
  })

  test('another co-op’s batches and jars are not there', async () => {
    const theirs = await addJars({ ...app, coopId: neighboursId }, 4, { product: 'Their secret jam' })
    expect((await get(`/labels?batch=${theirs.batchId}`)).statusCode).toBe(404)
    expect((await get(`/labels?print=${theirs.jarBatchId}`)).statusCode).toBe(404)
    const asked = encodeFields({ print: theirs.jarBatchId, [`units.${theirs.jarBatchId}`]: '1', sheet: a4, start: '1' })
    expect((await get(`/labels/print.pdf?${asked}`)).statusCode).toBe(404)
    expect((await get('/labels?q=secret')).payload).not.toContain('Their secret jam')
  })

  test.each([
    '/labels?batch=%00',
    '/labels?batch=a&batch=b',
    '/labels/print.pdf',
    '/labels/print.pdf?print=%00&sheet=a&sheet=b&start=1&start=2',
    `/labels?q=${'x'.repeat(3000)}`,
    '/labels?q=%00%ff',
  ])('an address that nobody typed is answered in words (%#)', async (url) => {
    const { statusCode } = await get(url)
    expect([200, 400, 404, 422]).toContain(statusCode)
  })

  test('makes a thousand labels from one address', async () => {
    const { batchId, jarBatchId } = await addJars(app, 1000, { code: batchCode(32) })
    const started = performance.now()
    const pdf = await labelsFrom(`/labels?batch=${batchId}`, { [`units.${jarBatchId}`]: '1000' })
    process.stdout.write(`1,000 labels: ${Math.round(performance.now() - started)} ms, ${pdf.length} bytes\n`)
    expect(pdf.toString('latin1').match(/\/Type \/Page\b/g)?.length).toBe(42)
  })
})
