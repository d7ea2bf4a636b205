import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { listLocalProcesses } from '../../../src/features/processes/local/queries.ts'
import { findSteward } from '../../../src/web/sessions/index.ts'
import { type Fields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

/** What is changed in a form that is right, and what is said about it. */
type Wrong = [part: Fields, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  const data = { ...row, coopId: neighboursId, id: 'their-process', product: 'their damsons' }
  await app.prisma.localProcess.create({ data })
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.localProcess.deleteMany({ where: { coopId: app.coopId } }))
afterEach(() => app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'metric' } }))

// invented figures of an invented authority
const damsons = {
  product: 'damsons, whole, in syrup',
  source: 'Ansley Food Office, leaflet 12, page 3, May 2024',
  method: 'boiling-water',
  pack: 'hot',
  jars: ['pint', 'quart'],
  fromM: '0 m',
  toM: '700 m',
  minutes: '25',
  kPa: '',
  headspaceMm: '12 mm',
  acid: '',
}
const beans = { ...damsons, product: 'beans', method: 'dial-gauge', pack: 'raw', jars: 'pint', kPa: '11 psi' }
const row = {
  product: 'damsons, whole, in syrup',
  source: 'Ansley Food Office, leaflet 12, page 3, May 2024',
  method: 'boiling-water',
  pack: 'hot',
  jars: ['pint', 'quart'],
  fromM: 0,
  toM: 700,
  minutes: 25,
  kPa: null,
  headspaceMm: 12,
  acid: '',
  notedBy: 'Rosalind Pike',
  notedOn: new Date('2026-09-11T00:00:00Z'),
}

async function add(fields: Fields): Promise<string> {
  await app.postTaken('/local-processes', fields, { from: '/local-processes/new' })
  const found = await app.prisma.localProcess.findFirstOrThrow({ where: { coopId: app.coopId } })
  return found.id
}
const stored = (id: string) => app.prisma.localProcess.findFirstOrThrow({ where: { id } })

describe('the page of local processes', () => {
  test('says whose word it is, with and without any', async () => {
    const ownWord = /the co-op’s own word: .* has not checked it\. The authority’s document, .* goes before/
    expect(textAt(await app.getPage('/local-processes'), '.lead')).toMatch(/^None yet/)
    expect((await app.getPage('/local-processes'))('main').text()).toMatch(ownWord)
    await add(damsons)
    expect((await app.getPage('/local-processes'))('main').text()).toMatch(ownWord)
    expect((await app.getPage('/local-processes/new'))('main').text()).toMatch(/this service does not check it/)
  })

  test('tells all that was noted, by whom and when, with a caution', async () => {
    await add(damsons)
    const $ = await app.getPage('/local-processes')
    expect(textAt($, '.lead')).toBe('1 noted.')
    expect(textAt($, 'main section h2')).toBe('damsons, whole, in syrup')
    expect(textAt($, 'main section p')).toBe('25 minutes in a boiling-water canner, hot pack, in pints or quarts.')
    expect(textsAt($, 'main section .facts div')).toEqual([
      'For altitudes0 m to 700 m',
      'Headspace12 mm (0.47 in)',
      'Added to each jarnothing',
      'SourceAnsley Food Office, leaflet 12, page 3, May 2024',
      expect.stringMatching(/^NotedRosalind Pike, Fri,? 11 Sept? 2026$/),
    ])
    expect(textsAt($, '.caution')).toEqual([expect.stringMatching(/^Boiling water .* food authority goes before/)])
    expect(textAt($, '.foot')).toMatch(/^Last change: Process for damsons, whole, in syrup noted\. Rosalind Pike/)
  })

  test('tells the pressure in both units, for gauges are marked in either', async () => {
    await add(beans)
    // 11 psi are 75.8 kPa
    expect(textAt(await app.getPage('/local-processes'), 'main section p')).toBe(
      '25 minutes at 75.8 kPa (11 psi) in a pressure canner with a dial gauge, raw pack, in pints.',
    )
  })

  test('shows nothing of another co-op', async () => {
    expect((await app.getPage('/local-processes'))('main').text()).not.toContain('their damsons')
  })
})

