import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { knownSheets } from '../../../src/core/labels/index.ts'
import { type Fields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { darkRun, describePrinted, dotsPerMm, rasterise } from '../../unit/web/labels/raster.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.labelSheet.deleteMany()
})

const tags = {
  name: 'tags for gifts',
  paper: 'Letter',
  columns: '3',
  rows: '10',
  shape: 'rectangle',
  'label.width': '2 5/8 in',
  'label.height': '1 in',
  'label.corner': '',
  'margins.top': '0.5"',
  'margins.left': '4.8 mm',
  'gaps.across': '1/8 in',
  'gaps.down': '',
  'shift.right': '',
  'shift.down': '',
}
const lids = {
  ...tags,
  name: 'rounds for lids',
  paper: 'A4',
  columns: '3',
  rows: '4',
  shape: 'round',
  'label.diameter': '60',
  'margins.top': '20',
  'margins.left': '10',
  'gaps.across': '5',
  'gaps.down': '5',
}

const add = (fields: Fields) => app.postTaken('/labels/sheets', fields, { from: '/labels/sheets/new' })
const stored = async () =>
  app.prisma.labelSheet.findFirstOrThrow({ where: { coopId: app.coopId }, select: { geometry: true, version: true } })

describe('adding a sheet', () => {
  test('takes measures in inches and millimetres, and keeps them in hundredths of a millimetre', async () => {
    const path = await add(tags)
    expect((await stored()).geometry).toEqual({
      paper: 'Letter',
      columns: 3,
      rows: 10,
      // 2 5/8 in = 66.675 mm, 1 in = 25.4 mm, 1/2 in = 12.7 mm, 1/8 in = 3.175 mm (an inch is 25.4 mm by definition)
      label: { shape: 'rectangle', width: 6668, height: 2540, corner: 0 },
      margins: { top: 1270, left: 480 },
      gaps: { across: 318, down: 0 },
    })
    const $ = await app.getPage(path)
    expect(textAt($, 'h1')).toBe('Change tags for gifts')
    expect($('svg rect').length).toBe(31)
    expect(textAt($, 'section p')).toBe('30 labels on the sheet, numbered row after row.')
  })

  test('reads a bare number as the page said, whoever reads inches by now', async () => {
    await add({ ...lids, aloneIn: 'metric' })
    expect((await stored()).geometry).toMatchObject({ label: { shape: 'round', diameter: 6000 } })
    await app.prisma.labelSheet.deleteMany()
    const inches = { ...lids, 'label.diameter': '2.5', aloneIn: 'us', columns: '2', rows: '2' }
    await add({ ...inches, 'margins.top': '1', 'margins.left': '1', 'gaps.across': '', 'gaps.down': '' })
    expect((await stored()).geometry).toMatchObject({ label: { diameter: 6350 }, margins: { top: 2540, left: 2540 } })
  })

  test('begins with the measures of a common sheet', async () => {
    const list = await app.getPage('/labels/sheets')
    const copies = list('a[href*="like="]')
      .toArray()
      .map((link) => list(link).attr('href') ?? '')
    expect(copies).toHaveLength(knownSheets.length)
    for (const [i, copy] of copies.entries()) {
      const path = await app.postTaken('/labels/sheets', { name: `copy ${i}` }, { from: copy })
      const { geometry } = await app.prisma.labelSheet.findFirstOrThrow({ where: { id: path.split('/').at(-1) ?? '' } })
      expect(geometry).toEqual(knownSheets[i]?.geometry)
    }
    expect((await app.getPage('/labels/sheets/new?like=none')).text()).toContain('Add a sheet')
  })

  test.each<[part: Record<string, string>, words: string]>([
    [{ name: '' }, 'Enter a name, like “round ones for lids”'],
    [{ paper: 'A3' }, 'Choose the paper'],
    [{ shape: 'heart' }, 'Choose the shape of the labels'],
    ...['', '0', '41', '2.5', 'x'].map((columns): [Record<string, string>, string] => [
      { columns },
      'Enter how many there are, from 1 to 40',
    ]),
    ...['', 'wide', '5 kg', '1e3'].map((width): [Record<string, string>, string] => [
      { 'label.width': width },
      'Enter a measure, like 63.5 mm',
    ]),
    [{ 'label.height': '14.99 mm' }, 'Enter at least 15 mm'],
    [{ 'label.width': '601 mm' }, 'Enter at most 600 mm'],
    [{ 'label.corner': '12.71 mm' }, 'Enter at most 12.7 mm: half of the shorter side'],
    [{ 'margins.left': '-1 mm' }, 'Enter 0 or more'],
    [{ 'margins.left': '160 mm' }, 'Enter at most 149.22 mm: with more the first label does not lie on the paper'],
    [{ columns: '4' }, 'Only 3 of these labels fit side by side: check their size, margins and gaps too'],
    [{ rows: '11' }, 'Only 10 of these labels fit one below the other: check their size, margins and gaps too'],
    [{ 'label.height': '300 mm', rows: '1' }, 'Not even one label of this size fits on the paper'],
    [{ 'shift.right': '10.01 mm' }, 'Enter at most 10 mm to either side, like -0.5 mm'],
    [{ 'shift.down': 'much' }, 'Enter at most 10 mm to either side, like -0.5 mm'],
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const typed = { ...tags, ...part }
    const $ = await app.postRefused('/labels/sheets', typed, { from: '/labels/sheets/new' })
    expect(problemsIn($)).toEqual([words])
    const kept = formFields($)
    for (const [name, value] of Object.entries(typed)) {
      if (!['paper', 'shape'].includes(name)) expect(kept[name], name).toBe(value)
    }
    expect(await app.prisma.labelSheet.count()).toBe(0)
  })

  test('names every fault at once, and needs the measures of other paper', async () => {
    const $ = await app.postRefused(
      '/labels/sheets',
      { ...lids, paper: 'other', 'label.diameter': '', rows: '0', name: '' },
      { from: '/labels/sheets/new' },
    )
    expect(problemsIn($)).toEqual([
      'Enter a name, like “round ones for lids”',
      'Enter a measure, like 63.5 mm',
      'Enter a measure, like 63.5 mm',
      'Enter how many there are, from 1 to 40',
      'Enter a measure, like 63.5 mm',
    ])
  })

  test('refuses a name that is taken; another co-op may have it too', async () => {
    await add(tags)
    const $ = await app.postRefused('/labels/sheets', { ...lids, name: tags.name }, { from: '/labels/sheets/new' })
    expect(problemsIn($)).toEqual(['Another sheet has that name already: choose another'])
    expect(formFields($)['label.diameter']).toBe('60')
    const { geometry } = await stored()
    if (geometry === null) throw new Error('no geometry')
    await app.prisma.labelSheet.create({ data: { coopId: neighboursId, id: 'theirs', name: tags.name, geometry } })
  })
})

