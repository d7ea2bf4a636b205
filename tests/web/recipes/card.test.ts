import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, textAt, textsAt } from '../../support/html.ts'
import { figs, flourFilling, inHalfGallons, plums } from './typed-recipes.ts'

let app: TestApp
let ofFigs: string
let ofPlums: string
beforeAll(async () => {
  app = await testApp()
  await app.prisma.supply.create({
    data: {
      coopId: app.coopId,
      id: 'jars',
      key: 'jar-quart',
      name: 'quart jars',
      unit: 'piece',
      onHand: 0,
      packSize: 12,
      packPriceMinor: 1,
      packsAtMost: 9,
    },
  })
  ofFigs = await add(figs)
  ofPlums = await add({ ...plums, ...inHalfGallons })
})
afterAll(() => app?.close())

const add = (fields: Record<string, string>) => app.postTaken('/recipes', fields, { from: '/recipes/new' })

describe('the card of a tested recipe', () => {
  test('has the time, headspace, acid and source in its box', async () => {
    const $ = await app.getPage(`${ofFigs}/card`)
    // USDA 2015, Guide 2 p. 2-14: figs, quarts: 50, 55, 60, 65 minutes; 1/2 inch; 2 tablespoons of bottled lemon juice
    expect(textAt($, '.process-time')).toBe('55 minutes in a boiling-water canner, at 640 m')
    const facts = textsAt($, '.process-box .facts div')
    expect(facts).toContain('Headspace1/2 inch (13 mm)')
    expect(facts).toContain('Acid in each2 tablespoons of bottled lemon juice, or 1/2 teaspoon of citric acid')
    expect(facts.at(-1)).toMatch(/^SourceUSDA Complete Guide to Home Canning.*Guide 2 p\. 2-14/)
    expect(textAt($, '.source')).toMatch(/^Follows a tested process\. Figures: .* Version 1\.$/)
    expect($('main').text()).not.toMatch(/\bsafe/i)
  })

  test('is for one load where nothing is asked, and lists what goes in by the names the co-op has for it', async () => {
    const $ = await app.getPage(`${ofFigs}/card`)
    // 2 1/4 lb are 1,021 g; seven of them; 30 ml are measured for 2 tablespoons
    expect(textAt($, 'h1 + p')).toBe('7 quarts, water-bath canned, from 7.15 kg of raw weight.')
    expect(textsAt($, '.sheet-part:nth-of-type(2) li')).toEqual([
      'Figs7.15 kg',
      'Sugar65 g into each455 g',
      expect.stringMatching(/^Bottled lemon juice30 ml into each210 ml$/),
      'Lid7',
      'Quart jars7',
    ])
  })

  test('has the steps to tick off, with hands and minutes for so many jars', async () => {
    const $ = await app.getPage(`${ofFigs}/card?pack=quart&units=21`)
    expect(textAt($, 'h1 + p')).toBe('21 quarts, water-bath canned, from 21.4 kg of raw weight, in 3 × canner load.')
    // 2 minutes a kilogram of 21.4 kg; 8 minutes for each of 3 loads
    expect(textsAt($, '.sheet-part:nth-of-type(3) li')).toEqual([
      'Prick the plums on two sides Peeling and cutting: about 43 min',
      'Boil the canner load for the tested time The canner: about 24 min',
    ])
  })

  test('has blanks for what a load must write down, and the caution in one paragraph', async () => {
    const $ = await app.getPage(`${ofFigs}/card`)
    expect(textsAt($, '.blanks li')).toEqual([
      'Date',
      'Made by',
      'Canner',
      'Jars in',
      'Full boil at',
      'Boil lost, back at',
      'Heat off at',
      'Seals tried at, by',
      'Sealed',
      'Not sealed, went to',
    ])
    expect($('.blanks .blank').length).toBe(10)
    expect(textAt($, '.caution')).toMatch(
      /^Boiling syrup burns\. Boiling water and hot jars: adults only.*food authority/,
    )
  })
})

