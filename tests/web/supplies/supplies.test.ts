import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

/** What is changed in a form that is right, and what is said about it. */
type Wrong = [part: Record<string, string>, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
// Supplies have entries on the shelf that nothing erases: out of the lists, their short names free again.
beforeEach(() => app.prisma.$executeRaw`UPDATE "Supply" SET "gone" = true, "key" = "id" WHERE "coopId" = ${app.coopId}`)

const lids = { name: 'Wide lids', unit: 'lid', onHand: '34', packSize: '12', packPriceMinor: '4.20', packsAtMost: '5' }
const sugar = { name: 'sugar', unit: 'g', onHand: '9 kg', packSize: '2 kg', packPriceMinor: '2,60', packsAtMost: '0' }

async function add(fields: Record<string, string>): Promise<string> {
  await app.postTaken('/supplies', fields, { from: '/supplies/new' })
  return (
    await app.prisma.supply.findFirstOrThrow({ where: { coopId: app.coopId, gone: false, name: fields['name'] ?? '' } })
  ).id
}
const row = (id: string) => app.prisma.supply.findFirstOrThrow({ where: { id } })

describe('adding a supply', () => {
  test('makes the short name from the name, and reads weights and money as they are typed', async () => {
    expect(await row(await add(lids))).toMatchObject({ key: 'wide-lids', onHand: 34, packPriceMinor: 420 })
    expect(await row(await add(sugar))).toMatchObject({
      key: 'sugar',
      onHand: 9000,
      packSize: 2000,
      packPriceMinor: 260,
    })
    expect(await row(await add({ ...lids, name: 'others', key: 'lid' }))).toMatchObject({ key: 'lid' })
  })

  test('takes the key that another co-op has, and refuses one that is ours', async () => {
    await add({ ...lids, key: 'lid' })
    const $ = await app.postRefused('/supplies', { ...lids, name: 'more lids', key: 'lid' }, { from: '/supplies/new' })
    expect(problemsIn($)).toEqual(['Recipes know another supply as “lid” already: choose another short name'])
    expect(formFields($)).toMatchObject({ name: 'more lids', key: 'lid' })
  })

  test.each<Wrong>([
    [{ name: '' }, 'Enter a name, like “pint jars”'],
    [{ name: '🍯' }, 'Enter a short name in small letters, like “jar-pint”'],
    [{ key: 'Pint Jar' }, 'Use small letters, digits and hyphens, like “jar-pint”'],
    [{ unit: 'cup' }, 'Choose in what it is counted'],
    ...['', '-1', '1.5', '9 kg', 'NaN', '99999999999', '🥫'].map(
      (onHand): Wrong => [{ onHand }, 'Enter an amount from 0, like 12'],
    ),
    [{ packSize: '0' }, 'Enter an amount from 1, like 12'],
    ...['-4', 'free', '1.234'].map(
      (packPriceMinor): Wrong => [{ packPriceMinor }, 'Enter the price of a pack, like 4.50'],
    ),
    [{ packsAtMost: '-1' }, 'Enter how many packs may be bought, 0 for none'],
  ])('refuses %o and keeps what was typed', async (part, words) => {
    const fields = { ...lids, ...part }
    const $ = await app.postRefused('/supplies', fields, { from: '/supplies/new' })
    expect(problemsIn($)).toEqual([words])
    const { name, onHand, packSize } = formFields($)
    expect({ name, onHand, packSize }).toEqual({ name: fields.name, onHand: fields.onHand, packSize: fields.packSize })
  })
})

describe('the list', () => {
  test('shows what is there, what a pack costs, and how many recipes name it', async () => {
    await add({ ...lids, onHand: '0' })
    await add(sugar)
    await app.prisma.recipe.create({
      data: { coopId: app.coopId, id: 'jam', name: 'Jam', method: 'water-bath-canned', definition: jamDocument },
    })
    const $ = await app.getPage('/supplies')
    await app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } })
    expect(textAt($, '.lead')).toBe('2 supplies; used up: Wide lids.')
    expect(rowsAt($, 'table').slice(1)).toEqual([
      ['sugar', '', '2 kg for £2.60', 'none', '1'],
      ['Wide lids', '', '12 for £4.20', '5 packs', '0'],
    ])
    expect(textsAt($, 'main code')).toEqual(['jar-half-pint'])
  })

  test('saves counts, only those that differ, and reads weights', async () => {
    const id = await add(sugar)
    const other = await add(lids)
    await emptyHistory(app.prisma)
    await app.postTaken('/supplies/counts', { [`onHand.${id}`]: '7.5 kg' }, { from: '/supplies' })
    expect(await row(id)).toMatchObject({ onHand: 7500, version: 2 })
    expect(await row(other)).toMatchObject({ onHand: 34, version: 1 })
    expect(textAt(await app.getPage('/supplies'), '.foot')).toMatch(
      /^Last change: sugar: 7500 g on hand\. Rosalind Pike/,
    )
  })

  test('refuses a wrong count at its field and keeps the others', async () => {
    const id = await add(sugar)
    const other = await add(lids)
    const counts = { [`onHand.${id}`]: 'some', [`onHand.${other}`]: '33' }
    const $ = await app.postRefused('/supplies/counts', counts, { from: '/supplies' })
    expect(problemsIn($)).toEqual(['Enter an amount from 0, like “2 kg” or “450”'])
    expect(formFields($)).toMatchObject(counts)
    expect(await row(other)).toMatchObject({ onHand: 34 })
  })

  test('refuses a count where somebody counted meanwhile, and tells what they found', async () => {
    const id = await add(lids)
    const shown = { [`shown.${id}`]: '34' }
    await app.postTaken('/supplies/counts', { [`onHand.${id}`]: '30' }, { from: '/supplies' })
    const late = await app.postForm('/supplies/counts', { ...shown, [`onHand.${id}`]: '31' }, { from: '/supplies' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(textsAt($, '.refused li')[0]).toMatch(/^Somebody counted Wide lids meanwhile and found 30\./)
    expect(formFields($)).toMatchObject({ [`onHand.${id}`]: '31', [`shown.${id}`]: '30' })
    expect(await row(id)).toMatchObject({ onHand: 30 })
  })
})