describe('changing a sheet', () => {
  test.each(['metric', 'us'])('saving it untouched changes nothing, in %s units', async (units) => {
    await app.prisma.coop.updateMany({ where: { id: app.coopId }, data: { units } })
    for (const fields of [
      { ...tags, 'shift.right': '-1/32 in' },
      { ...lids, aloneIn: 'metric', 'shift.down': '0.35 mm' },
    ]) {
      const path = await add(fields)
      const before = await app.prisma.labelSheet.findFirstOrThrow({ where: { id: path.split('/').at(-1) ?? '' } })
      await app.postTaken(path, {})
      const after = await app.prisma.labelSheet.findFirstOrThrow({ where: { id: before.id } })
      expect(after).toEqual({ ...before, version: 2 })
    }
    await app.prisma.coop.updateMany({ where: { id: app.coopId }, data: { units: 'metric' } })
  })

  test('shows inches as they were typed, where whole digits tell them', async () => {
    await app.prisma.coop.updateMany({ where: { id: app.coopId }, data: { units: 'us' } })
    const path = await add(tags)
    expect(formFields(await app.getPage(path))).toMatchObject({ 'label.width': '2.625 in', 'label.height': '1 in' })
    await app.prisma.coop.updateMany({ where: { id: app.coopId }, data: { units: 'metric' } })
  })

  test('notes what the printer shifts, and the list says it', async () => {
    const path = await add(lids)
    await app.postTaken(path, { 'shift.right': '0.5', 'shift.down': '-1' })
    const rows = rowsAt(await app.getPage('/labels/sheets'), 'table:first')
    expect(rows[1]).toEqual([
      'rounds for lids',
      'A4, 3 x 4, 60 mm round',
      '12',
      '0.5 mm to the right, 1 mm up',
      'Print a test page',
    ])
  })

  test('refuses a save that read an older state, and one for a sheet of others', async () => {
    const path = await add(tags)
    await app.postTaken(path, { name: 'first' })
    const late = await app.postForm(path, { name: 'second', version: '1' })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ name: 'second', version: '2' })
    const { geometry } = await stored()
    if (geometry === null) throw new Error('no geometry')
    await app.prisma.labelSheet.create({ data: { coopId: neighboursId, id: 'theirs', name: 'theirs', geometry } })
    for (const url of ['/labels/sheets/theirs', '/labels/sheets/theirs/removal', '/labels/sheets/theirs/test.pdf'])
      expect((await app.app.inject({ url })).statusCode, url).toBe(404)
    expect((await app.call('DELETE', '/api/label-sheets/theirs')).statusCode).toBe(404)
    expect(textsAt(await app.getPage('/labels/sheets'), 'table:first tbody th')).toEqual(['first'])
    expect(await app.prisma.labelSheet.count({ where: { coopId: neighboursId } })).toBe(1)
  })

  test('removes it after asking', async () => {
    const path = await add(tags)
    const removal = (await app.getPage(path))('a[href$="/removal"]').attr('href') ?? ''
    expect(textAt(await app.getPage(removal), 'h1')).toBe('Remove tags for gifts')
    expect(await app.postTaken(removal, {})).toBe('/labels/sheets')
    expect(await app.prisma.labelSheet.count()).toBe(0)
    expect((await app.app.inject({ url: path })).statusCode).toBe(404)
  })
})

