import { afterAll, beforeAll, expect, test } from 'vitest'
import { loadDemonstration } from '../../../seed/load.ts'
import { randomId } from '../../../src/ids.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'

let demonstration: TestApp
let empty: TestApp
beforeAll(async () => {
  demonstration = await testApp({ coop: false })
  await loadDemonstration(demonstration.prisma, demonstration.app.clock.now(), randomId)
  const { id } = await demonstration.prisma.member.findFirstOrThrow({ where: { role: 'steward' } })
  await demonstration.signInAs(id)
  await addNeighbours(demonstration)
  empty = await testApp()
})
afterAll(async () => {
  await demonstration?.close()
  await empty?.close()
})

test('the page tells how the demonstration works, with a link to each noun', async () => {
  const $ = await demonstration.getPage('/coop')
  expect(textAt($, '.lead')).toBe('5 households in Upper Ansley, 640 m above the sea.')
  const links = $('.index a').toArray()
  expect(links.map((link) => $(link).attr('href'))).toEqual([
    '/recipes',
    '/processes',
    '/local-processes',
    '/handbook',
    '/work-days',
    '/equipment',
    '/helpers',
    '/calendars',
    '/supplies',
    '/outlets',
    '/coop/screens',
    '/yields',
    '/people',
    '/audit',
    '/coop/data',
  ])
  const says = textsAt($, '.index span')
  expect(says[0]).toMatch(/^\d+ recipes: \d+ water-bath canned/)
  expect(says[2]).toBe('nothing yet')
  expect(says[4]).toMatch(/^2 work days ahead, the next Sat, Sep 12/)
  expect(says[5]).toMatch(
    /^\d boiling-water canners?, (1 pressure canner, )?4 burners, 1 oven, 1 dehydrator, 1 press, 1 freezer with \d+ l$/,
  )
  expect(says[6]).toBe('6 helpers: 4 adults, 1 teen, 1 child')
  expect(says[7]).toBe('Secret addresses under which calendar programs read who works when')
  expect(says[8]).toMatch(/^\d+ supplies, some of each on hand$/)
  expect(says[9]).toMatch(/^First Cider press at the Hallams, then .* at last Compost behind the hall$/)
  expect(textsAt($, 'main section:first-of-type .facts dt')).toEqual([
    'Fenwick',
    'Hallam',
    'Marsh',
    'Odell',
    'Quillfeather',
  ])
  for (const link of links) await demonstration.getPage($(link).attr('href') ?? '')
})

test('the page of a co-op that has nothing yet says so, and the pages it leads to say what belongs there', async () => {
  const $ = await empty.getPage('/coop')
  expect(textAt($, '.lead')).toBe('1 household in Upper Ansley, 640 m above the sea.')
  expect(textsAt($, '.index span')).toEqual([
    'nothing yet',
    'Time, pressure, headspace and acid by product, jar and altitude',
    'nothing yet',
    'Altitude, acidity, syrups, spreads, freezing, drying, fermenting and jars',
    'No work day ahead',
    'nothing yet',
    'nothing yet',
    'Secret addresses under which calendar programs read who works when',
    'nothing yet',
    'nothing yet',
    'Tablets on the wall: the work of the day, to tick off',
    'Yields, trim and minutes as they really were',
    '1 person in 1 household',
    'What happened at the door, with people’s rights and in all things',
    'No backup is known of yet',
  ])
  for (const noun of ['recipes', 'local-processes', 'work-days', 'equipment', 'helpers', 'supplies', 'outlets']) {
    expect(textAt(await empty.getPage(`/${noun}`), '.lead')).toMatch(/^(No|None|Nobody|Nothing) /)
    await empty.getPage(`/${noun}/new`)
  }
})

test('the call tells the same of the co-op and its households', async () => {
  const answer = (await demonstration.call('GET', '/api/coop')).json()
  expect(answer).toMatchObject({ name: 'Larkrise Lane Kitchen', altitudeM: 640, currency: 'USD' })
  expect(answer.households[1]).toEqual({ name: 'Hallam', members: 1, helpers: 2, lots: 1 })
})

test('every page of the demonstration can be opened and sent as it stands without changing anything', async () => {
  for (const noun of ['equipment', 'helpers', 'supplies', 'outlets']) {
    const before = Object.values((await demonstration.call('GET', `/api/${noun}`)).json())[0] as { id: string }[]
    for (const { id } of before) await demonstration.postTaken(`/${noun}/${id}`, {})
    const after = Object.values((await demonstration.call('GET', `/api/${noun}`)).json())[0] as object[]
    expect(after.map((one) => ({ ...one, version: 1 }))).toEqual(before)
  }
})
