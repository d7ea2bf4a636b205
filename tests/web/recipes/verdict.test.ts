import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { type Html, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { flourFilling, inHalfGallons, plums } from './typed-recipes.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } }))
afterEach(() => liesAt(640))

const add = (fields: Record<string, string>) => app.postTaken('/recipes', fields, { from: '/recipes/new' })
const liesAt = (altitudeM: number) => app.prisma.coop.update({ where: { id: app.coopId }, data: { altitudeM } })
const verdictOf = async (path: string) => (await app.call('GET', `/api${path}/verdict`)).json()
const minutesIn = ($: Html) => textsAt($, '.verdict h3').filter((text) => text.includes('minutes'))

describe('a family recipe with flour in it', () => {
  test('is told that it departs, from what and by whose figures, and is given no time', async () => {
    const $ = await app.getPage(await add(flourFilling))
    expect(textAt($, '#verdict')).toBe('Departs from the tested process')
    expect(textAt($, '.verdict > p:first-of-type')).toBe('It is not planned, labelled or shelved as canned food.')
    const departures = textsAt($, '.verdict ul:first-of-type li')
    // Guide 2 p. 2-25: the published filling is thickened with cook-type modified starch, and has bottled lemon juice
    expect(departures.find((one) => one.includes('flour'))).toMatch(/starch.*USDA Complete Guide.*Guide 2 p\. 2-25/)
    expect(departures.find((one) => one.includes('lemon juice'))).toMatch(/\d/)
    expect(minutesIn($)).toEqual([])
    expect(textsAt($, '.verdict .onward a')).toEqual([
      'Quarts: the tested process that it departs from',
      'Make it frozen',
      'Keep it in the refrigerator',
    ])
    expect($('main').text()).not.toMatch(/\bsafe/i)
    expect(textsAt($, '.pack dd').filter((text) => text.includes('process'))).toEqual([
      '35 min (without any process)',
      '35 min (without any process)',
    ])
  })

  test('can be made frozen: the form is filled in, and is saved as it stands', async () => {
    const from = await add(flourFilling)
    const page = await app.getPage(from)
    const link = page('.verdict a:contains("Make it frozen")').attr('href') ?? ''
    const frozen = await app.postTaken('/recipes', {}, { from: link })
    expect(frozen).not.toBe(from)
    expect((await app.call('GET', `/api${frozen}`)).json()).toMatchObject({
      name: 'Grandmother’s peach filling, frozen',
      method: 'frozen',
      version: 1,
      definition: {
        process: null,
        packs: [{ key: 'quart', jar: null, gramsPerUnit: 900, runs: [], freezerMl: 990 }],
        ingredients: [
          { name: 'flour', perKg: 60 },
          { name: 'sugar', perKg: 200 },
        ],
      },
    })
    const $ = await app.getPage(frozen)
    expect(textAt($, '#verdict')).toBe('Needs no heat process')
    expect($('.verdict').text()).toContain('not for the shelf')
    expect((await app.call('GET', `/api${from}`)).json()).toMatchObject({ method: 'water-bath-canned', version: 1 })
  })

  test('is refused in the list as well', async () => {
    await add(flourFilling)
    const $ = await app.getPage('/recipes')
    expect(textsAt($, '.index .lost')).toEqual(['departs from the tested process'])
  })
})

describe('plums as published', () => {
  // USDA 2015, Guide 2 p. 2-21: halved or whole, hot or raw, quarts: 25, 30, 35, 40 minutes; 640 m are 2,100 ft
  test.each([
    [0, '25', 'up to 1,000 ft'],
    [304, '25', 'up to 1,000 ft'],
    [640, '30', '1,001 to 3,000 ft'],
    [1000, '35', '3,001 to 6,000 ft'],
    [2000, '40', 'above 6,000 ft'],
  ])(
    'at %i m take %s minutes in quarts, the band %s, with the whole row one tap away',
    async (altitude, minutes, band) => {
      await liesAt(altitude)
      const $ = await app.getPage(await add(plums))
      expect(textAt($, '#verdict')).toBe('Follows a tested process')
      expect(minutesIn($)).toEqual([`Quarts: ${minutes} minutes in a boiling-water canner, at ${altitude} m`])
      expect(textsAt($, '.verdict .facts div')).toEqual([
        'Headspace1/2 inch (13 mm)',
        expect.stringMatching(/^SourceUSDA Complete Guide to Home Canning.*revised 2015, Guide 2 p\. 2-21/),
      ])
      const row = await app.getPage($('.verdict .onward a').attr('href') ?? '')
      expect(textAt(row, 'h2:first-of-type')).toBe(`${minutes} minutes`)
      const cells = rowsAt(row, 'table').slice(1)
      expect(cells.map((cell) => cell.at(-1))).toEqual(['25', '30', '35', '40'])
      expect(cells.find(([first]) => first?.includes('you are here'))?.[0]).toBe(`${band} (you are here)`)
    },
  )

  test('keep the canner busy for its own minutes and those of the process', async () => {
    const $ = await app.getPage(await add(plums))
    // heating up and cooling 35, as typed, and 30 of the table
    expect(textsAt($, '.pack dd').filter((text) => text.includes('process'))).toEqual([
      '1 h 5 min (the process’s 30 min among them)',
      '1 h 5 min (the process’s 30 min among them)',
    ])
  })

  test('tell programs the same', async () => {
    const path = await add(plums)
    expect(await verdictOf(path)).toEqual({
      standing: 'tested',
      packs: [
        {
          pack: 'quart',
          standing: 'tested',
          shelfStable: true,
          process: {
            row: expect.stringContaining('plums/halved or whole'),
            method: 'boiling-water',
            pack: 'hot',
            jar: 'quart',
            minutes: 30,
            psi: null,
            kPa: null,
            headspaceIn: 0.5,
            headspaceMm: 12.7,
            acid: [],
            sterileJars: false,
            notes: expect.any(Array),
            source: expect.objectContaining({ document: 'usda-2015', confidence: 'seen' }),
          },
          local: null,
          departures: [],
        },
      ],
      instead: [],
    })
    await liesAt(2000)
    expect((await verdictOf(path)).packs[0].process.minutes).toBe(40)
  })
})

describe('a recipe with one tested size and one that is not', () => {
  test('may stand in the tested size alone, and says of which size each thing is', async () => {
    const path = await add({ ...plums, ...inHalfGallons })
    const $ = await app.getPage(path)
    expect(textAt($, '#verdict')).toBe('Follows a tested process')
    expect(textAt($, '.verdict > p:first-of-type')).toBe('It may be planned and kept on the shelf in 1 of its 2 sizes.')
    expect(textsAt($, '.verdict ul:first-of-type li')).toEqual([expect.stringMatching(/^Half-gallons: .*half-gallon/)])
    expect(minutesIn($)).toEqual(['Quarts: 30 minutes in a boiling-water canner, at 640 m'])
    expect(textsAt(await app.getPage('/recipes'), '.index span')).toEqual([
      'plums, in quarts and half-gallons; follows a tested process in some jars',
    ])
    const { standing, packs } = await verdictOf(path)
    expect(standing).toBe('tested')
    expect(
      packs.map(({ pack, shelfStable, process }: { pack: string; shelfStable: boolean; process: unknown }) => [
        pack,
        shelfStable,
        process !== null,
      ]),
    ).toEqual([
      ['quart', true, true],
      ['half-gallon', false, false],
    ])
    expect(packs[1].departures).toEqual([expect.objectContaining({ kind: 'bigger-jar', at: 'packs.1' })])
  })
})

describe('a recipe under pressure', () => {
  const beans = {
    ...plums,
    name: 'Snap beans',
    method: 'pressure-canned',
    'inputs.0.from': 'crop:snap-bean',
    'process.product': 'snap beans',
    'process.form': '',
    'ingredients.0.name': '',
    'ingredients.0.kind': '',
    'ingredients.0.perUnit': '',
  }

  test('is not at fault where no gauge is at hand, and takes its own table once one is', async () => {
    const path = await add(beans)
    const before = await app.getPage(path)
    expect(textAt(before, '#verdict')).toBe('Cannot be canned in this kitchen as it was tested')
    expect(textsAt(before, '.verdict li')[0]).toContain('No pressure canner with a known gauge')
    expect(minutesIn(before)).toEqual([])
    const canner = { coopId: app.coopId, id: 'dial', kind: 'pressure-canner', name: 'the old canner', count: 1 }
    await app.prisma.equipment.create({ data: { ...canner, gauge: 'dial' } })
    try {
      // USDA 2015, Guide 4 p. 4-8: snap beans, quarts 25 minutes; dial gauge 12 lb from 2,001 to 4,000 ft
      expect(minutesIn(await app.getPage(path))).toEqual([
        'Quarts: 25 minutes at 12 psi (83 kPa) in a pressure canner with a dial gauge, at 640 m',
      ])
    } finally {
      await app.prisma.equipment.delete({ where: { coopId_id: { coopId: app.coopId, id: 'dial' } } })
    }
  })
})

test('nobody finds the verdict of what is unknown or another co-op’s', async () => {
  for (const id of ['nowhere', 'their-jam']) {
    for (const part of ['verdict', 'amounts', 'versions', 'versions/1']) {
      expect((await app.call('GET', `/api/recipes/${id}/${part}`)).statusCode, `${id} ${part}`).toBe(404)
    }
    for (const part of ['amounts', 'card', 'versions', 'versions/1']) {
      expect((await app.app.inject({ url: `/recipes/${id}/${part}` })).statusCode, `${id} ${part}`).toBe(404)
    }
  }
})
