import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { processTable } from '../../../src/core/process/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { rowsAt, textAt } from '../../support/html.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

const ask = (question: Record<string, string>) => `/processes?${new URLSearchParams(question).toString()}`

describe('looking a process up', () => {
  test("starts at the kitchen's own altitude and has no answer yet", async () => {
    const $ = await app.getPage('/processes')
    expect($('#field-altitude').attr('value')).toBe('640 m')
    expect($('#answer').length).toBe(0)
    expect($('datalist option[value="plums"]').length).toBe(1)
  })

  test('plums in quarts at 1,400 m: 35 minutes, with the whole row of the table', async () => {
    // USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-21: hot or raw, quarts 25, 30, 35, 40; 1,400 m is 4,593 ft
    const $ = await app.getPage(
      ask({ product: 'plums', jar: 'quart', method: 'boiling-water', pack: 'hot', altitude: '1,400 m' }),
    )
    expect(textAt($, '#answer')).toBe('35 minutes')
    expect(textAt($, 'main')).toContain('at 1,400 m (4,593 ft)')
    expect(
      rowsAt($, 'main table')
        .slice(1)
        .map((cells) => cells[2]),
    ).toEqual(['25', '30', '35', '40'])
    expect(textAt($, 'tr.here th')).toMatch(/^3,001 to 6,000 ft/)
    expect(textAt($, '.facts')).toContain('1/2 inch (13 mm)')
    expect(textAt($, '.facts')).toContain('USDA Complete Guide to Home Canning')
    expect(textAt($, '.caution')).toContain('extension service')
    expect($('main').text()).not.toMatch(/\bsafe\b/i)
  })

  test.each([
    ['1,000 ft', '25 minutes'],
    ['1,001 ft', '30 minutes'],
    ['304.8 m', '25 minutes'],
    ['305 m', '30 minutes'],
    ['6000 ft', '35 minutes'],
    ['6001 ft', '40 minutes'],
    ['500', '30 minutes'],
  ])('plums in quarts at %s: %s', async (altitude, minutes) => {
    const $ = await app.getPage(ask({ product: 'plum', jar: 'quart', method: 'boiling-water', pack: 'raw', altitude }))
    expect(textAt($, '#answer')).toBe(minutes)
  })

  test('tomatoes ask for acid in each jar and tell every pressure that is tested', async () => {
    const $ = await app.getPage(
      ask({ product: 'tomatoes, crushed', jar: 'quart', method: 'dial-gauge', pack: 'hot', altitude: '640 m' }),
    )
    // Guide 3 p. 3-8 (at 2,100 ft): 20 minutes at 7 psi or 15 at 12; p. 3-5: 2 tbsp of lemon juice or 1/2 tsp of citric acid a quart
    expect(textAt($, '#answer')).toBe('20 minutes at 7 psi (48 kPa)')
    expect(textAt($, '.outcome')).toContain('15 minutes at 12 psi (83 kPa)')
    expect(textAt($, '.facts')).toContain('2 tablespoons of bottled lemon juice, or 1/2 teaspoon of citric acid')
  })

  test.each([
    ['green beans', 'boiling-water', 'pint', 'Not to be canned like this'],
    ['white peaches', 'boiling-water', 'pint', 'Not to be canned like this'],
    ['applesauce', 'boiling-water', 'half-gallon', 'Not to be canned like this'],
    ['moonfruit', 'boiling-water', 'pint', 'No tested process is known here'],
  ])('%s in a %s, %s: %s', async (product, method, jar, heading) => {
    const $ = await app.getPage(ask({ product, method, jar, pack: 'any', altitude: '100 m' }))
    expect(textAt($, '#answer')).toBe(heading)
    expect($('.panel').text()).not.toMatch(/\d+ minutes/)
  })

  test.each([
    ['altitude', 'high up'],
    ['altitude', ''],
    ['product', ' '],
    ['jar', 'bucket'],
    ['method', 'oven'],
  ])('keeps what was typed and says at its place that %s cannot be “%s”', async (field, typed) => {
    const url = ask({
      product: 'plums',
      jar: 'quart',
      method: 'boiling-water',
      pack: 'hot',
      altitude: '100 m',
      [field]: typed,
    })
    const answer = await app.app.inject({ url })
    expect(answer.statusCode).toBe(422)
    expect(answer.body).toContain(`id="field-${field}-error"`)
  })

  test('lists every row of the tables, each leading to its look-up', async () => {
    const $ = await app.getPage('/processes/table')
    expect($('tbody tr').length).toBe(processTable().length)
    const href = $('tbody a').first().attr('href') ?? ''
    expect(textAt(await app.getPage(href), '#answer')).toMatch(/minutes/)
  })

  test('tells programs the same', async () => {
    const found = (
      await app.call('GET', '/api/processes/look-up?product=plums&jar=quart&method=boiling-water&altitudeM=1400')
    ).json()
    expect(found).toMatchObject({ answer: 'tested', minutes: 35, psi: null, headspaceIn: 0.5 })
    const refused = (
      await app.call('GET', '/api/processes/look-up?product=pears&pack=raw&jar=quart&method=boiling-water')
    ).json()
    expect(refused).toMatchObject({ answer: 'refused', reason: 'pack-not-tested' })
    const { rows, sources } = (await app.call('GET', '/api/processes')).json()
    expect(rows).toEqual(JSON.parse(JSON.stringify(processTable())))
    for (const { source } of rows) expect(sources).toHaveProperty(source.document)
  })
})
