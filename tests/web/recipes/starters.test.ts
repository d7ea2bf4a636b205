import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { cookiesOf, encodeFields, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } }))

const plums = starters.find(({ name }) => name === 'Plums in light syrup')
if (plums === undefined) throw new Error('no plums in the library')
const path = `/recipes/starters/${plums.key}`
const recipes = () => app.prisma.recipe.findMany({ where: { coopId: app.coopId } })

describe('the library', () => {
  test('lists every starter by method with its standing, and says what of its figures is a guess', async () => {
    const $ = await app.getPage('/recipes/starters')
    expect($('.index a').length).toBe(starters.length)
    expect(textAt($, '.lead')).toBe(`${starters.length} recipes.`)
    expect($('main').text()).toContain('Quantities come from published guides')
    expect($('main').text()).toContain('worth and minutes are our own guess')
    expect(textsAt($, 'h2')).toEqual(
      expect.arrayContaining(['Water-bath canned', 'Pressure canned', 'Frozen', 'Dried']),
    )
    const row = $(`.index a[href="${path}"]`).closest('li').find('span').first()
    expect(row.text()).toBe('plums, in quarts and pints; follows a tested process')
    expect($('main').text()).not.toMatch(/\bsafe/i)
    expect((await app.getPage('/recipes'))('a[href="/recipes/starters"]').length, 'is linked to').toBe(1)
  })

  test('can be asked for one crop', async () => {
    const $ = await app.getPage('/recipes/starters?crop=plum')
    const names = starters
      .filter(({ definition }) => definition.inputs.some(({ from }) => 'crop' in from && from.crop === 'plum'))
      .map(({ name }) => name)
    expect(names).toContain('Dried plums')
    expect(textsAt($, '.index a').toSorted()).toEqual(names.toSorted())
    expect(textAt($, '.lead')).toBe(`${names.length} recipes from plums.`)
    expect(textAt($, 'option[selected]')).toBe('Plums')
    expect((await app.getPage('/recipes/starters?crop='))('.index a').length).toBe(starters.length)
  })

  test.each(['moonfruit', '<b>', 'fresh’'])('has nothing from %s, and says so', async (crop) => {
    const $ = await app.getPage(`/recipes/starters?${new URLSearchParams({ crop }).toString()}`)
    expect(textAt($, '.lead')).toBe('There is none from that yet.')
    expect($('.index').length).toBe(0)
  })

  test.each(starters)('shows $name soundly, with a button to take it', async ({ key, name, method, definition }) => {
    const $ = await app.getPage(`/recipes/starters/${key}`)
    expect(textAt($, 'h1')).toBe(name)
    expect(textsAt($, 'button')).toEqual(['Take it into our recipes'])
    expect($('main').text()).not.toMatch(/\bsafe\b/i)
    expect($('main').text()).toContain(definition.source.replace(/\s+/g, ' '))
    expect($('.pack').length).toBe(definition.packs.length)
    expect($('.making li').length).toBe(definition.steps.length)
    // where a time stands, its source does
    if (/\d+ minutes in a/.test($('.verdict').text())) {
      expect(method).toMatch(/canned/)
      expect($('.verdict').text()).toMatch(/Source/)
    }
  })

  test('does not know what is not in it', async () => {
    for (const url of ['/recipes/starters/nothing-like-it', '/recipes/starters/..%2f..', '/recipes/starters/UPPER']) {
      const answer = await app.app.inject({ url })
      expect([400, 404]).toContain(answer.statusCode)
      expectSoundPage(answer.payload)
    }
    expect((await app.call('POST', '/api/recipe-starters/nothing-like-it', {})).statusCode).toBe(404)
  })
})

describe('taking one', () => {
  test('copies it, and from then on says that it is there', async () => {
    const taken = await app.postTaken(path, {})
    expect(await recipes()).toMatchObject([
      { name: plums.name, method: plums.method, definition: plums.definition, version: 1, retired: false },
    ])
    const page = await app.getPage(taken)
    expect(textAt(page, 'h1')).toBe(plums.name)
    expect(textAt(page, '.foot')).toContain('Plums in light syrup added. Rosalind Pike')
    const $ = await app.getPage(path)
    expect($('main form').length).toBe(0)
    expect($('main a').first().attr('href')).toBe(taken)
    const row = (await app.getPage('/recipes/starters'))(`.index a[href="${path}"]`).closest('li')
    expect(row.find('strong').text()).toBe('in our recipes already')
  })

  test('twice from one page takes it once, and from another page is refused in words', async () => {
    const shown = await Promise.all([0, 1].map(() => app.app.inject({ url: path })))
    const send = (page: (typeof shown)[number] | undefined) => {
      if (page === undefined) throw new Error('no page')
      return app.app.inject({
        method: 'POST',
        url: path,
        headers: {
          'content-type': 'application/x-www-form-urlencoded',
          'sec-fetch-site': 'same-origin',
          cookie: cookiesOf(page),
        },
        payload: encodeFields(formFields(expectSoundPage(page.payload))),
      })
    }
    const first = await send(shown[0])
    expect(first.statusCode).toBe(303)
    expect((await send(shown[0])).headers.location).toBe(first.headers.location)
    const other = await send(shown[1])
    expect(other.statusCode).toBe(422)
    expect(problemsIn(expectSoundPage(other.payload))).toEqual([
      'There is a recipe called “Plums in light syrup” already: give that one another name first, or keep it.',
    ])
    expect((await recipes()).length).toBe(1)
  })

  test('leaves a recipe of one’s own, free to change', async () => {
    const taken = await app.postTaken(path, {})
    await app.postTaken(taken, { name: 'Our plums' }, { from: `${taken}/edit` })
    expect((await recipes()).map(({ name }) => name)).toEqual(['Our plums'])
    expect((await app.getPage(path))('main form').length, 'can be taken again').toBe(1)
  })
})

describe('the calls', () => {
  test('list the library with verdicts, and what is there already', async () => {
    const before = (await app.call('GET', '/api/recipe-starters')).json().starters
    expect(before.map(({ key }: { key: string }) => key)).toEqual(starters.map(({ key }) => key))
    expect(before.find(({ key }: { key: string }) => key === plums.key)).toMatchObject({
      definition: plums.definition,
      verdict: { standing: 'tested' },
      ours: null,
    })
    const added = await app.call('POST', `/api/recipe-starters/${plums.key}`, {})
    expect(added.statusCode, added.payload).toBe(201)
    expect(added.json()).toMatchObject({ name: plums.name, version: 1, definition: plums.definition })
    const after = (await app.call('GET', '/api/recipe-starters')).json().starters
    expect(after.find(({ key }: { key: string }) => key === plums.key).ours).toBe(added.json().id)
  })

  test('take one once under one Idempotency-Key, and refuse a name that is taken', async () => {
    const key = { 'idempotency-key': 'starter-0001' }
    const first = await app.call('POST', `/api/recipe-starters/${plums.key}`, {}, key)
    const again = await app.call('POST', `/api/recipe-starters/${plums.key}`, {}, key)
    expect(again.json()).toEqual(first.json())
    const other = await app.call('POST', `/api/recipe-starters/${plums.key}`, {})
    expect(other.statusCode).toBe(422)
    expect(other.json().error.message).toMatch(/already/)
    expect((await recipes()).length).toBe(1)
  })
})
