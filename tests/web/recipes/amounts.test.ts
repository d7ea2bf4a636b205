import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { scaleRecipe } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, type Html, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { figs, flourFilling, plums } from './typed-recipes.ts'

let app: TestApp
let ofPlums: string
let ofFigs: string
let ofFlour: string
beforeAll(async () => {
  app = await testApp()
  const supply = (
    key: string,
    name: string,
    unit: string,
    onHand: number,
    packSize: number,
    packPriceMinor: number,
  ) => ({
    coopId: app.coopId,
    id: key,
    key,
    name,
    unit,
    onHand,
    packSize,
    packPriceMinor,
    packsAtMost: 9,
  })
  await app.prisma.supply.createMany({
    data: [
      supply('jar-quart', 'quart jars', 'piece', 20, 12, 1500),
      supply('lid', 'lids', 'piece', 100, 12, 300),
      supply('sugar', 'sugar', 'g', 985, 1000, 150),
    ],
  })
  const add = (fields: Record<string, string>) => app.postTaken('/recipes', fields, { from: '/recipes/new' })
  ofPlums = await add(plums)
  ofFigs = await add(figs)
  ofFlour = await add(flourFilling)
})
afterAll(() => app?.close())

const asked = (path: string, question: Record<string, string>) =>
  `${path}/amounts?${new URLSearchParams(question).toString()}`
const facts = ($: Html) => textsAt($, '.facts div')

describe('63 kg of plums at 2 lb (907 g) a quart', () => {
  const question = { pack: 'quart', by: 'weight', much: '63 kg' }

  test('are so many jars and loads, with what is left over, what goes in and what to buy', async () => {
    const $ = await app.getPage(asked(ofPlums, question))
    // 63,000 / 907 = 69.46: 69 jars of 62,583 g, 417 g over; 9 loads of 7 and one of 6; 69 times 65 g of sugar
    expect(textAt($, '.lead')).toBe('69 quarts from 62.6 kg of raw weight, and 417 g are left over.')
    expect(facts($)).toEqual(['Plums62.6 kg', 'Sugar4.49 kg (65 g into each)'])
    expect(textsAt($, 'main section ul li')).toEqual(['10 × canner load, the last one with 6 quarts'])
    expect(rowsAt($, 'table').slice(1)).toEqual([
      ['Lids', '69', '100', 'nothing'],
      ['Quart jars', '69', '20', '49 in 5 packs, £75.00'],
      ['Sugar', '4.49 kg', '985 g', '3.5 kg in 4 packs, £6.00'],
    ])
    expect($('.button.second').attr('href')).toBe(`${ofPlums}/card?pack=quart&units=69`)
  })

  test('are the same for programs', async () => {
    const answer = await app.call('GET', `/api${asked(ofPlums, question)}`)
    expect(answer.statusCode, answer.payload).toBe(200)
    expect(answer.json()).toMatchObject({
      pack: 'quart',
      units: 69,
      usedGrams: 62_583,
      leftGrams: 417,
      loads: [{ name: 'canner load', many: 10, unitsPerRun: 7, lastHolds: 6 }],
      inputs: [{ from: { crop: 'plum' }, leastGrams: 62_583, mostGrams: 62_583 }],
      ingredients: [{ name: 'sugar', exact: 4485, eachUnit: { exact: 65, amount: 65, words: '65 g' }, together: null }],
      putUpIn: { 'jar-quart': 69, lid: 69 },
      supplies: { 'jar-quart': 69, lid: 69, sugar: 4485 },
      shopping: [
        { key: 'lid', need: 69, onHand: 100, toBuy: 0, packs: 0, costMinor: 0, short: 0 },
        { key: 'jar-quart', need: 69, onHand: 20, toBuy: 49, packs: 5, costMinor: 7500, short: 0 },
        { key: 'sugar', need: 4485, onHand: 985, toBuy: 3500, packs: 4, costMinor: 600, short: 0 },
      ],
    })
  })

  test('are measured in cups for who cooks by them', async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
    try {
      const $ = await app.getPage(asked(ofFigs, { pack: 'quart', by: 'units', much: '7' }))
      // 2 tablespoons into each of 7 are 14 tablespoons
      expect(facts($).find((one) => one.startsWith('Bottled lemon juice'))).toMatch(/ \(2 tbsp into each\)$/)
    } finally {
      await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'metric' } })
    }
  })
})

