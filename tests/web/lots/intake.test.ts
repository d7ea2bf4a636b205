import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { cookiesOf, encodeFields, type Fields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addTheirLot, apples, forgetLots, takeIn } from './lots.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addTheirLot(app)
  await app.prisma.household.create({ data: { coopId: app.coopId, id: 'fenwick', name: 'Fenwick' } })
  await app.prisma.member.create({
    data: { coopId: app.coopId, id: 'mara', householdId: 'fenwick', name: 'Mara Fenwick', role: 'member' },
  })
})
afterAll(() => app?.close())
beforeEach(() => forgetLots(app))

/** Sends the one line from the produce page; the page that reads it back. */
async function readBack(line: string) {
  const answer = await app.postForm('/lots/new', { line }, { from: '/lots' })
  expect(answer.statusCode).toBe(200)
  return expectSoundPage(answer.payload)
}

describe('the line', () => {
  test('is read back as fields and saved by the second post', async () => {
    // as a browser does it: one page, two posts, the same cookies throughout
    const produce = await app.app.inject({ url: '/lots' })
    const cookie = cookiesOf(produce)
    const send = (url: string, fields: Fields) =>
      app.app.inject({
        method: 'POST',
        url,
        headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin', cookie },
        payload: encodeFields(fields),
      })
    const line = '2 bushels damsons from Mara’s trees, soft'
    const first = await send('/lots/new', { ...formFields(expectSoundPage(produce.payload)), line })
    expect(first.statusCode).toBe(200)
    const $ = expectSoundPage(first.payload)
    expect(formFields($)).toMatchObject({
      weight: '2 bushels',
      crop: 'damson',
      class: 'soft',
      source: 'own-trees',
      broughtBy: 'Mara Fenwick',
      householdId: 'fenwick',
      storage: 'room',
      arrivedOn: 'today',
      note: '',
    })
    expect(textAt($, '#field-weight-hint')).toBe('Read as 2 bushels of damsons at 25.4 kg: 50.8 kg in all')
    expect(textsAt($, '.panel p')).toEqual([
      '“2 bushels damsons from Mara’s trees, soft” was read into these fields. Nothing is saved yet.',
      'Not said, so assumed: at room temperature, came in today.',
    ])
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(0)

    const saved = await send('/lots', formFields($))
    expect(saved.statusCode).toBe(303)
    const lot = await app.prisma.lot.findFirstOrThrow({ where: { coopId: app.coopId }, include: { sortings: true } })
    expect(saved.headers.location).toBe(`/lots/${lot.id}`)
    expect(lot).toMatchObject({
      crop: 'damson',
      weightGrams: 50_802,
      weightTyped: '2 bushels',
      storage: 'room',
      householdId: 'fenwick',
      broughtBy: 'Mara Fenwick',
    })
    expect(lot.sortings).toHaveLength(1)
    expect(lot.sortings[0]).toMatchObject({
      how: 'arrival',
      softGrams: 50_802,
      ripeGrams: 0,
      sortedBy: 'Rosalind Pike',
    })
    expect(lot.sortings[0]?.sortedOn.toISOString()).toBe('2026-09-11T00:00:00.000Z')
  })

  test.each([
    [
      '90 kg apples bought from Tarn Orchard, cellar',
      { weight: '90 kg', crop: 'apple', source: 'bought', storage: 'cool' },
    ],
    ['gleaned 12½ lb blackberries', { weight: '12.5 lb', crop: 'blackberry', source: 'gleaned', class: 'ripe' }],
    ['36 medium apples', { weight: '36 medium apples', crop: 'apple', broughtBy: 'Rosalind Pike' }],
    ['3 lb 4 oz tomatoes, firm', { weight: '3 lb and 4 oz', crop: 'tomato', class: 'firm' }],
    ['half a bushel of apples', { weight: '0.5 bushel', crop: 'apple' }],
  ])('%s', async (line, fields) => {
    const $ = await readBack(line)
    const shown = formFields($)
    const { weight, ...rest } = fields
    expect(shown).toMatchObject(rest)
    // whatever way it is written, the second post reads the same weight from it
    expect(String(shown['weight'])).toMatch(weight === '0.5 bushel' ? /^(0\.5|1\/2) bushel$/ : weight)
    expect(textAt($, '#field-weight-hint')).toMatch(/^Read as .* in all$/)
  })

  test('keeps what it does not understand in the note and names it', async () => {
    const $ = await readBack('3 blorps of damsons, hurrah')
    expect(formFields($)).toMatchObject({ weight: '', crop: 'damson' })
    expect(formFields($)['note']).toContain('hurrah')
    expect(textsAt($, '.panel .soon')[0]).toMatch(/^Not understood, and kept in the note: “.*hurrah.*”\.$/)
    expect(textsAt($, '.panel .soon').join(' ')).toContain('That unit is not known here. Enter the weight like')
  })

  test.each([
    '🍎🍎🍎',
    '<script>alert(1)</script>',
    'x'.repeat(500),
    '-4 kg apples',
    'NaN kg of Infinity',
    '99999999999999 kg apples',
  ])('reads %s without losing it', async (line) => {
    const $ = await readBack(line)
    expect(textsAt($, '.panel p')[0]).toContain(line.slice(0, 20))
    expect($('main script').length).toBe(0)
  })

  test.each([
    ['', 'Enter what came in, like “12 kg apples from Wilfred, cellar”'],
    ['x'.repeat(501), 'Use 500 characters or fewer'],
  ])('is asked for again when it is empty or too long', async (line, words) => {
    const answer = await app.postForm('/lots/new', { line }, { from: '/lots' })
    expect(answer.statusCode).toBe(422)
    const $ = expectSoundPage(answer.payload)
    expect(problemsIn($)).toEqual([words])
    expect(formFields($)['line']).toBe(line)
  })
})