describe('changing and removing', () => {
  test('keeps the short name, whatever the name becomes', async () => {
    const id = await add(sugar)
    expect(formFields(await app.getPage(`/supplies/${id}`))).toMatchObject({ onHand: '9 kg', packPriceMinor: '2.60' })
    await app.postTaken(`/supplies/${id}`, { name: 'cane sugar', key: 'other' })
    expect(await row(id)).toMatchObject({ name: 'cane sugar', key: 'sugar', version: 2 })
  })

  test('refuses a save that read an older state', async () => {
    const id = await add(lids)
    await app.call('PUT', `/api/supplies/${id}/on-hand`, { onHand: 2 })
    expect((await app.postForm(`/supplies/${id}`, { version: '1' })).statusCode).toBe(409)
  })

  test('one that was removed comes back with its ledger', async () => {
    const id = await add({ ...lids, key: 'lid' })
    await app.postTaken(`/supplies/${id}/removal`, {})
    expect(await add({ ...lids, name: 'new lids', key: 'lid', onHand: '40' })).toBe(id)
    const entries = await app.prisma.shelfEntry.findMany({ where: { supplyId: id }, orderBy: { order: 'asc' } })
    expect(entries.map(({ units }) => units)).toEqual([34, 6])
    expect(await row(id)).toMatchObject({ onHand: 40, gone: false })
  })

  test('asks before it removes', async () => {
    const id = await add(lids)
    expect(textAt(await app.getPage(`/supplies/${id}/removal`), 'h1')).toBe('Remove Wide lids')
    await app.postTaken(`/supplies/${id}/removal`, {})
    expect(await app.prisma.supply.count({ where: { coopId: app.coopId, gone: false } })).toBe(0)
  })
})

describe('the calls', () => {
  const body = { key: 'lid', name: 'lids', unit: 'lid', onHand: 3, packSize: 12, packPriceMinor: 420, packsAtMost: 2 }

  test('add, change, count and remove', async () => {
    const added = await app.call('POST', '/api/supplies', body)
    const { id } = added.json()
    expect([added.statusCode, added.json()]).toEqual([201, { id, ...body, version: 1 }])
    const { key: _, ...values } = body
    const changed = await app.call('PUT', `/api/supplies/${id}`, { ...values, name: 'caps', version: 1 })
    expect(changed.json()).toMatchObject({ name: 'caps', key: 'lid', version: 2 })
    expect((await app.call('PUT', `/api/supplies/${id}/on-hand`, { onHand: 9 })).json()).toMatchObject({ onHand: 9 })
    expect((await app.call('POST', '/api/supplies', body)).statusCode).toBe(422)
    expect((await app.call('DELETE', `/api/supplies/${id}`)).statusCode).toBe(204)
  })

  test.each([{ onHand: -1 }, { onHand: 1.5 }, { onHand: 1e12 }, { onHand: 'NaN' }, {}])(
    'refuse %o on hand',
    async (wrong) => {
      const { id } = (await app.call('POST', '/api/supplies', body)).json()
      expect((await app.call('PUT', `/api/supplies/${id}/on-hand`, wrong)).statusCode).toBe(400)
    },
  )

  test('do not find what is unknown or another co-op’s', async () => {
    for (const id of ['nowhere', 'their-lids']) {
      expect((await app.app.inject({ url: `/supplies/${id}` })).statusCode).toBe(404)
      expect((await app.call('PUT', `/api/supplies/${id}/on-hand`, { onHand: 0 })).statusCode).toBe(404)
      expect((await app.call('DELETE', `/api/supplies/${id}`)).statusCode).toBe(404)
    }
    expect((await row('their-lids')).onHand).toBe(5)
  })
})

const jamDocument = {
  inputs: [{ from: { crop: 'damson' }, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [] }],
  packs: [
    {
      key: 'half-pint',
      unit: 'half-pint',
      units: 'half-pints',
      gramsPerUnit: 190,
      worthMinor: 330,
      runs: [],
      workPerUnit: {},
      machineMinutesPerUnit: {},
      supplies: { 'jar-half-pint': 1, sugar: 165 },
      freezerMl: 0,
      makes: null,
    },
  ],
  workPerKg: {},
  cautions: [],
  source: 'ours',
}
