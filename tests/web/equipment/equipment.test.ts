import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { gaugesAtHand } from '../../../src/features/equipment/queries.ts'
import { findSteward } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { expectSoundPage, formFields, htmlOf, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

/** What is sent, and what is said about it. */
type Wrong = [fields: Record<string, string>, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.equipment.deleteMany({ where: { coopId: app.coopId } }))

const canner = { kind: 'canner', name: 'blue enamel canner', count: '2', roomMl: '', aroundTheClock: '' }
const pressure = { kind: 'pressure-canner', name: 'sixteen quarts', count: '1', gauge: 'dial' }
const needsGauge = 'Choose which gauge it has: pressures differ between a dial and a weight'
const noGauge = 'Choose “none”: only a pressure canner has a gauge'
const freezer = { kind: 'freezer', name: 'chest freezer', count: '1', roomMl: '180' }

async function add(fields: Record<string, string>): Promise<string> {
  await app.postTaken('/equipment', fields, { from: '/equipment/new' })
  const found = await app.prisma.equipment.findFirstOrThrow({ where: { name: fields['name'] ?? '' } })
  return found.id
}

describe('the equipment page', () => {
  test('says what is missing while there is none', async () => {
    const $ = await app.getPage('/equipment')
    expect(textAt($, '.lead')).toMatch(/^Nothing yet/)
    expect($('table').length).toBe(0)
  })

  test('sums up and lists by kind what was added, and says who did it', async () => {
    await add(freezer)
    // the clock of the tests stands still: of two changes at one moment neither is the newer
    await emptyHistory(app.prisma)
    await add(canner)
    const $ = await app.getPage('/equipment')
    expect(textAt($, '.lead')).toBe('2 boiling-water canners, 1 freezer with 180 l.')
    expect(rowsAt($, 'table').slice(1)).toEqual([
      ['blue enamel canner', 'boiling-water canner', '2', '', '', 'while the kitchen is open', ''],
      ['chest freezer', 'freezer', '1', '', '180 l', 'always', ''],
    ])
    expect(textAt($, '.foot')).toMatch(/^Last change: blue enamel canner added\. Rosalind Pike, 11 Sept? 2026/)
  })

  test('shows nothing of another co-op', async () => {
    const $ = await app.getPage('/equipment')
    expect($('main').text()).not.toContain('their canner')
  })
})

describe('adding equipment', () => {
  test.each<Wrong>([
    [{ ...canner, kind: 'spoon' }, 'Choose what kind it is'],
    [{ ...canner, name: '  ' }, 'Enter a name, like “chest freezer in the annex”'],
    [{ ...canner, name: 'x'.repeat(81) }, 'Use 80 characters or fewer'],
    ...['', '0', '-1', '100', '2.5', 'NaN', '1e3', '🍎'].map(
      (count): Wrong => [{ ...canner, count }, 'Enter how many there are, from 1 to 99'],
    ),
    ...['0', '-3 l', 'lots', '🧊', '99999999999 l', 'NaN'].map(
      (roomMl): Wrong => [{ ...freezer, roomMl }, 'Enter the room in litres, like 180'],
    ),
    [{ ...freezer, roomMl: '' }, 'Enter the room of the freezer in litres, like 180'],
    [{ ...canner, roomMl: '20' }, 'Leave the room empty: only a freezer has one'],
    ...['none', ''].map((gauge): Wrong => [{ ...pressure, gauge }, needsGauge]),
    [{ ...pressure, gauge: 'broken' }, 'Choose which gauge it has'],
    ...['canner', 'steam-canner', 'burner'].map((kind): Wrong => [{ ...pressure, kind }, noGauge]),
    ...['wide', '0', '-30', '7.9 cm', '101 cm', '40 in', '12 5', '🍎', '30 cm 5'].map(
      (insideWidthMm): Wrong => [
        { ...canner, insideWidthMm },
        'Enter the inside width in centimetres or inches, like “30 cm” or “12 in”',
      ],
    ),
    [
      { ...canner, insideHeightMm: '3 kg' },
      'Enter the inside height in centimetres or inches, like “30 cm” or “12 in”',
    ],
    ...['0', '41', 'many'].map(
      (quart): Wrong => [{ ...canner, 'holds.quart': quart }, 'Enter jars from 1 to 40, or leave it empty'],
    ),
    [{ ...freezer, 'holds.pint': '8' }, 'Leave it empty: only a canner takes jars'],
    [{ ...canner, comeUpMinutes: '0' }, 'Enter the minutes it takes to come up, from 1 to 240, or leave it empty'],
    [
      { ...canner, coolDownMinutes: '241' },
      'Enter the minutes it takes to cool down, from 0 to 240, or leave it empty',
    ],
    [{ ...canner, burners: '13' }, 'Enter burners from 0 to 12, or leave it empty'],
    ...['comeUpMinutes', 'coolDownMinutes', 'burners'].map(
      (name): Wrong => [{ ...freezer, [name]: '2' }, 'Leave it empty: it is asked for canners only'],
    ),
    [{ ...canner, fromMinute: '25' }, 'Enter from when, like 9:30 or 9 am'],
    [{ ...canner, fromMinute: '9' }, 'Enter until when, like 16:00 or 4 pm'],
    [{ ...canner, toMinute: '9' }, 'Enter from when, like 9:30 or 9 am'],
    [{ ...canner, fromMinute: '9', toMinute: '9' }, 'Enter an end that is later than the beginning'],
    [{ ...freezer, insideHeightMm: '60' }, 'Leave it empty: inside measures are asked for canners only'],
  ])('refuses %o and keeps what was typed', async (fields, words) => {
    const $ = await app.postRefused('/equipment', fields, { from: '/equipment/new' })
    expect(problemsIn($)).toEqual([words])
    const asked = ['holds.quart', 'holds.pint', 'comeUpMinutes', 'coolDownMinutes', 'burners', 'fromMinute', 'toMinute']
    for (const field of asked) expect(formFields($, 'main form')[field]).toBe(fields[field] ?? '')
    const { name, count } = formFields($, 'main form')
    expect({ name, count }).toEqual({ name: fields['name'], count: fields['count'] })
    expect(await app.prisma.equipment.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('keeps what one load takes, its minutes, its burners and its hours', async () => {
    const more = { 'holds.quart': '7', 'holds.pint': '8', comeUpMinutes: '25', coolDownMinutes: '0', burners: '2' }
    const id = await add({ ...canner, ...more, fromMinute: '9', toMinute: '4 pm' })
    const kept = {
      holds: { quart: 7, pint: 8 },
      comeUpMinutes: 25,
      coolDownMinutes: 0,
      burners: 2,
      fromMinute: 540,
      toMinute: 960,
    }
    expect((await app.call('GET', `/api/equipment/${id}`)).json()).toMatchObject(kept)
    await app.postTaken(`/equipment/${id}`, {})
    expect((await app.call('GET', `/api/equipment/${id}`)).json()).toMatchObject(kept)
    const told = rowsAt(await app.getPage('/equipment'), 'table')[1]
    expect(told?.[1]).toMatch(/takes 8 .* or 7 .*; 25 minutes to come up; 0 minutes to cool down; covers 2 burners$/)
    expect(told?.[5]).toMatch(/^0?9:00 to 16:00$/)
  })

  test('takes the room in other units', async () => {
    await add({ ...freezer, roomMl: '10 gal' })
    expect((await app.prisma.equipment.findFirstOrThrow({ where: { coopId: app.coopId } })).roomMl).toBe(37_854)
  })

  test('adds once when the same form is sent twice', async () => {
    const page = await app.getPage('/equipment/new')
    const same = { ...canner, _submission: String(formFields(page)['_submission']) }
    await app.postTaken('/equipment', same, { from: '/equipment/new' })
    await app.postTaken('/equipment', same, { from: '/equipment/new' })
    expect(await app.prisma.equipment.count({ where: { coopId: app.coopId } })).toBe(1)
  })
})

describe('a pressure canner', () => {
  const note = /^A dial gauge is checked every year .* more than 2 psi \(USDA Complete Guide to Home Canning, 2015/

  test('says which gauge it has, and that a dial is checked every year', async () => {
    const id = await add(pressure)
    const $ = await app.getPage('/equipment')
    expect(rowsAt($, 'table')[1]?.[1]).toBe('pressure canner, dial gauge')
    expect(textAt($, '.caution')).toMatch(note)
    expect(textAt(await app.getPage(`/equipment/${id}`), '.caution')).toMatch(note)
    expect(formFields(await app.getPage(`/equipment/${id}`))).toMatchObject({ gauge: 'dial' })
  })

  test('with a weighted gauge has no dial to check', async () => {
    const id = await add({ ...pressure, gauge: 'weighted' })
    const $ = await app.getPage('/equipment')
    expect(rowsAt($, 'table')[1]?.[1]).toBe('pressure canner, weighted gauge')
    expect($('.caution').length + (await app.getPage(`/equipment/${id}`))('.caution').length).toBe(0)
  })

  test('taken in before gauges were asked for says so, and is asked at the next change', async () => {
    const id = 'old-canner'
    const data = { coopId: app.coopId, id, kind: 'pressure-canner', name: 'old one', count: 1 }
    await app.prisma.equipment.create({ data })
    const $ = await app.getPage('/equipment')
    expect(rowsAt($, 'table')[1]?.[1]).toBe('pressure canner, gauge not noted')
    expect(textAt($, '.caution')).toMatch(note)
    expect(problemsIn(await app.postRefused(`/equipment/${id}`, {}))).toEqual([needsGauge])
    await app.postTaken(`/equipment/${id}`, { gauge: 'weighted' })
    expect(await app.prisma.equipment.findFirstOrThrow({ where: { id } })).toMatchObject({ gauge: 'weighted' })
  })

  test('is one of the gauges at hand, each once, and nobody else’s', async () => {
    const steward = await findSteward(app.prisma)
    if (steward === null) throw new Error('no steward')
    const atHand = () => gaugesAtHand(app.prisma, steward)
    const theirs = {
      coopId: neighboursId,
      id: 'their-dial',
      kind: 'pressure-canner',
      name: 'd',
      count: 1,
      gauge: 'dial',
    }
    await app.prisma.equipment.create({ data: theirs })
    await add(canner)
    expect(await atHand()).toEqual([])
    await add({ ...pressure, name: 'first', gauge: 'weighted' })
    await add({ ...pressure, name: 'second', gauge: 'weighted' })
    expect(await atHand()).toEqual(['weighted'])
    await add({ ...pressure, name: 'third' })
    expect(await atHand()).toEqual(['dial', 'weighted'])
  })
})

describe('the inside of a canner', () => {
  const inside = async (fields: Record<string, string>) => {
    const id = await add({ ...canner, ...fields })
    const row = await app.prisma.equipment.findFirstOrThrow({ where: { id } })
    const shown = formFields(await app.getPage(`/equipment/${id}`))
    return {
      mm: [row.insideWidthMm, row.insideHeightMm],
      typed: [shown['insideWidthMm'], shown['insideHeightMm']],
      told: rowsAt(await app.getPage('/equipment'), 'table')[1]?.[3],
    }
  }
  afterEach(() => app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'metric' } }))

  // an inch is 25.4 mm exactly
  test('is typed in centimetres or inches', async () => {
    expect(await inside({ insideWidthMm: '12 in', insideHeightMm: '25.5' })).toEqual({
      mm: [305, 255],
      typed: ['30.5 cm', '25.5 cm'],
      told: '30.5 cm wide, 25.5 cm high',
    })
  })

  test('is read and shown in inches where the co-op reads US units', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    const $ = await app.getPage('/equipment/new')
    expect(textAt($, '#field-insideWidthMm-hint')).toMatch(/a number alone is in inches$/)
    expect(await inside({ insideWidthMm: '12', insideHeightMm: '25.3 cm' })).toEqual({
      mm: [305, 253],
      typed: ['12 in', '9.96 in'],
      told: '12 in wide, 10 in high',
    })
  })

  test('stays the same to the millimetre when the form is sent as it stands', async () => {
    for (const units of ['metric', 'us']) {
      await app.prisma.coop.update({ where: { id: app.coopId }, data: { units } })
      for (const mm of [80, 253, 305, 318, 999, 1000]) {
        await app.prisma.equipment.deleteMany({ where: { coopId: app.coopId } })
        const id = await add({ ...canner, insideWidthMm: `${mm} mm` })
        await app.postTaken(`/equipment/${id}`, {})
        const row = await app.prisma.equipment.findFirstOrThrow({ where: { id } })
        expect([units, row.insideWidthMm]).toEqual([units, mm])
      }
    }
  })

  test('is read in the units that the page named, though others are in force by the time it arrives', async () => {
    const page = { ...canner, insideWidthMm: '30', aloneIn: 'metric' }
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    const id = await add(page)
    expect((await app.prisma.equipment.findFirstOrThrow({ where: { id } })).insideWidthMm).toBe(300)
  })
})

describe('the jars that stand in a canner', () => {
  const rows = async (fields: Record<string, string>) =>
    rowsAt(await app.getPage(`/equipment/${await add(fields)}`), 'table')

  // a usual load is 7 quarts or 8 to 9 pints (USDA Complete Guide 2015, Guide 1 p. 1-17)
  test('are counted for a boiling-water canner of a usual size, for short and long processes', async () => {
    const shown = await rows({ ...canner, insideWidthMm: '32 cm', insideHeightMm: '27 cm' })
    expect(shown[0]).toEqual(['Jar', 'Jars', 'Layers', 'Above 30 minutes'])
    expect(shown).toContainEqual(['quarts, regular mouth', '7', 'one', '7'])
    expect(shown.find(([jar]) => jar === 'pints, regular mouth')?.[1]).toMatch(/^[89]$/)
    expect(shown.some(([jar]) => jar === 'half-gallons')).toBe(false)
  })

  test('are none above 30 minutes where the second inch of water has no room', async () => {
    // 175 mm of jar, 13 mm of rack, 51 mm of water and room to boil: 239 mm, and 25 mm more for a long process
    const shown = await rows({ ...canner, insideWidthMm: '32 cm', insideHeightMm: '24.5 cm' })
    expect(shown).toContainEqual(['quarts, regular mouth', '7', 'one', 'none'])
  })

  test('need no water over them in a pressure canner, and stand in two layers where it is high', async () => {
    const shown = await rows({ ...pressure, insideWidthMm: '32 cm', insideHeightMm: '30 cm' })
    expect(shown[0]).toEqual(['Jar', 'Jars', 'Layers'])
    expect(shown.find(([jar]) => jar === 'pints, regular mouth')?.slice(1)).toEqual(['18', 'two'])
    expect(shown.find(([jar]) => jar === 'quarts, regular mouth')?.slice(1)).toEqual(['7', 'one'])
    // half-gallons are for very acid juices in boiling water alone (Guide 1 p. 1-13)
    expect(shown.some(([jar]) => jar === 'half-gallons')).toBe(false)
  })

  test('stand in one layer in a steam canner', async () => {
    const steam = { ...canner, kind: 'steam-canner', name: 'dome', insideWidthMm: '32 cm', insideHeightMm: '30 cm' }
    const shown = await rows(steam)
    expect(new Set(shown.slice(1).map(([, , layers]) => layers))).toEqual(new Set(['one']))
  })

  test('are not told where a measure is missing or nothing stands in it', async () => {
    const half = await add({ ...canner, insideWidthMm: '32 cm' })
    expect((await app.getPage(`/equipment/${half}`))('table').length).toBe(0)
    await app.postTaken(`/equipment/${half}`, { insideHeightMm: '10 cm' })
    const $ = await app.getPage(`/equipment/${half}`)
    expect($('table').length).toBe(0)
    expect($('main').text()).toContain('no jar stands in it')
  })
})

describe('changing equipment', () => {
  test('fills the form in with what is there and saves what changed', async () => {
    const id = await add(freezer)
    const fields = formFields(await app.getPage(`/equipment/${id}`))
    expect(fields).toMatchObject({ kind: 'freezer', name: 'chest freezer', count: '1', roomMl: '180 l', version: '1' })
    expect(await app.postTaken(`/equipment/${id}`, { name: 'long freezer', roomMl: '90.5 l' })).toBe('/equipment')
    const row = await app.prisma.equipment.findFirstOrThrow({ where: { id } })
    expect(row).toMatchObject({ name: 'long freezer', roomMl: 90_500, version: 2 })
  })

  test('refuses a save that read an older state with 409, keeps what was typed, and takes it when sent again', async () => {
    const id = await add(canner)
    await app.postTaken(`/equipment/${id}`, { name: 'first' })
    const late = await app.postForm(`/equipment/${id}`, { name: 'second', version: '1' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(problemsIn($)[0]).toMatch(/^Somebody changed this equipment/)
    expect(formFields($)).toMatchObject({ name: 'second', version: '2' })
    await app.postTaken(`/equipment/${id}`, { name: 'second', version: '2' })
    expect((await app.prisma.equipment.findFirstOrThrow({ where: { id } })).name).toBe('second')
  })

  test('keeps the version that was read when a field is refused', async () => {
    const id = await add(canner)
    const $ = await app.postRefused(`/equipment/${id}`, { name: '' })
    expect(formFields($)).toMatchObject({ name: '', version: '1' })
  })
})

describe('removing equipment', () => {
  test('asks first, then removes it', async () => {
    const id = await add(canner)
    expect(textAt(await app.getPage(`/equipment/${id}/removal`), 'h1')).toBe('Remove blue enamel canner')
    expect(await app.postTaken(`/equipment/${id}/removal`, {})).toBe('/equipment')
    expect(await app.prisma.equipment.count({ where: { coopId: app.coopId } })).toBe(0)
  })
})

describe('unknown equipment and that of another co-op', () => {
  test.each(['nowhere', 'their-canner', 'their-freezer'])('%s is not found', async (id) => {
    for (const path of [`/equipment/${id}`, `/equipment/${id}/removal`, `/api/equipment/${id}`]) {
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
    }
    const body = { kind: 'canner', name: 'mine now', count: 1, roomMl: null, aroundTheClock: false }
    expect((await app.call('PUT', `/api/equipment/${id}`, { ...body, version: 1 })).statusCode).toBe(404)
    expect((await app.call('DELETE', `/api/equipment/${id}`)).statusCode).toBe(404)
  })
})

describe('the calls', () => {
  const unsaid = {
    holds: {},
    comeUpMinutes: null,
    coolDownMinutes: null,
    burners: null,
    fromMinute: null,
    toMinute: null,
  }
  const none = { gauge: null, insideWidthMm: null, insideHeightMm: null, ...unsaid }
  const body = { kind: 'freezer', name: 'chest freezer', count: 1, roomMl: 180_000, aroundTheClock: true, ...none }

  test('take and tell what a canner is', async () => {
    const dial = { kind: 'pressure-canner', name: 'sixteen quarts', count: 1, roomMl: null, aroundTheClock: false }
    const more = { gauge: 'dial', insideWidthMm: 305, insideHeightMm: null }
    const added = await app.call('POST', '/api/equipment', { ...dial, gauge: 'dial', insideWidthMm: 305 })
    expect([added.statusCode, added.json()]).toMatchObject([201, { ...dial, ...more }])
  })

  test('add, read, change and remove', async () => {
    const added = await app.call('POST', '/api/equipment', body)
    expect(added.statusCode).toBe(201)
    const { id } = added.json()
    expect(added.json()).toEqual({ ...body, id, outOn: [], version: 1 })
    expect((await app.call('GET', '/api/equipment')).json()).toEqual({ equipment: [added.json()] })
    const changed = await app.call('PUT', `/api/equipment/${id}`, { ...body, count: 2, version: 1 })
    expect([changed.statusCode, changed.json()]).toEqual([200, { ...body, id, count: 2, outOn: [], version: 2 }])
    expect((await app.call('PUT', `/api/equipment/${id}`, { ...body, version: 1 })).statusCode).toBe(409)
    const removed = await app.call('DELETE', `/api/equipment/${id}`)
    expect([removed.statusCode, removed.payload]).toEqual([204, ''])
    expect((await app.call('GET', `/api/equipment/${id}`)).statusCode).toBe(404)
  })

  test('add once under one Idempotency-Key', async () => {
    const key = { 'idempotency-key': 'equipment-0001' }
    const first = await app.call('POST', '/api/equipment', body, key)
    const second = await app.call('POST', '/api/equipment', body, key)
    expect(second.json()).toEqual(first.json())
    expect(await app.prisma.equipment.count({ where: { coopId: app.coopId } })).toBe(1)
  })

  test.each([
    [{ ...body, count: 0 }, 400, 'count'],
    [{ ...body, count: 1.5 }, 400, 'count'],
    [{ ...body, roomMl: -1 }, 400, 'roomMl'],
    [{ ...body, name: '\u0000' }, 400, 'name'],
    [{ ...body, kind: 'spoon' }, 400, 'kind'],
    [{ ...body, colour: 'blue' }, 400, 'body'],
    [{ ...body, roomMl: null }, 422, 'roomMl'],
    [{ ...body, insideWidthMm: 79 }, 400, 'insideWidthMm'],
    [{ ...body, insideWidthMm: 300 }, 422, 'insideWidthMm'],
    [{ ...body, gauge: 'dial' }, 422, 'gauge'],
    [{ ...body, kind: 'pressure-canner', roomMl: null }, 422, 'gauge'],
  ])('refuse %o', async (wrong, status, field) => {
    const answer = await app.call('POST', '/api/equipment', wrong)
    expect(answer.statusCode).toBe(status)
    expect(Object.keys(answer.json().error.fields)).toEqual([field])
  })
})

test('the page of an unknown id says so in words', async () => {
  const answer = await app.app.inject({ url: '/equipment/nowhere', headers: { accept: 'text/html' } })
  expect(htmlOf(answer.payload)('main').text()).toContain('There is no such equipment here.')
})