describe('the card of what may not stand on the shelf', () => {
  test('says so, gives no time and asks for no canner record', async () => {
    const path = await add(flourFilling)
    const $ = await app.getPage(`${path}/card`)
    expect(textAt($, '.sheet > p strong')).toBe('Departs from the tested process: not for the shelf.')
    expect(textsAt($, '.sheet > ul li').some((one) => one.includes('flour'))).toBe(true)
    expect($('.process-box').length).toBe(0)
    expect($('main').text()).not.toMatch(/\d+ minutes in a/)
    expect(textsAt($, '.blanks li')).toEqual(['Date', 'Made by', 'How many', 'Put where'])
  })

  test('is told by the size: the tested one beside it changes nothing', async () => {
    expect(textAt(await app.getPage(`${ofPlums}/card?pack=quart`), '.process-time')).toMatch(/^30 minutes/)
    const $ = await app.getPage(`${ofPlums}/card?pack=half-gallon`)
    expect(textAt($, '.sheet > p strong')).toBe('Departs from the tested process: not for the shelf.')
    expect(textAt($, '.source')).toMatch(/^Departs from the tested process\./)
    expect($('.process-box').length).toBe(0)
  })
})

test.each([
  ['pack=bucket', 404],
  ['units=0', 400],
  ['units=10001', 400],
  ['units=many', 400],
])('a card for %s is not there: %i', async (question, status) => {
  expect((await app.app.inject({ url: `${ofFigs}/card?${question}` })).statusCode).toBe(status)
})

describe('an older version', () => {
  test('shows the figures it had, and leads back to the one in force', async () => {
    const path = await add({ ...plums, name: 'Plums, less sweet' })
    await app.postTaken(
      path,
      { 'ingredients.0.perUnit': 'quart 30 g', name: 'Plums, hardly sweet' },
      { from: `${path}/edit` },
    )
    const list = await app.getPage(`${path}/versions`)
    expect(textsAt(list, '.index a')).toEqual(['Version 2, in force', 'Version 1'])
    expect(list('.index a').last().attr('href')).toBe(`${path}/versions/1`)

    const $ = await app.getPage(`${path}/versions/1`)
    expect(textAt($, 'h1')).toBe('Plums, less sweet')
    expect($('main').text()).toContain('65 g into each quart')
    expect($('main').text()).toContain('Version 1, made by Rosalind Pike')
    expect($('main').text()).toContain('Version 2 is in force.')
    expect($('main form').length, 'nothing can be changed in it').toBe(0)
    expect($('main').text()).not.toContain('30 g into each quart')
    expect((await app.getPage(path))('main').text()).toContain('30 g into each quart')
  })

  test('is told to programs as it was', async () => {
    const path = await add({ ...plums, name: 'Plums for programs' })
    await app.postTaken(path, { 'ingredients.0.perUnit': 'quart 30 g' }, { from: `${path}/edit` })
    const { versions } = (await app.call('GET', `/api${path}/versions`)).json()
    expect(versions).toEqual([
      expect.objectContaining({ version: 2, changedBy: 'Rosalind Pike' }),
      {
        version: 1,
        name: 'Plums for programs',
        method: 'water-bath-canned',
        changedBy: 'Rosalind Pike',
        at: '2026-09-11T09:00:00.000Z',
      },
    ])
    const first = (await app.call('GET', `/api${path}/versions/1`)).json()
    expect(first.definition.ingredients[0].perUnit).toEqual({ quart: 65 })
    expect((await app.call('GET', `/api${path}/versions/3`)).statusCode).toBe(404)
    expect((await app.call('GET', `/api${path}/versions/x`)).statusCode).toBe(400)
    const lost = await app.app.inject({ url: `${path}/versions/3` })
    expect(lost.statusCode).toBe(404)
    expectSoundPage(lost.payload)
  })
})
