import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

/** What is changed in a form that is right, and what is said about it. */
type Wrong = [part: Record<string, string | string[]>, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.outlet.deleteMany({ where: { coopId: app.coopId } })
  await app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } })
})

const pigs = {
  kind: 'feed',
  name: 'two pigs',
  capacityGrams: '55 lb',
  worthPerKgMinor: '0.05',
  takesProduce: 'yes',
  crops: 'Apples, damson, apple',
  classes: ['soft', 'ripe'],
  materials: ['pomace', 'peels-cores'],
  open: 'yes',
}
const ofOurs = () => ({ where: { coopId: app.coopId } })

async function add(fields: Record<string, string | string[]>): Promise<string> {
  await app.postTaken('/outlets', fields, { from: '/outlets/new' })
  return (await app.prisma.outlet.findFirstOrThrow({ where: { coopId: app.coopId, name: String(fields['name']) } })).id
}

async function order(): Promise<string[]> {
  const rows = await app.prisma.outlet.findMany({ ...ofOurs(), orderBy: { rank: 'asc' } })
  expect(rows.map((row) => row.rank)).toEqual(rows.map((_, place) => place + 1))
  return rows.map((row) => row.name)
}

describe('adding an outlet', () => {
  test('reads weights in any unit, crops by name, each once', async () => {
    const id = await add(pigs)
    expect(await app.prisma.outlet.findFirstOrThrow({ where: { id } })).toMatchObject({
      kind: 'feed',
      rank: 1,
      capacityGrams: 24_948,
      worthPerKgMinor: 5,
      takesProduce: true,
      crops: ['apple', 'damson'],
      classes: ['ripe', 'soft'],
      materials: ['peels-cores', 'pomace'],
      open: true,
      version: 1,
    })
  })

  test('takes no capacity as any amount', async () => {
    await add({ ...pigs, capacityGrams: '', crops: '' })
    const $ = await app.getPage('/outlets')
    expect(textAt($, '.ranked li p:first-of-type')).toBe('feed; any amount; £0.05 a kilogram')
    expect(textAt($, '.ranked li .quiet')).toBe('Takes any crop (ripe, soft); peels and cores; pomace')
  })

  test.each<Wrong>([
    [{ kind: 'river' }, 'Choose what kind it is'],
    [{ name: '' }, 'Enter a name, like “compost behind the hall”'],
    ...['-3 kg', '0 kg', '20', 'much', '51 t', 'NaN kg', '🐖'].map(
      (capacityGrams): Wrong => [{ capacityGrams }, 'Enter a weight, like “20 kg”, or leave it empty for any amount'],
    ),
    ...['', '-1', '1.234', 'free', '99999999'].map(
      (worthPerKgMinor): Wrong => [
        { worthPerKgMinor },
        'Enter what a kilogram there is worth, like 0.25; 0 for nothing',
      ],
    ),
    [
      { crops: 'apples, moonfruit' },
      'No crop here is called “moonfruit”: write crops with commas between, or nothing for any',
    ],
    [{ classes: ['mouldy'] }, 'Choose classes from the list'],
    [{ materials: ['gold'] }, 'Choose trim and juices from the list'],
    [{ classes: [] }, 'Choose at least one class of the produce that it takes'],
    [{ takesProduce: '', materials: [] }, 'Say what it takes: whole produce, or some trim below'],
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const $ = await app.postRefused('/outlets', { ...pigs, ...part }, { from: '/outlets/new' })
    expect(problemsIn($)).toEqual([words])
    const kept = formFields($, 'main form')
    expect(kept['name'] ?? '').toBe({ ...pigs, ...part }.name)
    expect(kept['crops'] ?? '').toBe({ ...pigs, ...part }.crops)
    expect(await app.prisma.outlet.count(ofOurs())).toBe(0)
  })
})

describe('changing an outlet', () => {
  test('fills the form in with what is there; saving it untouched changes nothing', async () => {
    const id = await add(pigs)
    const before = (await app.call('GET', `/api/outlets/${id}`)).json()
    expect(formFields(await app.getPage(`/outlets/${id}`))).toMatchObject({
      capacityGrams: '24.948 kg',
      worthPerKgMinor: '0.05',
      crops: 'apples, damsons',
      classes: ['ripe', 'soft'],
    })
    await app.postTaken(`/outlets/${id}`, {})
    expect((await app.call('GET', `/api/outlets/${id}`)).json()).toEqual({ ...before, version: 2 })
  })

  test('closes it, and the page says so', async () => {
    const id = await add(pigs)
    await app.postTaken(`/outlets/${id}`, { open: [] })
    const $ = await app.getPage('/outlets')
    expect(textAt($, '.lead')).toBe('All outlets are closed.')
    expect(textAt($, '.ranked strong')).toBe('closed')
  })

  test('refuses a save that read an older state', async () => {
    const id = await add(pigs)
    await app.postTaken(`/outlets/${id}`, { name: 'first' })
    const late = await app.postForm(`/outlets/${id}`, { name: 'second', version: '1' })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ name: 'second', version: '2' })
  })

  test('keeps a material that no recipe makes any more', async () => {
    const id = await add(pigs)
    await app.prisma.outlet.updateMany({ where: { id }, data: { materials: ['pear-juice'] } })
    expect(formFields(await app.getPage(`/outlets/${id}`))['materials']).toBe('pear-juice')
  })
})

