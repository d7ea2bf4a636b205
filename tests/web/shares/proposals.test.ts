import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { TestApp } from '../../support/app.ts'
import { formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { sharingApp, sum } from './sharing.ts'

let app: TestApp
beforeAll(async () => {
  app = await sharingApp()
})
afterAll(() => app?.close())

const brought = {
  'household.hedger.kg': '30 kg',
  'household.moss.hours': '12:30',
  'household.pike.money': '7.50',
}
const propose = (fields: Record<string, string | string[]>) =>
  app.postTaken('/shares', { ...brought, ...fields }, { from: '/shares/new' })
const told = async (path: string) => (await app.call('GET', `/api${path}`)).json()

type Told = {
  question: { households: { id: string; points: number }[] }
  answer: {
    households: { id: string; units: Record<string, number>; owed: number; owedBefore: number }[]
    products: { id: string; left: number }[]
    picks: { householdId: string; picks: { code: string; units: number }[] }[]
  }
}

describe('a proposal', () => {
  test('begins with all shared jars and every household', async () => {
    const fields = formFields(await app.getPage('/shares/new'), 'form[action="/shares"][method=post]')
    expect(fields).toMatchObject({
      'product.damson-jam:half-pint.units': '10',
      'product.plum-chutney:pint.units': '7',
      'product.plum-chutney:pint.worth': '4.20',
      'household.moss.in': 'yes',
      'household.moss.kg': '0',
    })
  })

  test('gives out every jar, and what is owed adds up to nothing', async () => {
    const path = await propose({})
    const { question, answer }: Told = await told(path)
    expect(question.households.map(({ points }) => points)).toEqual([30, 12.5, 7.5])
    const given = (product: string) => sum(answer.households.map(({ units }) => units[product] ?? 0))
    expect([given('damson-jam:half-pint'), given('plum-chutney:pint')]).toEqual([10, 7])
    expect(sum(answer.households.map(({ owed }) => owed))).toBe(0)
    // by hand: 10 x 3.50 + 7 x 4.20 = 64.40, of which 60 %, 25 % and 15 % are 38.64, 16.10 and 9.66. Chutney first:
    // 4.2, 1.75 and 1.05 jars, so 4, 2 and 1; then 21.84, 7.70 and 5.46 are due in jam: 6.24, 2.2 and 1.56 jars
    expect(answer.households).toMatchObject([
      { id: 'hedger', units: { 'damson-jam:half-pint': 6, 'plum-chutney:pint': 4 }, owed: 84 },
      { id: 'moss', units: { 'damson-jam:half-pint': 2, 'plum-chutney:pint': 2 }, owed: 70 },
      { id: 'pike', units: { 'damson-jam:half-pint': 2, 'plum-chutney:pint': 1 }, owed: -154 },
    ])
  })

  test('shows the sums on its page', async () => {
    const $ = await app.getPage(await propose({}))
    expect(textAt($, '.lead')).toBe(
      '17 jars worth £64.40 for 3 households. Nobody is further from their part than £1.54, which counts the next time.',
    )
    expect(rowsAt($, '[aria-label="Who gets what"] table')[1]).toEqual([
      'Hedger',
      '10',
      '6 Damson jam, 4 Plum chutney',
      '£37.80',
      'nothing',
      'is owed £0.84',
      'Picking list of Hedger',
    ])
    expect(textsAt($, 'details summary')).toEqual([
      'What is due to each household',
      'Plum chutney: 7 pint jars, £4.20 each',
      'Damson jam: 10 half-pint jars, £3.50 each',
    ])
    const sums = $('details')
      .eq(2)
      .find('tbody tr')
      .toArray()
      .map((row) =>
        $(row)
          .find('td')
          .toArray()
          .map((td) => $(td).text()),
      )
    expect(sums).toEqual([
      ['£21.84', '6.24', '6', '0.24', '6', ''],
      ['£7.70', '2.2', '2', '0.2', '2', ''],
      ['£5.46', '1.56', '1', '0.56', '2', ''],
    ])
  })

  test('makes up for what a household declines, and takes the oldest first', async () => {
    const { answer }: Told = await told(await propose({ 'household.hedger.declines': ['plum-chutney:pint'] }))
    const [hedger] = answer.households
    // 38.64 are due: eleven jars of jam, and there are ten
    expect(hedger).toMatchObject({ units: { 'damson-jam:half-pint': 10 }, owed: 364 })
    expect(sum(answer.households.map(({ owed }) => owed))).toBe(0)
    const list = answer.picks.find(({ householdId }) => householdId === 'hedger')
    expect(list?.picks.map(({ code, units }) => [code, units])).toEqual([
      ['OLD1', 4],
      ['NEW1', 6],
    ])
  })

  test('leaves in stock what everybody declines', async () => {
    const all = ['hedger', 'moss', 'pike'].map((id) => [`household.${id}.declines`, ['plum-chutney:pint']])
    const path = await propose(Object.fromEntries(all))
    const { answer }: Told = await told(path)
    expect(answer.products.find(({ id }) => id === 'plum-chutney:pint')?.left).toBe(7)
    expect(textsAt(await app.getPage(path), '[aria-labelledby=left-heading] li')[0]).toMatch(
      /^Plum chutney: 7 pint jars/,
    )
  })

  test('is worked out anew in place of the first, with everything as it was', async () => {
    const first = await propose({ name: 'harvest', 'product.plum-chutney:pint.units': '3' })
    const from = `/shares/new?like=${first.split('/').at(-1)}`
    const fields = formFields(await app.getPage(from), 'form[action="/shares"][method=post]')
    expect(fields).toMatchObject({
      ...{ name: 'harvest', 'product.plum-chutney:pint.units': '3' },
      ...{ 'household.hedger.kg': '30 kg', 'household.moss.hours': '12:30', 'household.pike.money': '7.50' },
    })
    await app.postTaken('/shares', { 'product.plum-chutney:pint.units': '2' }, { from })
    expect((await told(first)).state).toBe('dropped')
  })

  test.each([
    [{ 'product.damson-jam:half-pint.units': '11' }, 'Only 10 of Damson jam can be shared out: enter no more'],
    [{ 'product.damson-jam:half-pint.units': '2.5' }, 'Enter how many of Damson jam: a whole number, 0 or more'],
    [{ 'product.damson-jam:half-pint.worth': 'much' }, 'Enter what one of Damson jam counts for, like 3.50'],
    [{ 'household.hedger.kg': '30' }, 'Enter what Hedger brought with its unit, like 12 kg or 27 lb, or 0'],
    [{ 'household.moss.hours': '7:75' }, 'Enter the hours of Moss like 7, 7.5 or 7:30'],
    [{ 'household.pike.money': '-3' }, 'Enter what Pike paid, like 12 or 12.50'],
    [{ 'household.pike.declines': ['their-jam:pint'] }, 'Choose from the list'],
    [{ name: '' }, 'Enter a name, like “harvest shares”'],
    [
      { 'product.damson-jam:half-pint.units': '0', 'product.plum-chutney:pint.units': '' },
      'Enter how many jars are shared out: at least one.',
    ],
  ])('is refused with %o, and what was typed is kept', async (fields, words) => {
    const sent = { ...brought, ...fields }
    const $ = await app.postRefused('/shares', sent, { from: '/shares/new' })
    expect(problemsIn($)).toEqual([words])
    expect($('[name="household.moss.hours"]').attr('value')).toBe(sent['household.moss.hours'])
  })

  test('needs somebody to share with', async () => {
    const nobody = { 'household.hedger.in': '', 'household.moss.in': '', 'household.pike.in': '' }
    const $ = await app.postRefused('/shares', nobody, { from: '/shares/new' })
    expect(problemsIn($)).toEqual(['Choose at least one household that takes part.'])
  })

  test('does not offer recalled jars', async () => {
    const other = await sharingApp()
    await other.prisma.batch.updateMany({
      where: { coopId: other.coopId, code: 'CHU1' },
      data: { recalledAt: new Date() },
    })
    const $ = await other.getPage('/shares/new')
    expect(textsAt($, '[aria-labelledby=jars-heading] legend')).toEqual([
      'Damson jam 10 half-pint jars in shared stock',
    ])
    await other.close()
  })
})

describe('ten jars among six households', () => {
  // The usual example of 100,000 votes and 10 seats (from memory); by Jefferson done by hand from its quotients
  const votes = { a: 47_000, b: 16_000, c: 15_900, d: 12_000, e: 6_000, f: 3_100 }
  test.each([
    ['largest-remainder', [5, 2, 1, 1, 1, 0]],
    ['jefferson', [5, 2, 2, 1, 0, 0]],
  ])('by %s are %o', async (method, jars) => {
    const { coopId, prisma } = app
    await prisma.household.createMany({
      data: Object.keys(votes).map((id) => ({ coopId, id, name: id.toUpperCase() })),
      skipDuplicates: true,
    })
    const { version } = await told('/shares/rule')
    const rule = { method, pointsPerKg: 1, pointsPerHour: 1, pointsPerMoney: 1, byNeedPercent: 0, version }
    expect((await app.call('PUT', '/api/shares/rule', rule)).statusCode).toBe(200)
    const made = await app.call('POST', '/api/shares', {
      products: [{ recipeId: 'damson-jam', pack: 'half-pint', units: 10, worthMinor: 1000 }],
      households: Object.entries(votes).map(([id, grams]) => ({ id, grams })),
    })
    expect(made.statusCode, made.payload).toBe(201)
    const { id, answer }: Told & { id: string } = made.json()
    expect(answer.households.map(({ units }) => units['damson-jam:half-pint'] ?? 0)).toEqual(jars)
    await app.getPage(`/shares/${id}`)
  })
})
