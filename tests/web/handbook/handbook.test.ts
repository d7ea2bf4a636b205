import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { type Html, htmlOf, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

const topics = ['altitude', 'acidity', 'syrups', 'spreads', 'freezing', 'drying', 'ferments', 'jars', 'differ']
const asked = [
  '/handbook/altitude?altitude=1000+m',
  '/handbook/acidity?q=damsons',
  '/handbook/syrups?jars=9&jar=pint',
  '/handbook/ferments?brix=12&sugar=50&measured=5.2&cabbage=10+kg',
  '/handbook/jars?width=30+cm&height=30+cm',
]

/** Each row says where it is from, or the line beneath its table does. */
function expectSources($: Html): void {
  const tables = $('main .table').toArray()
  for (const table of tables) {
    const heads = textsAt($, 'main .table').length > 0 ? $(table).find('thead th').last().text() : ''
    const caption = $(table).find('caption').text()
    if (heads === 'Source') {
      for (const row of $(table).find('tbody tr').toArray()) {
        expect($(row).find('td').last().text().trim().length, `source in ${caption}: ${$(row).text()}`).toBeGreaterThan(
          10,
        )
      }
    } else {
      expect($(table).next().text(), `source under ${caption}`).toMatch(/^Source: .{10}/)
    }
    const widths = new Set(
      $(table)
        .find('tr')
        .toArray()
        .map((row) => $(row).find('th, td').length),
    )
    expect(widths.size, `columns of ${caption}`).toBe(1)
    expect($(table).find('tbody tr').length, `rows of ${caption}`).toBeGreaterThan(0)
  }
  for (const item of $('main .sourced').toArray()) {
    expect($(item).find('.quiet').text().length, $(item).text()).toBeGreaterThan(10)
  }
}

describe('the handbook', () => {
  test('leads to every topic, with a figure for this altitude', async () => {
    const $ = await app.getPage('/handbook')
    for (const topic of topics) expect($(`main a[href="/handbook/${topic}"]`).length, topic).toBe(1)
    expect($('main a[href="/processes/untested"]').length).toBe(1)
    // 640 m: 93.87 kPa by the standard atmosphere, where water boils at 97.8 °C (steam tables)
    expect(textAt($, 'main')).toContain('Water boils at 97.8 °C (208 °F) here.')
    expect($('main').text()).not.toMatch(/\bsafe\b/i)
  })

  test.each([...topics.map((topic) => `/handbook/${topic}`), ...asked])(
    '%s is whole, gives each figure its source and claims nothing',
    async (path) => {
      const $ = await app.getPage(path)
      expect($('main .table').length).toBeGreaterThan(0)
      expectSources($)
      expect($('main').text()).not.toMatch(/\b[Ss]afe\b|undefined|NaN|\[object/)
      expect($('main a[href="/handbook"]').length).toBe(1)
    },
  )

  test('every title is its own', async () => {
    const titles = await Promise.all(topics.map(async (topic) => textAt(await app.getPage(`/handbook/${topic}`), 'h1')))
    expect(new Set(titles).size).toBe(topics.length)
  })
})

describe('altitude', () => {
  test('1,000 m: 89.9 kPa, water boils at 96.6 °C', async () => {
    // ISO 2533: 89.874 kPa at 1,000 m; steam tables: 96.6 °C at that pressure
    const $ = await app.getPage('/handbook/altitude?altitude=1000+m')
    const rows = rowsAt($, '[aria-label="What to reckon with"] table')
    expect(rows[1]?.slice(0, 2)).toEqual(['Air pressure', '89.9 kPa'])
    expect(rows[2]?.[1]).toMatch(/^96\.6 °C \(206 °F\)/)
    expect(textAt($, 'tr.here th')).toBe('1,000 m (3,281 ft) (you are here)')
  })

  test('jelly: 104.4 °C (220 °F) at the sea, and the printed table beside it', async () => {
    // USDA Guide 7 p. 7-5, as the National Center prints it: 220 °F at sea level, 212 °F at 4,000 ft
    const $ = await app.getPage('/handbook/altitude?altitude=0+m')
    const rows = rowsAt($, '[aria-label="What to reckon with"] table')
    expect(rows.find(([what]) => what === 'Jelly is done')?.[1]).toBe('104.4 °C (220 °F)')
    expect(rows.find(([what]) => what === 'Empty jars')?.[1]).toBe('10 minutes')
    const printed = rowsAt($, '[aria-label^="The printed table"] table')
    expect(printed.find(([at]) => at?.includes('4,000 ft'))?.[1]).toBe('100 °C (212 °F)')
  })

  test('empty jars: a minute more for each 1,000 ft', async () => {
    // USDA Guide 1 p. 1-14; 3,000 ft by the longer reading: 13
    const $ = await app.getPage('/handbook/altitude?altitude=3000+ft')
    const rows = rowsAt($, '[aria-label="What to reckon with"] table')
    expect(rows.find(([what]) => what === 'Empty jars')?.[1]).toBe('13 minutes')
  })

  test('10 psi at the sea is steam of about 115 °C (239 °F)', async () => {
    // 170.27 kPa absolute: 115.3 °C in the steam tables
    const $ = await app.getPage('/handbook/altitude')
    const steam = rowsAt($, '[aria-label^="Steam temperature"] table')
    expect(steam.find(([gauge]) => gauge === '10 psi (69 kPa)')?.[1]).toMatch(/^115\.\d °C \((239|240) °F\)$/)
  })

  test.each(['high up', '', '9000 m', '12 kg', '1 2 3'])('“%s” is no altitude', async (typed) => {
    const answer = await app.app.inject({ url: `/handbook/altitude?${new URLSearchParams({ altitude: typed })}` })
    expect(answer.statusCode).toBe(422)
    const $ = htmlOf(answer.payload)
    expect(problemsIn($)).toHaveLength(1)
    expect($('#field-altitude').attr('value')).toBe(typed)
  })

  test('tells programs the same', async () => {
    const found = (await app.call('GET', '/api/handbook/altitude?altitudeM=1000')).json()
    expect(found.airPressure.kPa).toBeCloseTo(89.87, 1)
    expect(found.sources).toHaveProperty(found.waterBoils.source.document)
    expect((await app.call('GET', '/api/handbook/altitude')).json().altitudeM).toBe(640)
    expect((await app.call('GET', '/api/handbook/altitude?altitudeM=99999')).statusCode).toBe(400)
  })
})

describe('acidity', () => {
  test('shows the line, every food and the acid of each jar', async () => {
    const $ = await app.getPage('/handbook/acidity')
    expect(textAt($, '.lead')).toContain('pH 4.6')
    const acid = rowsAt($, '[aria-label^="Crops that are canned"] table')
    // Guide 3 p. 3-5: a quart of tomatoes 2 tbsp of bottled lemon juice or 1/2 tsp of citric acid, a pint half of it
    const tomato = acid.find(([crop]) => crop === 'Tomato')
    expect(tomato?.[2]).toContain('1 tablespoon of bottled lemon juice')
    expect(tomato?.[3]).toContain('2 tablespoons of bottled lemon juice, or 1/2 teaspoon of citric acid')
  })

  test.each([
    ['damsons', 'Plum', 'acid'],
    ['Tomatoes', 'Tomato', 'borderline'],
    ['carrot', 'Carrot', 'low-acid'],
  ])('%s: %s is %s', async (typed, food, acidity) => {
    const $ = await app.getPage(`/handbook/acidity?q=${typed}`)
    const rows = rowsAt($, '[aria-label="1 food by name"] table')
    expect(rows[1]?.[0]).toBe(food)
    expect(rows[1]?.[2]).toBe(acidity)
  })

  test('what is not listed is assumed to be nothing', async () => {
    const $ = await app.getPage('/handbook/acidity?q=moonfruit')
    expect(textAt($, 'main')).toContain('treat it as low-acid')
    expect((await app.call('GET', '/api/handbook/acidity?q=moonfruit')).json().foods).toEqual([])
  })

  test('keeps a name that is too long, and says so', async () => {
    const typed = 'x'.repeat(81)
    const answer = await app.app.inject({ url: `/handbook/acidity?q=${typed}` })
    expect(answer.statusCode).toBe(422)
    expect(htmlOf(answer.payload)('#field-q').attr('value')).toBe(typed)
  })
})

describe('syrups', () => {
  test('medium syrup for 9 pints: 5 1/4 cups of water and 2 1/4 cups of sugar', async () => {
    // USDA Complete Guide 2015, Guide 2 p. 2-5; 7 quarts: 8 1/4 and 3 3/4
    const $ = await app.getPage('/handbook/syrups?jars=9&jar=pint')
    const medium = rowsAt($, '[aria-label="Water and sugar for a canner load"] table').find(
      ([name]) => name === 'Medium',
    )
    expect(medium).toEqual([
      'Medium',
      '30 %',
      '1.24 l (5 1/4 cups)',
      '450 g (2 1/4 cups)',
      '1.95 l (8 1/4 cups)',
      '750 g (3 3/4 cups)',
    ])
    const nine = rowsAt($, '[aria-label="Canning syrup for 9 pints"] table').find(([name]) => name === 'Medium')
    expect(nine?.[1]).toMatch(/^1\.24 l/)
    expect(nine?.[2]).toMatch(/^450 g \(2 1\/4 cups\)/)
  })

  test('twice the jars take twice the sugar', async () => {
    const sugarOf = async (jars: number) => {
      const { syrups } = (await app.call('GET', `/api/handbook/syrups?jars=${jars}&jar=quart`)).json()
      return syrups.find((one: { name: string }) => one.name === 'heavy').cupsSugar
    }
    // Guide 2 p. 2-5: 5 1/4 cups for 7 quarts
    expect(await sugarOf(7)).toBe(5.25)
    expect(await sugarOf(14)).toBe(10.5)
  })

  test.each([
    ['jars', 'many'],
    ['jars', '0'],
    ['jars', '501'],
    ['jar', 'bucket'],
  ])('%s “%s” is refused at its place', async (field, typed) => {
    const query = new URLSearchParams({ jars: '7', jar: 'quart', [field]: typed })
    const answer = await app.app.inject({ url: `/handbook/syrups?${query}` })
    expect(answer.statusCode).toBe(422)
    const $ = htmlOf(answer.payload)
    expect(problemsIn($)).toHaveLength(1)
    expect($(`#field-${field}-error`).length).toBe(1)
    if (field === 'jars') expect($('#field-jars').attr('value')).toBe(typed)
  })
})
