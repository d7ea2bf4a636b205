import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { demonstrationApp, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

let kitchen: PlanKitchen
let ids: Awaited<ReturnType<typeof idsOf>>
beforeAll(async () => {
  kitchen = await demonstrationApp()
  ids = await idsOf(kitchen)
  await addNeighbours(kitchen)
  await kitchen.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
})
afterAll(() => kitchen.close())

const versionOf = (id: string) => kitchen.prisma.plan.findFirstOrThrow({ where: { id } }).then(({ version }) => version)

describe('the list of plans', () => {
  it('says of each its lots, its days and that it was not worked out', async () => {
    const $ = await kitchen.getPage('/plans')
    expect(textsAt($, '.entries h2')).toEqual(['The damson week'])
    expect(textAt($, '.entries li .quiet')).toBe('6 lots. Sat, Sep 19; Sun, Sep 20. not worked out yet')
    expect($('a.button').attr('href')).toBe('/plans/new')
  })

  it('refuses a page number that is none', async () => {
    expect((await kitchen.app.inject({ url: '/plans?page=0' })).statusCode).toBe(400)
    expect((await kitchen.app.inject({ url: '/plans?page=emoji' })).statusCode).toBe(400)
    await kitchen.getPage('/plans?page=9')
  })
})

describe('a new plan', () => {
  it('is made in four steps that each lead to the next, with proposed wishes', async () => {
    const days = await kitchen.postTaken(
      '/plans',
      { name: 'Apples and onions', lots: [ids.lot('apple'), ids.lot('onion')] },
      { from: '/plans/new' },
    )
    const plan = days.replace('/days', '')
    const $days = await kitchen.getPage(days)
    expect(textAt($days, '.steps [aria-current]')).toBe('2. When and with whom')
    expect($days('main').text()).toContain('Mara Fenwick 8:00')
    const wishes = await kitchen.postTaken(days, { days: ids.days[0] ?? '' })
    expect(wishes).toBe(`${plan}/wishes`)
    expect(await kitchen.postTaken(wishes, {}, { from: `${wishes}?proposed=yes` })).toBe(`${plan}/outlets`)
    const saved = await kitchen.prisma.wish.findMany({ where: { planId: plan.replace('/plans/', '') } })
    expect(saved.length).toBeGreaterThan(3)
    expect(await kitchen.postTaken(`${plan}/outlets`, { budget: '40', go: 'save' })).toBe(plan)
    const $ = await kitchen.getPage(plan)
    expect(textsAt($, '.entries li p')).toEqual([
      '2 lots, 72 kg',
      'Sat, Sep 19',
      `${saved.length} products`,
      '$40.00 to spend, all outlets open',
    ])
    expect($('.foot').text()).toMatch(/Last change: Apples and onions.*\. Mara Fenwick, Sep 18, 2026/)
    const changes = await kitchen.prisma.change.findMany({ where: { nounId: plan.replace('/plans/', '') } })
    expect(changes.map(({ what }) => what).sort()).toEqual([
      'Apples and onions begun',
      'Apples and onions: budget and outlets chosen',
      'Apples and onions: wishes changed',
      'Apples and onions: work days chosen',
    ])
  })

  it('ticks the lot that it was begun from, and none that is in another plan otherwise', async () => {
    const $ = await kitchen.getPage(`/plans/new?lot=${ids.lot('damson')}`)
    const ticked = $('input[name=lots]:checked')
      .toArray()
      .map((box) => $(box).attr('value'))
    expect(ticked).toEqual([ids.lot('damson')])
    expect((await kitchen.getPage('/plans/new'))('input[name=lots]:checked').length).toBe(0)
  })

  it('offers no lot that was not sorted, and leads to its sorting', async () => {
    const { coopId } = await kitchen.prisma.lot.findFirstOrThrow({ where: { id: ids.lot('apple') } })
    await kitchen.prisma.lot.create({
      data: {
        coopId,
        id: 'unsorted-plums',
        crop: 'plum',
        source: 'donated',
        broughtBy: 'Wilfred Marsh',
        arrivedOn: new Date('2026-09-18T00:00:00Z'),
        storage: 'cool',
        weightGrams: 5_000,
        weightTyped: '5 kg',
      },
    })
    const $ = await kitchen.getPage('/plans/new')
    expect($('input[value=unsorted-plums]').length).toBe(0)
    expect($('a[href="/lots/unsorted-plums"]').text()).toBe('Sort plums, 5 kg')
  })

  it('is refused without a name or a lot, with what was typed kept', async () => {
    const $ = await kitchen.postRefused('/plans', { name: '', lots: [ids.lot('tomato')] }, { from: '/plans/new' })
    expect(problemsIn($)).toEqual(['Give the plan a name, like “The damson week”'])
    expect($(`input[value="${ids.lot('tomato')}"]`).attr('checked')).toBeDefined()
    const $none = await kitchen.postRefused('/plans', { name: 'Nothing', lots: [] }, { from: '/plans/new' })
    expect(problemsIn($none)).toEqual(['Choose one lot at least'])
    expect($none('input[name=name]').attr('value')).toBe('Nothing')
  })

  it('is refused with a lot of another co-op', async () => {
    const $ = await kitchen.postRefused('/plans', { name: 'Theirs', lots: 'their-lot' }, { from: '/plans/new' })
    expect(problemsIn($)).toEqual(['Choose from the lots shown'])
  })
})

describe('the steps of a plan', () => {
  it('refuse an older version with 409, keep what was typed, and take it the second time', async () => {
    const path = `${kitchen.planPath}/outlets`
    await kitchen.postTaken(path, { budget: '80', go: 'save' })
    const version = await versionOf(kitchen.planId)
    const answer = await kitchen.postForm(path, { budget: '70', go: 'save', version: String(version - 1) })
    expect(answer.statusCode).toBe(409)
    expect(answer.payload).toContain('Somebody changed this plan')
    expect(answer.payload).toContain('value="70"')
    expect(answer.payload).toContain(`name="version" value="${version}"`)
    expect(await versionOf(kitchen.planId)).toBe(version)
    await kitchen.postTaken(path, { budget: '90', go: 'save' })
  })

  it.each(['-3', '1.5', '1e9', 'many', '🍎', '999999999', 'NaN'])(
    'refuse %s for a number of jars and keep it',
    async (typed) => {
      const field = `wish.${ids.recipe('Damson jam')}.half-pint.about`
      const $ = await kitchen.postRefused(`${kitchen.planPath}/wishes`, { [field]: typed })
      expect(problemsIn($)).toEqual(['Enter a whole number of half-pints from 0 to 100000, or leave it empty'])
      expect($(`input[name="${field}"]`).attr('value')).toBe(typed)
    },
  )

  it('refuse at least above at most', async () => {
    const row = `wish.${ids.recipe('Damson jam')}.half-pint`
    const typed = { [`${row}.atLeast`]: '30', [`${row}.about`]: '10', [`${row}.atMost`]: '20' }
    expect(problemsIn(await kitchen.postRefused(`${kitchen.planPath}/wishes`, typed))).toEqual([
      'At least must not be above at most',
    ])
  })

  it('read a row that is filled in only partly, and drop one that is emptied', async () => {
    const jam = `wish.${ids.recipe('Damson jam')}.half-pint`
    const pickle = `wish.${ids.recipe('Quick damson pickle')}.pint`
    await kitchen.postTaken(`${kitchen.planPath}/wishes`, {
      [`${jam}.atLeast`]: '',
      [`${jam}.about`]: '12',
      [`${jam}.atMost`]: '',
      [`${pickle}.atLeast`]: '',
      [`${pickle}.about`]: '',
      [`${pickle}.atMost`]: '',
    })
    const wishes = await kitchen.prisma.wish.findMany({ where: { planId: kitchen.planId } })
    expect(wishes.find(({ recipeId }) => recipeId === ids.recipe('Damson jam'))).toMatchObject({
      atLeast: 0,
      about: 12,
      atMost: 12,
      matters: 3,
    })
    expect(wishes.some(({ recipeId }) => recipeId === ids.recipe('Quick damson pickle'))).toBe(false)
    expect(wishes).toHaveLength(14)
  })

  it.each(['', '12,50', '0'])('take %s as the budget', async (budget) => {
    await kitchen.postTaken(`${kitchen.planPath}/outlets`, { budget, go: 'save' })
    const { budgetMinor } = await kitchen.prisma.plan.findFirstOrThrow({ where: { id: kitchen.planId } })
    expect(budgetMinor).toBe({ '': null, '12,50': 1_250, '0': 0 }[budget])
  })

  it.each(['-1', 'much', '1e5', '∞'])('refuse %s as the budget', async (budget) => {
    const $ = await kitchen.postRefused(`${kitchen.planPath}/outlets`, { budget, go: 'save' })
    expect(problemsIn($)).toEqual(['Enter an amount like 90 or 90.50, or leave it empty for no limit'])
    expect($('input[name=budget]').attr('value')).toBe(budget)
  })

  it('keep an outlet closed that is not ticked', async () => {
    const open = ['juice', 'vinegar', 'feed'].map((kind) => ids.outlet(kind))
    await kitchen.postTaken(`${kitchen.planPath}/outlets`, { outlets: open, go: 'save' })
    const closed = await kitchen.prisma.closedOutlet.findMany({ where: { planId: kitchen.planId } })
    expect(closed.map(({ outletId }) => outletId)).toEqual([ids.outlet('compost')])
  })

  it('say what is missing before a plan can be worked out', async () => {
    const days = await kitchen.postTaken(
      '/plans',
      { name: 'Hardly begun', lots: [ids.lot('onion')] },
      { from: '/plans/new' },
    )
    const plan = days.replace('/days', '')
    const $ = await kitchen.getPage(plan)
    expect(textsAt($, 'main > p.soon')).toEqual([
      'Choose a work day that is not over yet.',
      'Say what you would like, for one recipe at least.',
    ])
    expect($('form').length).toBe(0)
    const $refused = await kitchen.postRefused(`${plan}/outlets`, { go: 'divide' })
    expect($refused('.refused').text()).toContain('Choose a work day that is not over yet')
    expect(await kitchen.prisma.division.count()).toBe(0)
  })
})

describe('plans that are not there or another co-op’s', () => {
  it.each([
    '',
    '/lots',
    '/days',
    '/wishes',
    '/outlets',
    '/divisions',
    '/divisions/1',
    '/divisions/1/sheet',
    '/compare?a=1&b=2',
  ])('are not found at %s', async (rest) => {
    for (const id of ['their-plan', 'no-such-plan']) {
      const answer = await kitchen.app.inject({ url: `/plans/${id}${rest}`, headers: { accept: 'text/html' } })
      expect(answer.statusCode, `${id}${rest}`).toBe(404)
      expect(answer.payload).not.toContain('their plan')
    }
  })

  it.each(['lots', 'days', 'wishes', 'outlets', 'divisions'])('take nothing at %s', async (step) => {
    const own = step === 'divisions' ? kitchen.planPath : `${kitchen.planPath}/${step}`
    const shown = await kitchen.app.inject({ url: own })
    const token = /name="_csrf" value="([^"]+)"/.exec(shown.payload)?.[1] ?? ''
    const cookie = shown.cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join('; ')
    const answer = await kitchen.app.inject({
      method: 'POST',
      url: `/plans/their-plan/${step}`,
      headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin', cookie },
      payload: new URLSearchParams({ _csrf: token, _submission: `their-${step}-0001`, version: '1' }).toString(),
    })
    expect(answer.statusCode).toBe(404)
    expect((await kitchen.prisma.plan.findFirstOrThrow({ where: { id: 'their-plan' } })).version).toBe(1)
  })
})

it('a kitchen that has listed neither supplies nor outlets is told what follows, and divides all the same', async () => {
  const outlets = `${kitchen.planPath}/outlets`
  const told = async () => (await kitchen.getPage(outlets))('main').text()
  expect(await told()).not.toMatch(/Nobody counts|No outlet is open/)
  await kitchen.prisma.supply.updateMany({ data: { gone: true } })
  await kitchen.prisma.outlet.updateMany({ data: { open: false } })
  const words = await told()
  expect(words).toMatch(/Nobody counts lids, half-pint jars, .*quart jars.*: nothing like that is among the supplies/)
  expect(words).toContain('No outlet is open, so what is left over counts as lost.')
  const $ = await workedOut(kitchen, await kitchen.postTaken(outlets, { budget: '', go: 'divide' }))
  expect($('main').text()).toMatch(/And to be there, though nobody counts it: .*(quart|pint) jars \d+/)
})
