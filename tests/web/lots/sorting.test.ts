import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt } from '../../support/html.ts'
import { forgetLots, takeIn } from './lots.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())
beforeEach(() => forgetLots(app))

const none = { firm: '', ripe: '', soft: '', damaged: '', setAside: '', lost: '' }

async function sort(id: string, fields: Record<string, string>): Promise<string> {
  return app.postTaken(`/lots/${id}/sortings`, { ...none, ...fields }, { from: `/lots/${id}/sortings/new` })
}

async function refuseSort(id: string, fields: Record<string, string>) {
  return app.postRefused(`/lots/${id}/sortings`, { ...none, ...fields }, { from: `/lots/${id}/sortings/new` })
}

async function newest(lotId: string) {
  const {
    id: _,
    coopId: __,
    createdAt: ___,
    ...row
  } = await app.prisma.sorting.findFirstOrThrow({
    where: { lotId },
    orderBy: { createdAt: 'desc' },
  })
  return row
}

describe('by weight', () => {
  test('takes each part in any unit, and the sum becomes the new truth', async () => {
    const id = await takeIn(app)
    expect(await sort(id, { firm: '12 kg', ripe: '22 lb', soft: '1/4 bushel', setAside: '500 g', lost: '0' })).toBe(
      `/lots/${id}`,
    )
    expect(await newest(id)).toMatchObject({
      firmGrams: 12_000,
      ripeGrams: 9_979,
      softGrams: 5_443,
      damagedGrams: 0,
      setAsideGrams: 500,
      lostGrams: 0,
      how: 'weights',
      sortedBy: 'Rosalind Pike',
      sortedOn: new Date('2026-09-11T00:00:00Z'),
    })
    const $ = await app.getPage(`/lots/${id}`)
    expect(textAt($, 'figure.beam .drawing-finding')).toBe('Where 27.9 kg are today')
    // the clock of the tests stands still, so that the newest of two changes is either
    const changes = await app.prisma.change.findMany({ where: { coopId: app.coopId, noun: 'lot', nounId: id } })
    expect(changes.map(({ what }) => what).sort()).toEqual([
      'apples (Lane Russet) sorted by weight',
      'apples (Lane Russet) taken in, 25 kg',
    ])
  })

  test('asks for a tick when it is more than 15 % off what should be there, and keeps what was typed', async () => {
    const id = await takeIn(app)
    const $ = await refuseSort(id, { firm: '10 kg', ripe: '11.2 kg' })
    expect(problemsIn($)).toEqual([
      'These weights are 15.2 % less than should be there: weigh again, or tick that the scale says so',
    ])
    expect(formFields($)).toMatchObject({ how: 'weights', firm: '10 kg', ripe: '11.2 kg', version: '1' })
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(1)
    await sort(id, { firm: '10 kg', ripe: '11.2 kg', sure: 'yes' })
    expect(await newest(id)).toMatchObject({ firmGrams: 10_000, ripeGrams: 11_200 })
  })

  test.each([
    ['21.25 kg', true],
    ['21.249 kg', false],
    ['28.75 kg', true],
    ['28.751 kg', false],
  ])('of 25 kg, %s passes without a tick: %s', async (firm, passes) => {
    const id = await takeIn(app)
    const answer = await app.postForm(`/lots/${id}/sortings`, { ...none, firm }, { from: `/lots/${id}/sortings/new` })
    expect(answer.statusCode).toBe(passes ? 303 : 422)
  })

  test.each([
    [{}, 'Enter what you weighed, in one part at least'],
    [{ firm: '0', lost: '0 kg' }, 'Enter what you weighed, in one part at least'],
    [{ firm: '25' }, /^Enter the weight with its unit, like/],
    [{ firm: '-25 kg' }, /^Enter a weight above 0, like/],
    [{ firm: 'NaN' }, /^Enter the weight, like/],
    [{ lost: '🍎' }, /^Enter the weight, like/],
    [{ firm: '40 %' }, /^That unit is not known here/],
    [{ firm: '30 t', ripe: '30 t', sure: 'yes' }, 'Enter less than 50 tonnes in all'],
    [{ how: 'guess', firm: '25 kg' }, 'Choose by weight or by share'],
  ] as [Record<string, string>, string | RegExp][])('refuses %o', async (fields, words) => {
    const id = await takeIn(app)
    const $ = await refuseSort(id, fields)
    expect(problemsIn($)).toEqual([typeof words === 'string' ? words : expect.stringMatching(words)])
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(1)
  })
})

describe('by share', () => {
  test('divides what is there into whole grams that add up', async () => {
    const id = await takeIn(app, { weight: '10.001 kg' })
    await sort(id, { how: 'shares', firm: '33.3', ripe: '33.3 %', soft: '33.4 percent' })
    const { firmGrams, ripeGrams, softGrams, damagedGrams, setAsideGrams, lostGrams, how } = await newest(id)
    expect([firmGrams, ripeGrams, softGrams]).toEqual([3_330, 3_330, 3_341])
    expect(firmGrams + ripeGrams + softGrams + damagedGrams + setAsideGrams + lostGrams).toBe(10_001)
    expect(how).toBe('shares')
  })

  test.each([
    [{ firm: '50 %', ripe: '40 %' }, 'The shares add up to 90 %: make it 100 %'],
    [{ firm: '60 %', ripe: '50 %' }, 'The shares add up to 110 %: make it 100 %'],
    [{}, 'The shares add up to 0 %: make it 100 %'],
    [{ firm: '-5 %', ripe: '105 %' }, 'Enter a share from 0 to 100 %, like 40 %'],
    [{ firm: '5 kg' }, 'Enter a share from 0 to 100 %, like 40 %'],
    [{ firm: 'NaN' }, 'Enter a share from 0 to 100 %, like 40 %'],
  ] as [Record<string, string>, string][])('refuses %o and keeps what was typed', async (fields, words) => {
    const id = await takeIn(app)
    const $ = await refuseSort(id, { how: 'shares', ...fields })
    expect(new Set(problemsIn($))).toEqual(new Set([words]))
    expect(formFields($)).toMatchObject({ how: 'shares', ...fields })
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(1)
  })

  test('is refused when nothing is left to take shares of', async () => {
    const id = await takeIn(app)
    await sort(id, { lost: '25 kg' })
    const $ = await refuseSort(id, { how: 'shares', firm: '100 %' })
    expect(problemsIn($)[0]).toMatch(/^Sort by weight: after the last sorting there is nothing left/)
  })
})

