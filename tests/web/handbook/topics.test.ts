import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { untestedStyles, whereTheyDiffer } from '../../../src/core/process/refusals.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { htmlOf, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

describe('jam and jelly', () => {
  test('apple jelly: 3/4 cup of sugar for a cup of juice, 4 to 5 half-pints from 4 cups', async () => {
    // USDA Complete Guide 2015, Guide 7 p. 7-5
    const $ = await app.getPage('/handbook/spreads')
    const apples = rowsAt($, '[aria-label^="Juice for jelly"] table').find(([fruit]) => fruit === 'Apples')
    expect(apples?.slice(1, 7)).toEqual([
      '1 cup',
      '20 to 25 minutes',
      '3/4 cup',
      '1 1/2 tsp',
      '4 to 5 half-pints',
      apples?.[6],
    ])
    // Guide 7: jelly in half-pints or pints, 5 minutes up to 1,000 ft and 10 at 1,001 to 6,000 ft; 640 m is 2,100 ft
    const minutes = rowsAt($, '[aria-label^="Boiling-water canner"] table').slice(1)
    expect(minutes.length).toBeGreaterThan(2)
    expect(minutes.find(([spread]) => spread === 'Jelly, no added pectin')?.[2]).toMatch(/^10 minutes/)
  })
})

describe('freezing', () => {
  test('headspace of a narrow quart in syrup is 1 1/2 inches', async () => {
    // National Center, Headspace to allow between packed food and closure
    const $ = await app.getPage('/handbook/freezing')
    const rows = rowsAt($, '[aria-label="Left free at the top"] table')
    expect(rows.find(([pack, mouth]) => pack === 'In syrup or sugar' && mouth === 'narrow')?.[3]).toBe(
      '38 mm (1 1/2 inches)',
    )
    expect(textAt($, '#a-day + p')).toContain('No freezer of this co-op')
  })

  test("a freezer of the co-op's own: 2 to 3 lb for each cubic foot in a day", async () => {
    // 283.168 l are 10 cubic feet: 20 to 30 lb, 9.07 to 13.6 kg
    const { coopId } = app
    await app.prisma.equipment.create({
      data: {
        coopId,
        id: 'chest',
        kind: 'freezer',
        name: 'Chest freezer',
        count: 1,
        roomMl: 283_168,
        aroundTheClock: true,
      },
    })
    const rows = rowsAt(await app.getPage('/handbook/freezing'), '[aria-label^="Unfrozen food"] table')
    expect(rows[1]).toEqual(['Chest freezer', '283.17 l', '9.07 kg to 13.6 kg'])
  })
})

describe('drying', () => {
  test('apple slices 6 to 12 hours at 60 °C, and two to three times as long in an oven', async () => {
    // So Easy to Preserve Drying Guide, University of Georgia; NDSU: two to three times
    const $ = await app.getPage('/handbook/drying')
    const apples = rowsAt($, '[aria-label="Fruit"] table').find(([fruit]) => fruit === 'Apples')
    expect(apples?.[2]).toBe('60 °C (140 °F)')
    expect(apples?.[3]).toBe('6 to 12')
    expect(textAt($, '[aria-labelledby="oven"]')).toContain('apple slices 12 to 36 hours instead of 6 to 12')
  })
})

describe('ferments and vinegar', () => {
  test('5 lb of cabbage: 3 tablespoons of salt', async () => {
    // USDA Complete Guide 2015, Guide 6 p. 6-8
    const $ = await app.getPage('/handbook/ferments?cabbage=25+lb')
    expect(rowsAt($, '[aria-label="Canning or pickling salt"] table')[1]?.[1]).toMatch(/\(3 tbsp\)$/)
    // 25 lb: 15 tablespoons, a crock of 5 gallons, about 9 quarts
    const mine = rowsAt($, '[aria-label="Salt and crock"] table')
    expect(mine[1]?.[1]).toMatch(/\(15 tbsp\)$/)
    expect(mine[2]?.[1]).toBe('18.93 l')
    expect(mine[3]?.[1]).toMatch(/\(9 quarts\)$/)
  })

  test('100 g of table sugar a litre could give 7 % of acid and usually 5.6', async () => {
    // 342.297 g of sucrose give 4 x 60.052 g of acetic acid: 70.2 g from 100 g
    const $ = await app.getPage('/handbook/ferments?sugar=100')
    const rows = rowsAt($, '[aria-label="From sugar to acid"] table')
    expect(rows.slice(1).map(([, acidity]) => acidity)).toEqual(['5.6 %', '7 %'])
    expect(textAt($, '[aria-labelledby="expected"] .caution')).toMatch(/^Not for canning or pickling/)
  })

  test.each([
    ['4.9', 'Not for canning or pickling'],
    ['5.2', 'What it was measured at'],
  ])('acidity measured at %s: %s', async (measured, heading) => {
    expect(textAt(await app.getPage(`/handbook/ferments?measured=${measured}`), '#measured')).toBe(heading)
  })

  test.each([
    ['brix', 'sweet'],
    ['brix', '41'],
    ['sugar', '-1'],
    ['measured', '31'],
    ['cabbage', '3 heads'],
    ['cabbage', '0 kg'],
  ])('%s “%s” is refused at its place and kept', async (field, typed) => {
    const answer = await app.app.inject({ url: `/handbook/ferments?${new URLSearchParams({ [field]: typed })}` })
    expect(answer.statusCode).toBe(422)
    const $ = htmlOf(answer.payload)
    expect(problemsIn($)).toHaveLength(1)
    expect($(`#field-${field}`).attr('value')).toBe(typed)
    expect($('#expected, #measured, #cabbage').length).toBe(0)
  })
})