describePrinted('the test page of a sheet', () => {
  test('has its first label’s edges where the sheet says, moved as the printer needs it', async () => {
    const path = await add({
      ...lids,
      shape: 'rectangle',
      'label.width': '60',
      'label.height': '60',
      'shift.right': '2',
    })
    const link = (await app.getPage(path))('a[href$="test.pdf"]').attr('href') ?? ''
    const answer = await app.app.inject({ url: link })
    expect(answer.headers['content-type']).toBe('application/pdf')
    const [page] = rasterise(answer.rawPayload)
    if (page === undefined) throw new Error('no page')
    const dots = (mm: number) => Math.round(mm * dotsPerMm)
    // a quarter down the first label: no cross, no ruler; 10 mm margin, moved by 2
    const edges = darkRun(page, 'x', dots(35), dots(5), dots(75))
    expect(Math.abs((edges?.from ?? 0) / dotsPerMm - 12)).toBeLessThan(0.3)
    expect(Math.abs((edges?.to ?? 0) / dotsPerMm - 72)).toBeLessThan(0.3)
  })
})

describe('for programs', () => {
  const body = {
    name: 'by call',
    geometry: knownSheets[0]?.geometry,
    offset: { dx: 30, dy: -20 },
  }

  test('sheets are listed, added, changed and removed', async () => {
    const added = await app.call('POST', '/api/label-sheets', body)
    expect(added.statusCode).toBe(201)
    const { id } = added.json()
    expect((await app.call('GET', '/api/label-sheets')).json()).toEqual({ sheets: [{ id, ...body, version: 1 }] })
    const changed = await app.call('PUT', `/api/label-sheets/${id}`, { ...body, name: 'changed', version: 1 })
    expect(changed.json()).toEqual({ id, ...body, name: 'changed', version: 2 })
    expect((await app.call('PUT', `/api/label-sheets/${id}`, { ...body, version: 1 })).statusCode).toBe(409)
    expect((await app.call('DELETE', `/api/label-sheets/${id}`)).statusCode).toBe(204)
    expect((await app.call('GET', `/api/label-sheets/${id}`)).statusCode).toBe(404)
  })

  test('what does not lie on the paper is refused, named by its part', async () => {
    const answer = await app.call('POST', '/api/label-sheets', { ...body, geometry: { ...body.geometry, columns: 4 } })
    expect(answer.statusCode).toBe(422)
    expect(answer.json().error.fields).toEqual({
      'geometry.columns': 'Only 3 of these labels fit side by side: check their size, margins and gaps too',
    })
    const wrong = await app.call('POST', '/api/label-sheets', { ...body, offset: { dx: 1001, dy: 0 } })
    expect(wrong.statusCode).toBe(400)
  })
})