describe('noting a process', () => {
  const kPaWords = 'Enter the pressure at the gauge, like “75 kPa” or “11 psi”, from 20 to 150 kPa'
  const fuller = 'Say more of the source: the authority, the document, its page and date'

  test.each<Wrong>([
    [{ product: '' }, 'Enter what it is for, like “damsons, whole, in syrup”'],
    [{ source: '' }, 'Enter the authority, the document, its page and date'],
    [{ source: 'the web' }, fuller],
    [{ source: '12 34 56 office' }, fuller],
    [{ method: 'oven' }, 'Choose how the jars are heated'],
    [{ pack: '' }, 'Choose how the jars are packed'],
    [{ jars: [] }, 'Choose at least one jar it was tested for'],
    [{ jars: ['pint', 'bucket'] }, 'Choose the jars it was tested for'],
    ...['', 'high', '-431', '5501', '🏔', 'NaN'].map(
      (fromM): Wrong => [{ fromM }, 'Enter the lowest altitude it was tested for, like “0 m” or “0 ft”'],
    ),
    [{ toM: '18,100 ft' }, 'Enter the highest altitude it was tested for, like “640 m” or “2,100 ft”'],
    [{ fromM: '701' }, 'Enter an altitude above the lowest one'],
    ...['0', '601', '2.5', 'long', '-1'].map((minutes): Wrong => [{ minutes }, 'Enter the minutes, from 1 to 600']),
    [
      { method: 'steam', minutes: '46' },
      'Choose another way to heat them: the water of a steam canner lasts for 45 minutes and no longer',
    ],
    ...['0', '-5 psi', '1e2', '19.9 kPa', '22 psi', '5 bar', 'NaN', '11 psi 5'].map(
      (kPa): Wrong => [{ ...beans, kPa }, kPaWords],
    ),
    [{ ...beans, kPa: '' }, 'Enter the pressure at the gauge, like “75 kPa” or “11 psi”'],
    [{ ...beans, method: 'weighted-gauge', kPa: '' }, 'Enter the pressure at the gauge, like “75 kPa” or “11 psi”'],
    ...['boiling-water', 'steam'].map(
      (method): Wrong => [{ method, kPa: '11 psi' }, 'Leave the pressure empty: only a pressure canner has one'],
    ),
    ...['', '0', '-3 mm', '101 mm', '5 in', 'a bit'].map(
      (headspaceMm): Wrong => [{ headspaceMm }, 'Enter the headspace, like “12 mm” or “1/2 in”'],
    ),
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const fields = { ...damsons, ...part }
    const $ = await app.postRefused('/local-processes', fields, { from: '/local-processes/new' })
    expect(problemsIn($)).toEqual([words])
    const { product, minutes } = formFields($, 'main form')
    expect({ product, minutes }).toEqual({ product: fields['product'], minutes: fields['minutes'] })
    expect(await app.prisma.localProcess.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('keeps what was typed, with the asking member and the day in the co-op’s own zone', async () => {
    expect(await stored(await add(damsons))).toMatchObject({ ...row, withdrawn: false, version: 1 })
  })

  test('rounds altitudes into what was tested: up at the lower end, down at the upper one', async () => {
    // 1,001 ft are 305.1 m, 2,000 ft are 609.6 m
    const id = await add({ ...damsons, fromM: '1,001 ft', toM: '2,000 ft' })
    expect(await stored(id)).toMatchObject({ fromM: 306, toM: 609 })
  })

  test('reads bare numbers in feet, inches and psi where the co-op reads US units', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    const $ = await app.getPage('/local-processes/new')
    expect(textAt($, '#field-kPa-hint')).toMatch(/in psi$/)
    const id = await add({ ...beans, fromM: '0', toM: '2000', kPa: '11', headspaceMm: '1/2' })
    const { fromM, toM, kPa, headspaceMm } = await stored(id)
    expect([fromM, toM, headspaceMm]).toEqual([0, 609, 12.7])
    expect(kPa).toBeCloseTo(75.842, 3)
  })

  test('notes once when the same form is sent twice', async () => {
    const page = await app.getPage('/local-processes/new')
    const same = { ...damsons, _submission: String(formFields(page)['_submission']) }
    for (const _ of [1, 2]) await app.postTaken('/local-processes', same, { from: '/local-processes/new' })
    expect(await app.prisma.localProcess.count({ where: { coopId: app.coopId } })).toBe(1)
  })
})

describe('changing a process', () => {
  test.each(['metric', 'us'])('changes nothing when the form is sent as it stands, read in %s units', async (units) => {
    const id = await add({ ...beans, fromM: '305 m', toM: '611 m', kPa: '80 kPa', headspaceMm: '15 mm', acid: 'none' })
    const before = await stored(id)
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units } })
    await app.postTaken(`/local-processes/${id}`, {})
    expect(await stored(id)).toEqual({ ...before, version: 2 })
  })

  test('fills in round figures as they were typed', async () => {
    const id = await add({ ...beans, headspaceMm: '1 in' })
    expect(formFields(await app.getPage(`/local-processes/${id}`))).toMatchObject({
      kPa: '11 psi',
      headspaceMm: '1 in',
    })
  })

  test('refuses a save that read an older state with 409 and keeps what was typed', async () => {
    const id = await add(damsons)
    await app.postTaken(`/local-processes/${id}`, { minutes: '30' })
    const late = await app.postForm(`/local-processes/${id}`, { minutes: '20', version: '1' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(problemsIn($)[0]).toMatch(/^Somebody changed this process/)
    expect(formFields($)).toMatchObject({ minutes: '20', version: '2' })
    expect((await stored(id)).minutes).toBe(30)
  })

  test('is noted anew by whoever changed it', async () => {
    const id = await add(damsons)
    await app.prisma.localProcess.update({
      where: { coopId_id: { coopId: app.coopId, id } },
      data: { notedBy: 'Somebody else', notedOn: new Date('2020-01-01T00:00:00Z') },
    })
    await app.postTaken(`/local-processes/${id}`, { minutes: '30' })
    expect(await stored(id)).toMatchObject({ notedBy: 'Rosalind Pike', notedOn: row.notedOn })
  })
})

describe('withdrawing a process', () => {
  test('keeps it readable, says so, and can be taken back', async () => {
    const id = await add(damsons)
    const withdrawal = `/local-processes/${id}/withdrawal`
    await app.postTaken(withdrawal, {}, { from: `/local-processes/${id}` })
    const $ = await app.getPage('/local-processes')
    expect(textAt($, '.lead')).toBe('1 noted, 1 of them withdrawn.')
    expect(textAt($, '.lost')).toBe('Withdrawn: it is no longer relied on.')
    expect($('.caution').length).toBe(0)
    expect(await stored(id)).toMatchObject({ withdrawn: true, minutes: 25, version: 2 })
    await app.postTaken(withdrawal, {}, { from: `/local-processes/${id}` })
    expect(await stored(id)).toMatchObject({ withdrawn: false, version: 3 })
  })

  test('is still among those that are listed', async () => {
    const id = await add(damsons)
    await app.call('PUT', `/api/local-processes/${id}/withdrawal`, { withdrawn: true })
    const steward = await findSteward(app.prisma)
    if (steward === null) throw new Error('no steward')
    const listed = await listLocalProcesses(app.prisma, steward)
    expect(listed.map((one) => [one.id, one.withdrawn, one.notedOn])).toEqual([[id, true, '2026-09-11']])
  })
})

describe('unknown processes and those of another co-op', () => {
  test.each(['nowhere', 'their-process'])('%s is not found', async (id) => {
    for (const path of [`/local-processes/${id}`, `/api/local-processes/${id}`]) {
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
    }
    const { notedBy, notedOn, ...body } = row
    expect((await app.call('PUT', `/api/local-processes/${id}`, { ...body, version: 1 })).statusCode).toBe(404)
    const withdrawal = await app.call('PUT', `/api/local-processes/${id}/withdrawal`, { withdrawn: true })
    expect(withdrawal.statusCode).toBe(404)
    expect((await stored('their-process')).withdrawn).toBe(false)
  })
})

describe('the calls', () => {
  const { notedBy, notedOn: _, ...body } = row

  test('note, read, change and withdraw', async () => {
    const added = await app.call('POST', '/api/local-processes', body)
    expect(added.statusCode, added.payload).toBe(201)
    const { id } = added.json()
    const whole = { ...body, id, notedBy, notedOn: '2026-09-11', withdrawn: false, version: 1 }
    expect(added.json()).toEqual(whole)
    expect((await app.call('GET', '/api/local-processes')).json()).toEqual({ processes: [whole] })
    const pressed = { ...body, method: 'weighted-gauge', kPa: 69 }
    const changed = await app.call('PUT', `/api/local-processes/${id}`, { ...pressed, version: 1 })
    expect([changed.statusCode, changed.json()]).toEqual([200, { ...whole, ...pressed, version: 2 }])
    expect((await app.call('PUT', `/api/local-processes/${id}`, { ...body, version: 1 })).statusCode).toBe(409)
    const withdrawn = await app.call('PUT', `/api/local-processes/${id}/withdrawal`, { withdrawn: true })
    expect(withdrawn.json()).toEqual({ ...whole, ...pressed, withdrawn: true, version: 3 })
    const again = await app.call('PUT', `/api/local-processes/${id}/withdrawal`, { withdrawn: true })
    expect(again.json().version).toBe(3)
  })

  test.each([
    [{ jars: [] }, 400, 'jars'],
    [{ minutes: 0 }, 400, 'minutes'],
    [{ toM: 5501 }, 400, 'toM'],
    [{ headspaceMm: 0 }, 400, 'headspaceMm'],
    [{ kPa: 10 }, 400, 'kPa'],
    [{ notedBy: 'Somebody' }, 400, 'body'],
    [{ kPa: 75 }, 422, 'kPa'],
    [{ method: 'dial-gauge' }, 422, 'kPa'],
    [{ source: 'the web' }, 422, 'source'],
    [{ fromM: 701 }, 422, 'toM'],
  ])('refuse %o', async (part, status, field) => {
    const answer = await app.call('POST', '/api/local-processes', { ...body, ...part })
    expect(answer.statusCode).toBe(status)
    expect(Object.keys(answer.json().error.fields)).toEqual([field])
  })
})