describe('jars', () => {
  test('7 quarts stand in a canner of 30 by 30 cm, none where the water has no room', async () => {
    // the usual load of a canner (USDA Complete Guide 2015, tables of Guide 2)
    const wide = rowsAt(
      await app.getPage('/handbook/jars?width=30+cm&height=30+cm'),
      '[aria-label="Jars in one load"] table',
    )
    const quart = wide.find(([jar]) => jar === 'Quarts, regular mouth')
    expect(quart?.[2]).toBe('7')
    const low = rowsAt(await app.getPage('/handbook/jars?width=30&height=18'), '[aria-label="Jars in one load"] table')
    expect(low.find(([jar]) => jar === 'Quarts, regular mouth')?.[2]).toBe('none')
    expect(low.find(([jar]) => jar === 'Quarts, regular mouth')?.[5]).toMatch(/too low to boil in$/)
  })

  test.each([
    ['width', 'wide'],
    ['height', ''],
    ['height', '3 m'],
  ])('%s “%s” is refused at its place', async (field, typed) => {
    const query = new URLSearchParams({ width: '30 cm', height: '30 cm', [field]: typed })
    const answer = await app.app.inject({ url: `/handbook/jars?${query}` })
    expect(answer.statusCode).toBe(422)
    expect(htmlOf(answer.payload)(`#field-${field}-error`).length).toBe(1)
  })
})

describe('what is not tested', () => {
  test('names every kind with why, what to do instead and the source, each refused by the look-up', async () => {
    const $ = await app.getPage('/processes/untested')
    const rows = textsAt($, 'tbody tr')
    expect(rows).toHaveLength(untestedStyles().length)
    for (const row of $('tbody tr').toArray()) {
      for (const cell of $(row).find('td').toArray()) expect($(cell).text().trim().length).toBeGreaterThan(4)
      const href = $(row).find('a').attr('href') ?? ''
      expect(textAt(await app.getPage(href), '#answer'), href).toBe('Not to be canned like this')
    }
    expect($('main').text()).not.toMatch(/\bsafe\b/i)
  })

  test('names every matter in which practice differs', async () => {
    const $ = await app.getPage('/handbook/differ')
    expect(rowsAt($, 'main table')).toHaveLength(whereTheyDiffer().length + 1)
  })

  test.each(['/processes', '/processes/table', '/processes/untested'])('%s leads on', async (path) => {
    const $ = await app.getPage(path)
    expect($('main a[href="/handbook"]').length).toBe(1)
    const others = ['/processes', '/processes/table', '/processes/untested'].filter((other) => other !== path)
    for (const other of others) expect($(`main a[href="${other}"]`).length, other).toBe(1)
  })
})

// after the others: it changes what the co-op reads
describe('for who reads feet and pounds', () => {
  beforeAll(async () => {
    await app.prisma.coop.update({ where: { id: app.coopId }, data: { units: 'us' } })
  })

  test('US figures come first, metric ones beside them', async () => {
    expect(textAt(await app.getPage('/handbook/altitude'), '.lead')).toBe('Water boils at 208 °F (97.8 °C) here.')
    const syrups = rowsAt(
      await app.getPage('/handbook/syrups'),
      '[aria-label="Water and sugar for a canner load"] table',
    )
    expect(syrups.find(([name]) => name === 'Medium')?.[2]).toBe('5 1/4 cups (1.24 l)')
    const freezing = rowsAt(await app.getPage('/handbook/freezing'), '[aria-label="Left free at the top"] table')
    expect(freezing[1]?.[2]).toBe('1/2 inch (13 mm)')
  })

  test('a bare number is in inches and feet', async () => {
    const jars = rowsAt(await app.getPage('/handbook/jars?width=12&height=12'), '[aria-label="Jars in one load"] table')
    expect(jars.find(([jar]) => jar === 'Quarts, regular mouth')?.[2]).toBe('7')
    expect(textAt(await app.getPage('/handbook/altitude?altitude=3281'), '#at')).toBe('At 3,281 ft (1,000 m)')
  })
})
