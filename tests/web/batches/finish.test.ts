import { beforeEach, describe, expect, test } from 'vitest'
import { readBatchCode } from '../../../src/core/labels/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { neighboursId } from '../../support/neighbours.ts'
import { addTheirLot } from '../lots/lots.ts'
import { accountOf, plums, plumsForm, preserving, stockSupply, unequalStocks } from './kitchen.ts'

let app: TestApp
let lotId: string
beforeEach(async () => {
  app = await testApp()
  const made = await preserving(app)
  lotId = made.lotId
  return () => app.close()
})

async function finish(fields: Record<string, string> = {}, from = plumsForm): Promise<string> {
  return (await app.postTaken('/batches', { ...plums(lotId), ...fields }, { from })).replace('/batches/', '')
}
async function refuse(fields: Record<string, string>, from = plumsForm) {
  return app.postRefused('/batches', { ...plums(lotId), ...fields }, { from })
}
const batch = (id: string) => app.prisma.batch.findFirstOrThrow({ where: { id } })

describe('a batch without a plan', () => {
  test('is chosen by recipe and size, and its form says what is due at this altitude', async () => {
    const chosen = await app.getPage('/batches/new')
    expect(textsAt(chosen, 'select option')).toContain('Plums in light syrup, pints')
    const $ = await app.getPage(plumsForm)
    expect($('main').text()).toContain('25 minutes in a boiling-water canner at 640 m')
    expect(formFields($, 'form[method="post"]')).toMatchObject({
      units: '7',
      placeId: 'pantry',
      'supply.jar-pint': '7',
      'supply.lid': '7',
    })
  })

  test('goes out of lot and supplies, and onto the shelf with a code', async () => {
    await stockSupply(app, 'jars', 24)
    await stockSupply(app, 'lids', 24)
    await stockSupply(app, 'sugar', 5000)
    const before = await accountOf(app, lotId)
    const id = await finish()
    const made = await batch(id)
    expect(made).toMatchObject({
      number: 1,
      product: 'Plums in light syrup',
      variety: 'Czar',
      keeping: 'shelf',
      inGrams: 4200,
      units: 7,
      handMinutes: 95,
      bestBy: new Date('2027-09-11T00:00:00Z'),
    })
    expect(readBatchCode(made.code)).toMatchObject({ ok: true })
    const after = await accountOf(app, lotId)
    expect(after).toEqual({ how: 'used', usedGrams: 4200, whole: before.whole })
    const line = await app.prisma.jarBatch.findFirstOrThrow({ where: { batchId: id } })
    expect(line).toMatchObject({ placeId: 'pantry', householdId: null, stock: 7 })
    const onHand = new Map((await app.prisma.supply.findMany()).map(({ id: key, onHand: many }) => [key, many]))
    expect([onHand.get('jars'), onHand.get('lids')]).toEqual([17, 17])
    expect(onHand.get('sugar')).toBeLessThan(5000)
    expect(await unequalStocks(app)).toEqual([])

    const $ = await app.getPage(`/batches/${id}`)
    expect(textAt($, '.lead')).toBe('7 pints of 4.2 kg, made Fri, 11 Sept 2026. All of them are on the shelf.')
    expect(rowsAt($, '#in-heading ~ .table table')[1]).toEqual(['Plums (Czar), from Ines Odell', 'ripe', '4.2 kg'])
    expect($('main').text()).toContain('25 minutes; 25 minutes were due')
    expect($('main').text()).toContain('Pip Odell')
    const lot = await app.getPage(`/lots/${lotId}`)
    expect(textsAt(lot, '#batches-heading ~ .table tbody th')).toEqual([`Plums in light syrup, ${made.code}`])
    const sheet = await app.getPage(`/batches/${id}/record`)
    expect(sheet('main').text()).toContain('signature')
    expect(textsAt(await app.getPage('/batches?q=plums'), 'tbody td')[0]).toBe(made.code)
    expect((await app.getPage('/batches?q=nothing'))('tbody').length).toBe(0)
  })

  test('raises the count of a supply of which fewer were noted than used, and says so', async () => {
    await stockSupply(app, 'jars', 3)
    const id = await finish({ 'supply.lid': '0', 'supply.sugar': '0' })
    const entries = await app.prisma.shelfEntry.findMany({ where: { supplyId: 'jars' }, orderBy: { order: 'asc' } })
    expect(entries.map(({ kind, units, stockAfter }) => [kind, units, stockAfter])).toEqual([
      ['count', 3, 3],
      ['count', 4, 7],
      ['use', -7, 0],
    ])
    expect(await app.prisma.shelfEntry.count({ where: { supplyId: 'lids' } })).toBe(0)
    const $ = await app.getPage(`/batches/${id}`)
    expect($('main').text()).toContain('pint jars: 3 noted, 7 used, so the count was raised first')
  })

  test('counts once however often its form is sent', async () => {
    const page = await app.app.inject({ url: plumsForm })
    const { htmlOf } = await import('../../support/html.ts')
    const { cookiesOf, encodeFields } = await import('../../support/app.ts')
    const payload = encodeFields({ ...formFields(htmlOf(page.payload), 'form[method="post"]'), ...plums(lotId) })
    const send = () =>
      app.app.inject({
        method: 'POST',
        url: '/batches',
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          'sec-fetch-site': 'same-origin',
          cookie: cookiesOf(page),
        },
        payload,
      })
    const [first, second] = [await send(), await send()]
    expect([first.statusCode, second.statusCode]).toEqual([303, 303])
    expect(second.headers.location).toBe(first.headers.location)
    expect(await app.prisma.batch.count()).toBe(1)
    expect((await accountOf(app, lotId)).usedGrams).toBe(4200)
  })

  test('is asked for again where more was taken than should be there, and keeps what was typed', async () => {
    const $ = await refuse({ [`lot.${lotId}.ripe`]: '26 kg', note: 'a heap' })
    expect(problemsIn($).join(' ')).toContain('20 kg of the plums (Czar) should be ripe')
    expect(formFields($, 'form[method="post"]')).toMatchObject({
      [`lot.${lotId}.ripe`]: '26 kg',
      note: 'a heap',
      'process.reachedAt': '8:00',
    })
    expect(await app.prisma.batch.count()).toBe(0)
    const id = await finish({ [`lot.${lotId}.ripe`]: '26 kg', sure: 'yes' })
    expect(await batch(id)).toMatchObject({ number: 1, inGrams: 26_000 })
    expect(await accountOf(app, lotId)).toMatchObject({ usedGrams: 26_000, whole: 26_000 })
  })
})