describe('the history', () => {
  test('keeps every sorting, and what was set aside and lost stays counted', async () => {
    const id = await takeIn(app)
    await sort(id, { firm: '20 kg', setAside: '2 kg', lost: '3 kg', note: 'wet at the bottom' })
    await sort(id, { firm: '18 kg', lost: '2 kg' })
    expect(await newest(id)).toMatchObject({ firmGrams: 18_000, setAsideGrams: 2_000, lostGrams: 5_000 })
    const rows = rowsAt(await app.getPage(`/lots/${id}`), '#history-heading ~ .table table')
    expect(rows.slice(1).map((row) => row.slice(1))).toEqual([
      ['sorted by weight', '18 kg', '0 g', '0 g', '0 g', '2 kg', '5 kg', '0 g', 'Rosalind Pike'],
      ['sorted by weight: wet at the bottom', '20 kg', '0 g', '0 g', '0 g', '2 kg', '3 kg', '0 g', 'Rosalind Pike'],
      ['came in', '25 kg', '0 g', '0 g', '0 g', '0 g', '0 g', '0 g', 'Rosalind Pike'],
    ])
  })

  test('takes the last sorting back step by step, and shows that it did', async () => {
    const id = await takeIn(app)
    await sort(id, { ripe: '25 kg' })
    await sort(id, { soft: '25 kg' })
    const takeBack = () => app.postTaken(`/lots/${id}/sortings/reversal`, {}, { from: `/lots/${id}` })
    expect(await takeBack()).toBe(`/lots/${id}`)
    expect(await newest(id)).toMatchObject({ how: 'taken-back', ripeGrams: 25_000, softGrams: 0 })
    await takeBack()
    expect(await newest(id)).toMatchObject({ how: 'taken-back', firmGrams: 25_000, ripeGrams: 0 })
    const $ = await app.getPage(`/lots/${id}`)
    expect(rowsAt($, '#history-heading ~ .table table').map((row) => row[1])).toEqual([
      'How',
      'last sorting taken back',
      'last sorting taken back',
      'sorted by weight (taken back later)',
      'sorted by weight (taken back later)',
      'came in',
    ])
    expect($('form[action$="/reversal"]').length).toBe(0)
    const more = await app.call('POST', `/api/lots/${id}/sortings/reversal`, { version: 5 })
    expect([more.statusCode, more.json().error.message]).toEqual([
      422,
      'There is no sorting to take back: the last step was not one.',
    ])
  })

  test('ages from the day of the sorting that is in force again', async () => {
    const id = await takeIn(app, { arrivedOn: '2026-09-08' })
    const before = (await app.call('GET', `/api/lots/${id}`)).json().today
    await sort(id, { damaged: '25 kg' })
    await app.postTaken(`/lots/${id}/sortings/reversal`, {}, { from: `/lots/${id}` })
    expect((await app.call('GET', `/api/lots/${id}`)).json().today).toEqual(before)
  })
})

describe('somebody was quicker', () => {
  test('a sorting of an older state is answered 409, with the newest state and what was typed, and taken when sent again', async () => {
    const id = await takeIn(app)
    await sort(id, { ripe: '24 kg' })
    const late = { ...none, firm: '25 kg', version: '1' }
    const answer = await app.postForm(`/lots/${id}/sortings`, late, { from: `/lots/${id}/sortings/new` })
    expect(answer.statusCode).toBe(409)
    const $ = expectSoundPage(answer.payload)
    expect(problemsIn($)[0]).toMatch(/^Somebody changed this lot after you had opened it/)
    expect(formFields($)).toMatchObject({ firm: '25 kg', version: '2' })
    expect(textAt($, '.lead')).toMatch(/^24 kg should be there/)
    expect((await newest(id)).ripeGrams).toBe(24_000)
    await sort(id, { firm: '25 kg', version: '2' })
    expect((await newest(id)).firmGrams).toBe(25_000)
  })

  test('of two sortings of the same state at the same moment one is taken', async () => {
    const id = await takeIn(app)
    const body = { how: 'weights', version: 1, grams: { ripe: 25_000 } }
    const answers = await Promise.all([1, 2, 3].map(() => app.call('POST', `/api/lots/${id}/sortings`, body)))
    expect(answers.map((one) => one.statusCode).sort()).toEqual([201, 409, 409])
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(2)
  })

  test('the same sorting sent twice counts once', async () => {
    const id = await takeIn(app)
    const page = await app.getPage(`/lots/${id}/sortings/new`)
    const same = { firm: '25 kg', version: '1', _submission: String(formFields(page)['_submission']) }
    await sort(id, same)
    await sort(id, same)
    expect(await app.prisma.sorting.count({ where: { lotId: id } })).toBe(2)
  })
})