describe('the order of use', () => {
  beforeEach(async () => {
    for (const name of ['press', 'barrel', 'compost']) await add({ ...pigs, name })
  })

  test('is the order of adding at first', async () => {
    expect(await order()).toEqual(['press', 'barrel', 'compost'])
    expect(textAt(await app.getPage('/outlets'), '.lead')).toBe('First press, then barrel, at last compost.')
  })

  test('moves up and down by the buttons of the page, and the ends have one button only', async () => {
    const $ = await app.getPage('/outlets')
    expect(textsAt($, '.ranked li:first-child button')).toEqual(['Later'])
    expect(textsAt($, '.ranked li:last-child button')).toEqual(['Earlier'])
    const id = (await app.prisma.outlet.findFirstOrThrow({ where: { name: 'compost', coopId: app.coopId } })).id
    const rank = $(`form[action="/outlets/${id}/rank"] button`).attr('value') ?? ''
    await app.postTaken(`/outlets/${id}/rank`, { rank }, { from: '/outlets' })
    expect(await order()).toEqual(['press', 'compost', 'barrel'])
  })

  test('takes any rank by a call, and puts what is beyond the last at the end', async () => {
    const id = (await app.prisma.outlet.findFirstOrThrow({ where: { name: 'press', coopId: app.coopId } })).id
    expect((await app.call('PUT', `/api/outlets/${id}/rank`, { rank: 99 })).json().rank).toBe(3)
    expect(await order()).toEqual(['barrel', 'compost', 'press'])
    for (const rank of [0, -1, 1.5, '1', null]) {
      expect((await app.call('PUT', `/api/outlets/${id}/rank`, { rank })).statusCode).toBe(400)
    }
  })

  test('stays whole when two move at the same moment', async () => {
    const rows = await app.prisma.outlet.findMany({ ...ofOurs(), orderBy: { rank: 'asc' } })
    await Promise.all(rows.map(({ id }) => app.call('PUT', `/api/outlets/${id}/rank`, { rank: 1 })))
    expect((await order()).toSorted()).toEqual(['barrel', 'compost', 'press'])
  })

  test('closes up after a removal', async () => {
    const id = (await app.prisma.outlet.findFirstOrThrow({ where: { name: 'press', coopId: app.coopId } })).id
    await app.postTaken(`/outlets/${id}/removal`, {})
    const names = (await app.prisma.outlet.findMany({ ...ofOurs(), orderBy: { rank: 'asc' } })).map((row) => row.name)
    expect(names).toEqual(['barrel', 'compost'])
  })
})

test('an unknown outlet and that of another co-op are not found', async () => {
  const body = {
    kind: 'feed',
    name: 'x',
    capacityGrams: null,
    worthPerKgMinor: 0,
    takesProduce: true,
    crops: [],
    classes: ['soft'],
    materials: [],
    open: true,
  }
  for (const id of ['nowhere', 'their-pigs']) {
    expect((await app.app.inject({ url: `/outlets/${id}` })).statusCode).toBe(404)
    expect((await app.app.inject({ url: `/outlets/${id}/removal` })).statusCode).toBe(404)
    expect((await app.call('PUT', `/api/outlets/${id}`, { ...body, version: 1 })).statusCode).toBe(404)
    expect((await app.call('PUT', `/api/outlets/${id}/rank`, { rank: 1 })).statusCode).toBe(404)
    expect((await app.call('DELETE', `/api/outlets/${id}`)).statusCode).toBe(404)
  }
  expect(await app.prisma.outlet.count({ where: { id: 'their-pigs', name: 'their pigs', rank: 1 } })).toBe(1)
})

test('the calls refuse a crop that is not known', async () => {
  const body = {
    kind: 'feed',
    name: 'x',
    capacityGrams: 5,
    worthPerKgMinor: 0,
    takesProduce: true,
    crops: ['moonfruit'],
    classes: ['soft'],
    materials: [],
    open: true,
  }
  const answer = await app.call('POST', '/api/outlets', body)
  expect([answer.statusCode, Object.keys(answer.json().error.fields)]).toEqual([422, ['crops']])
})