describe('what another batch made', () => {
  test('goes into a jelly by units, and no more than there is', async () => {
    const { takeIn } = await import('../lots/lots.ts')
    const apples = await takeIn(app, { weight: '20 kg', class: 'ripe', storage: 'cold' })
    const juiceForm = '/batches/new?product=apple-juice-for-jelly%3Alitre'
    const juice = (
      await app.postTaken(
        '/batches',
        { [`lot.${apples}.ripe`]: '8 kg', units: '4', placeId: 'fridge' },
        { from: juiceForm },
      )
    ).replace('/batches/', '')
    const line = await app.prisma.jarBatch.findFirstOrThrow({ where: { batchId: juice } })
    const jellyForm = '/batches/new?product=apple-jelly%3Ahalf-pint&units=6'
    const {
      [`lot.${lotId}.ripe`]: _,
      'trim.stones-stems.grams': __,
      'trim.stones-stems.outlet': ___,
      ...rest
    } = plums(lotId)
    const jelly = {
      ...rest,
      units: '6',
      'process.endedAt': '8:30',
      [`jars.${line.id}.units`]: '3',
      'process.acid': 'yes',
    }
    const tooMany = await app.postForm('/batches', { ...jelly, [`jars.${line.id}.units`]: '5' }, { from: jellyForm })
    expect(tooMany.statusCode).toBe(409)
    expect(tooMany.payload).toContain('Only 4 of Apple juice for jelly are left here')
    const id = (await app.postTaken('/batches', jelly, { from: jellyForm })).replace('/batches/', '')
    expect(await app.prisma.jarBatch.findFirstOrThrow({ where: { id: line.id } })).toMatchObject({ stock: 1 })
    expect(await app.prisma.batchInput.findFirstOrThrow({ where: { batchId: id } })).toMatchObject({
      jarBatchId: line.id,
      units: 3,
    })
    expect(await unequalStocks(app)).toEqual([])
  })
})

describe('another co-op', () => {
  test('sees none of it, and its things are not found', async () => {
    await addTheirLot(app)
    const id = await finish()
    const own = await app.prisma.batch.findFirstOrThrow({ where: { id }, omit: { process: true } })
    const recipe = await app.prisma.recipe.findFirstOrThrow({ where: { id: own.recipeId } })
    const coopId = neighboursId
    await app.prisma.recipe.create({ data: { ...recipe, coopId, definition: {} } })
    await app.prisma.batch.create({ data: { ...own, coopId, id: 'their-batch' } })
    const body = { recipeId: 'plums-in-light-syrup', pack: 'pint', madeOn: '2026-09-11', units: 1, placeId: 'fridge' }
    const theirs = await app.call('POST', '/api/batches', {
      ...body,
      lots: [{ lotId: 'their-lot', class: 'ripe', grams: 100 }],
    })
    expect(theirs.statusCode).toBe(404)
    const place = await app.call('POST', '/api/batches', {
      ...body,
      placeId: 'no-such-place',
      lots: [{ lotId, class: 'ripe', grams: 100 }],
    })
    expect(place.statusCode).toBe(404)
    expect((await app.call('GET', `/api/batches/${id}`)).statusCode).toBe(200)
    expect((await app.app.inject({ url: '/batches/their-batch' })).statusCode).toBe(404)
    for (const path of ['/batches/their-batch/record', '/api/batches/their-batch'])
      expect((await app.app.inject({ url: path })).statusCode, path).toBe(404)
    const list = await app.call('GET', '/api/batches')
    expect(list.json().batches.map((one: { id: string }) => one.id)).toEqual([id])
    expect(await app.prisma.batch.count()).toBe(2)
  })
})

describe('a correction', () => {
  test('changes note, date, helpers and minutes, and no units', async () => {
    const id = await finish()
    await app.postTaken(`/batches/${id}`, {
      note: 'set well',
      bestBy: '2027-03-01',
      handMinutes: '100',
      helpers: ['pip', 'wilfred'],
    })
    expect(await batch(id)).toMatchObject({ note: 'set well', handMinutes: 100, units: 7, version: 2 })
    expect(await app.prisma.batchHelper.count({ where: { batchId: id } })).toBe(2)
    const $ = await app.postRefused(`/batches/${id}`, { bestBy: '2026-09-01' })
    expect(problemsIn($)).toEqual(['Enter a day that is not before it was made'])
    const stale = await app.postForm(`/batches/${id}`, { version: '1', note: 'older' })
    expect(stale.statusCode).toBe(409)
    expect(stale.payload).toContain('older')
  })
})