describe('an amount', () => {
  test('is one full load where nothing was asked', async () => {
    const $ = await app.getPage(`${ofPlums}/amounts`)
    expect(textAt($, '.lead')).toBe('7 quarts from 6.35 kg of raw weight.')
    expect(textsAt($, 'main section ul li')).toEqual(['1 × canner load'])
    expect((await app.call('GET', `/api${ofPlums}/amounts`)).json()).toMatchObject({ units: 7, leftGrams: 0 })
  })

  test('may be too little for one jar', async () => {
    const $ = await app.getPage(asked(ofPlums, { pack: 'quart', by: 'weight', much: '500 g' }))
    expect(textAt($, '.lead')).toBe('500 g are less than one quart takes.')
    expect($('main table').length).toBe(0)
  })

  test('of what departs is told as not for the shelf', async () => {
    const $ = await app.getPage(asked(ofFlour, { pack: 'quart', by: 'units', much: '3' }))
    expect(textAt($, 'p .lost')).toMatch(/not for the shelf/)
    // 3 quarts of 900 g, 60 g of flour for each kilogram: 162 g, and there is no such supply
    expect(rowsAt($, 'table').find(([name]) => name === 'Flour')).toEqual([
      'Flour',
      '160 g',
      '0 g',
      '160 g; not among the supplies',
    ])
  })

  test.each([
    [{ pack: 'quart', by: 'weight', much: '' }, 'much', 'Enter how much, like “63 kg” or 14'],
    [{ pack: 'quart', by: 'weight', much: '-5 kg' }, 'much', 'Enter a weight, like “63 kg” or “20 lb”'],
    [{ pack: 'quart', by: 'weight', much: 'a lot' }, 'much', 'Enter a weight, like “63 kg” or “20 lb”'],
    [{ pack: 'quart', by: 'weight', much: '9999 kg' }, 'much', 'That is more than 10,000 quarts: enter less'],
    [{ pack: 'quart', by: 'units', much: '1.5' }, 'much', 'Enter a whole number from 1 to 10,000'],
    [{ pack: 'quart', by: 'units', much: '0' }, 'much', 'Enter a whole number from 1 to 10,000'],
    [{ pack: 'quart', by: 'loads', much: '10000' }, 'much', 'That is more than 10,000 quarts: enter less'],
    [{ pack: 'bucket', by: 'units', much: '1' }, 'pack', 'Choose a size'],
    [{ pack: 'quart', by: 'moons', much: '1' }, 'by', 'Choose what is counted'],
    [
      { pack: 'quart', by: 'weight', much: '<script>alert(1)</script>' },
      'much',
      'Enter a weight, like “63 kg” or “20 lb”',
    ],
  ])('like %o is refused at %s, by the page and by the call', async (question, field, words) => {
    const answer = await app.app.inject({ url: asked(ofPlums, question) })
    expect(answer.statusCode).toBe(422)
    const $ = expectSoundPage(answer.payload)
    expect(problemsIn($)).toEqual([words])
    expect($('script:not([src])').length).toBe(0)
    const call = await app.call('GET', `/api${asked(ofPlums, question)}`)
    expect(call.statusCode).toBe(422)
    expect(call.json().error.fields).toEqual({ [field]: words })
  })
})

describe('acid', () => {
  const acids = ['bottled-lemon-juice', 'citric-acid', 'vinegar-5', 'vinegar-unmeasured']

  test('is 2 tablespoons of bottled lemon juice in each quart of figs (Guide 2 p. 2-14), and not a drop less', async () => {
    const { ingredients } = (
      await app.call('GET', `/api${asked(ofFigs, { pack: 'quart', by: 'units', much: '7' })}`)
    ).json()
    const juice = ingredients.find(({ kind }: { kind: string }) => kind === 'bottled-lemon-juice')
    // 2 US tablespoons are 29.5735 ml
    expect(juice.eachUnit.exact).toBeCloseTo(29.573, 3)
    expect(juice.eachUnit.amount).toBeGreaterThanOrEqual(29.573)
    expect(juice.amount).toBeGreaterThanOrEqual(7 * 29.573)
  })

  test('is never measured out below what the recipe says, for any starter, size, amount and kitchen', () => {
    const sour = starters.filter(({ definition }) => definition.ingredients.some(({ kind }) => acids.includes(kind)))
    expect(sour.length).toBeGreaterThan(10)
    const any = fc
      .constantFrom(...sour)
      .chain(({ definition }) =>
        fc.tuple(fc.constant(definition), fc.constantFrom(...definition.packs), fc.integer({ min: 1, max: 3000 })),
      )
    fc.assert(
      fc.property(any, fc.constantFrom('metric' as const, 'us' as const), ([definition, pack, units], system) => {
        const short = scaleRecipe(definition, pack, { units }, system)
          .ingredients.filter(({ kind }) => acids.includes(kind))
          .flatMap((one) => [one, one.eachUnit, one.together])
          .filter((part) => part !== null && part.amount < part.exact * (1 - 1e-9))
        expect(short).toEqual([])
      }),
    )
  })
})