describe('the plain form', () => {
  test.each([
    ['25 kg', 25_000],
    ['55 lb', 24_948],
    ['12 1/2 lb', 5_670],
    ['1,5 kg', 1_500],
    ['1 bushel', 21_772],
    ['36 medium', 5_443],
  ])('takes %s of apples', async (weight, grams) => {
    const id = await takeIn(app, { weight })
    const lot = await app.prisma.lot.findFirstOrThrow({ where: { id }, include: { sortings: true } })
    expect([lot.weightTyped, lot.weightGrams, lot.sortings[0]?.firmGrams]).toEqual([weight, grams, grams])
  })

  test.each([
    ['', /^Enter the weight, like 12 kg, .*bushels or 36 medium$/],
    ['lots', /^Enter the weight, like/],
    ['25', /^Enter the weight with its unit, like/],
    ['25 blorps', /^That unit is not known here\./],
    ['0 kg', /^Enter a weight above 0, like/],
    ['-3 kg', /^Enter a weight above 0, like/],
    ['51 t', /^Enter less than 50 tonnes, like/],
    ['9e99 kg', /^(That unit is not known here|Enter)/],
    ['NaN kg', /^Enter the weight, like/],
    ['🍎', /^Enter the weight, like/],
    [`${'1'.repeat(201)} kg`, /^Use 200 characters or fewer$/],
  ])('refuses the weight %s at its field and keeps what was typed', async (weight, words) => {
    const $ = await app.postRefused('/lots', { ...apples, weight }, { from: '/lots/new' })
    expect(problemsIn($)).toHaveLength(1)
    expect(problemsIn($)[0]).toMatch(words)
    expect($('#field-weight').attr('aria-invalid')).toBe('true')
    const { crop, broughtBy, variety } = apples
    expect(formFields($)).toMatchObject({ weight, crop, class: 'firm', storage: 'cool', broughtBy, variety })
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('says that a bushel needs the crop, and that some crops have no figure for a lug', async () => {
    const none = await app.postRefused('/lots', { ...apples, crop: '', weight: '2 bushels' }, { from: '/lots/new' })
    expect(problemsIn(none)[0]).toMatch(/^Choose the crop as well/)
    expect(problemsIn(none)[1]).toBe('Choose the crop')
    const lug = await app.postRefused('/lots', { ...apples, crop: 'onion', weight: '2 quarts' }, { from: '/lots/new' })
    expect(problemsIn(lug)[0]).toMatch(/^What that weighs is not known for onions\./)
  })

  test.each([
    [{ crop: 'unobtainium' }, 'Choose the crop'],
    [{ class: 'rotten' }, 'Choose how most of it is'],
    [{ storage: 'attic' }, 'Choose where it waits'],
    [{ source: 'stolen' }, 'Choose how it came'],
    [{ broughtBy: '  ' }, 'Enter who brought it, like a member or an orchard'],
    [{ broughtBy: 'x'.repeat(81) }, 'Use 80 characters or fewer'],
    [{ householdId: 'their-household' }, 'Choose a household of the co-op, or none'],
    [{ householdId: 'nobody' }, 'Choose a household of the co-op, or none'],
    [{ arrivedOn: '2026-09-12' }, 'Enter a date that is not after today, like 2026-09-11 or yesterday'],
    [{ arrivedOn: '2024-01-01' }, 'Enter a date of the last twelve months, like 2026-09-11 or yesterday'],
    [{ arrivedOn: '2026-02-30' }, 'Enter the date it came in, like 2026-09-11 or yesterday'],
    [{ arrivedOn: 'last week' }, 'Enter the date it came in, like 2026-09-11 or yesterday'],
    [{ priceMinor: '-4' }, 'Enter the price like 54 or 54.50, or leave it empty'],
    [{ priceMinor: 'free' }, 'Enter the price like 54 or 54.50, or leave it empty'],
    [{ note: 'x'.repeat(501) }, 'Use 500 characters or fewer'],
  ] as [Record<string, string>, string][])('refuses %o', async (wrong, words) => {
    const $ = await app.postRefused('/lots', { ...apples, ...wrong }, { from: '/lots/new' })
    expect(problemsIn($)).toEqual([words])
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('understands yesterday, a date, money, and keeps all of it', async () => {
    const id = await takeIn(app, {
      arrivedOn: 'Yesterday',
      priceMinor: '54,5',
      householdId: 'pike',
      note: 'Windfalls\nbelow',
    })
    const lot = await app.prisma.lot.findFirstOrThrow({ where: { id }, include: { sortings: true } })
    expect(lot).toMatchObject({
      priceMinor: 5_450,
      householdId: 'pike',
      note: 'Windfalls\nbelow',
      closedOn: null,
      version: 1,
    })
    expect(lot.arrivedOn.toISOString().slice(0, 10)).toBe('2026-09-10')
    expect(lot.sortings[0]?.sortedOn.toISOString().slice(0, 10)).toBe('2026-09-10')
  })

  test('takes a lot in once when the same form is sent twice', async () => {
    const page = await app.getPage('/lots/new')
    const same = { ...apples, _submission: String(formFields(page)['_submission']) }
    const first = await app.postTaken('/lots', same, { from: '/lots/new' })
    expect(await app.postTaken('/lots', same, { from: '/lots/new' })).toBe(first)
    expect(await app.prisma.lot.count({ where: { coopId: app.coopId } })).toBe(1)
    expect(await app.prisma.sorting.count({ where: { coopId: app.coopId } })).toBe(1)
  })

  test('offers members and households of this co-op only', async () => {
    const $ = await app.getPage('/lots/new')
    const names = $('datalist option')
      .toArray()
      .map((option) => $(option).attr('value'))
    expect(names).toEqual(['Mara Fenwick', 'Rosalind Pike', 'Fenwick', 'Pike'])
    expect(textsAt($, '#field-householdId option')).toEqual(['none', 'Fenwick', 'Pike'])
  })
})
