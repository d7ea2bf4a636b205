import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { crops } from '../../../src/core/produce/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { rowsAt, textAt } from '../../support/html.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())

describe('what is known of crops', () => {
  test('lists every crop and leads to it', async () => {
    const $ = await app.getPage('/crops')
    expect(rowsAt($, 'table')).toHaveLength(crops.length + 1)
    expect(rowsAt($, 'table').find(([name]) => name === 'Damsons')).toEqual([
      'Damsons',
      '2.9 to 3.1',
      'acid',
      '25.4 kg',
      '2.6 days',
    ])
    expect($('tbody a[href="/crops/damson"]').length).toBe(1)
  })

  test.each(crops.map(({ key, plural }) => [key, plural]))(
    'the page of %s gives each figure its source and standing',
    async (key, plural) => {
      const $ = await app.getPage(`/crops/${key}`)
      expect(textAt($, 'h1')).toBe(`What is known of ${plural}`)
      const lives = rowsAt($, '[aria-label="Published lives"] table').slice(1)
      expect(lives.length).toBeGreaterThan(0)
      for (const [, , , source] of lives) {
        expect(source).toMatch(
          /Read in the source\.$|From memory, still to be checked\.$|^Common practice, no published figure/,
        )
      }
      expect(rowsAt($, '[aria-label="Days in each class"] table')).toHaveLength(4)
      expect(textAt($, 'main .caution')).toContain('extension service')
      expect($('main').text()).not.toMatch(/\bsafe\b/i)
    },
  )

  test('shows a temperature as the source prints it', async () => {
    const $ = await app.getPage('/crops/damson')
    expect(rowsAt($, '[aria-label="Published lives"] table')[1]?.slice(0, 3)).toEqual([
      'firm, in a commercial cold store',
      '-0.5 °C',
      '14 to 28 days',
    ])
  })

  test.each(['moonfruit', 'DAMSON', 'damson-', '🍎', '..%2Fapple'])('%s is no crop', async (key) => {
    const answer = await app.app.inject({ url: `/crops/${encodeURI(key)}` })
    expect([400, 404]).toContain(answer.statusCode)
  })

  test('tells programs the same, sources included', async () => {
    const { crops: told, sources } = (await app.call('GET', '/api/crops')).json()
    expect(told).toEqual(JSON.parse(JSON.stringify(crops)))
    for (const crop of told) expect(Object.keys(sources)).toContain(crop.ph.source.document)
  })
})
