import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { textAt, textsAt } from '../../support/html.ts'

let kitchen: TestApp
beforeAll(async () => {
  kitchen = await testApp()
})
afterAll(() => kitchen.close())

describe('every page', () => {
  it('has the places, the current one marked, the co-op’s name and who is signed in', async () => {
    const $ = await kitchen.getPage('/coop')
    expect(textsAt($, '.places a')).toEqual(['Today', 'Produce', 'Plans', 'Shelf', 'Co-op'])
    expect(textAt($, '.places [aria-current=page]')).toBe('Co-op')
    expect(textsAt($, '.masthead a')).toEqual(['Larkrise Lane Kitchen', 'Signed in as Rosalind Pike'])
    expect($('.masthead .who').attr('href')).toBe('/account')
    expect($('.demonstration').length).toBe(0)
    expect($('title').text()).toBe('How Larkrise Lane Kitchen works · Larkrise Lane Kitchen · Glutworks')
    expect($('html').attr('lang')).toBe('en-GB')
  })

  it('reads its styles and script from addresses that never change their content', async () => {
    const $ = await kitchen.getPage('/coop')
    const addresses = [
      $('link[rel=stylesheet]').attr('href'),
      ...$('script')
        .toArray()
        .map((one) => $(one).attr('src')),
    ]
    expect(addresses).toHaveLength(3)
    for (const address of addresses) {
      const answer = await kitchen.app.inject({ url: address ?? '', headers: { 'accept-encoding': 'gzip' } })
      expect(answer.statusCode).toBe(200)
      expect(answer.headers['cache-control']).toBe('public, max-age=31536000, immutable')
      expect(answer.headers['content-encoding']).toBe('gzip')
    }
  })
})
