import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'
import { demonstrationApp, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

let kitchen: PlanKitchen
let ids: Awaited<ReturnType<typeof idsOf>>
beforeAll(async () => {
  kitchen = await demonstrationApp({ environment: { SOLVE_SECONDS: '1' } })
  ids = await idsOf(kitchen)
  await addNeighbours(kitchen)
  await kitchen.prisma.plan.create({ data: { coopId: neighboursId, id: 'their-plan', name: 'their plan' } })
})
afterAll(() => kitchen.close())

const wish = (changes: object = {}) => ({
  recipeId: ids.recipe('Apple sauce'),
  pack: 'quart',
  atLeast: 0,
  about: 7,
  atMost: 14,
  matters: 2,
  ...changes,
})

async function newPlan(): Promise<string> {
  const answer = await kitchen.call('POST', '/api/plans', {
    name: 'Sauce',
    lotIds: [ids.lot('apple')],
    dayIds: [ids.days[0]],
    wishes: [wish()],
  })
  expect(answer.statusCode, answer.body).toBe(201)
  return answer.json().id
}

function patch(id: string, payload: object) {
  return kitchen.app.inject({ method: 'PATCH', url: `/api/plans/${id}`, payload })
}

describe('the calls for plans', () => {
  it('list, make, read and change a plan', async () => {
    const id = await newPlan()
    const list = (await kitchen.call('GET', '/api/plans')).json()
    expect(list.plans.map((plan: { id: string }) => plan.id)).toContain(id)
    expect(list.plans.some((plan: { name: string }) => plan.name === 'their plan')).toBe(false)
    const changed = await patch(id, { version: 1, budgetMinor: 4_500, closedOutletIds: [ids.outlet('compost')] })
    expect(changed.statusCode, changed.body).toBe(200)
    const plan = (await kitchen.call('GET', `/api/plans/${id}`)).json()
    expect(plan).toMatchObject({
      name: 'Sauce',
      version: 2,
      budgetMinor: 4_500,
      closedOutletIds: [ids.outlet('compost')],
      lotIds: [ids.lot('apple')],
      wishes: [wish()],
      divisions: [],
    })
    expect((await patch(id, { version: 1, name: 'Late' })).statusCode).toBe(409)
  })

  it.each([
    ['a lot of another co-op', { lotIds: ['their-lot'] }, 422],
    [
      'a recipe of another co-op',
      { wishes: [{ recipeId: 'their-jam', pack: 'x', atLeast: 0, about: 1, atMost: 1, matters: 1 }] },
      422,
    ],
    ['an outlet of another co-op', { closedOutletIds: ['their-pigs'] }, 422],
    ['a day of another co-op', { dayIds: ['their-day'] }, 422],
    ['the same lot twice', { lotIds: ['twice', 'twice'] }, 422],
    ['an empty name', { name: ' ' }, 400],
    ['a negative budget', { budgetMinor: -1 }, 400],
    ['half a cent', { budgetMinor: 0.5 }, 400],
    ['a field that there is not', { colour: 'red' }, 400],
    ['a list of texts for a list of ids', { lotIds: ['🍎'] }, 400],
  ])('refuse %s and save nothing', async (_, change, status) => {
    const before = await kitchen.prisma.plan.count()
    const made = await kitchen.call('POST', '/api/plans', { name: 'Refused', ...change })
    expect(made.statusCode, made.body).toBe(status)
    expect(made.json().error.message).toMatch(/\w/)
    expect(await kitchen.prisma.plan.count()).toBe(before)
  })

  it.each([
    { atLeast: 20, about: 7, atMost: 14 },
    { about: 20, atMost: 14 },
    { atLeast: -1 },
    { about: 1e12, atMost: 1e12 },
    { matters: 4 },
  ])('refuse the wish %o', async (changes) => {
    const id = await newPlan()
    expect((await patch(id, { version: 1, wishes: [wish(changes)] })).statusCode).toBe(400)
  })

  it('find nothing of another co-op', async () => {
    for (const url of [
      '/api/plans/their-plan',
      '/api/plans/their-plan/divisions/1',
      '/api/plans/their-plan/compare?a=1&b=2',
    ]) {
      expect((await kitchen.app.inject({ url })).statusCode, url).toBe(404)
    }
    expect((await patch('their-plan', { version: 1, name: 'Mine' })).statusCode).toBe(404)
    expect((await kitchen.call('POST', '/api/plans/their-plan/divisions', {})).statusCode).toBe(404)
    expect((await kitchen.call('POST', '/api/plans/their-plan/divisions/1/stop', {})).statusCode).toBe(404)
  })
})

describe('the calls for divisions', () => {
  it('answer at once where to look, then tell progress, and the answer when it is there', async () => {
    const id = await newPlan()
    const asked = await kitchen.call(
      'POST',
      `/api/plans/${id}/divisions`,
      { version: 1 },
      { 'idempotency-key': 'sauce-once-1' },
    )
    expect(asked.statusCode, asked.body).toBe(202)
    expect(asked.headers.location).toBe(`/api/plans/${id}/divisions/1`)
    const again = await kitchen.call(
      'POST',
      `/api/plans/${id}/divisions`,
      { version: 1 },
      { 'idempotency-key': 'sauce-once-1' },
    )
    expect(again.json()).toEqual(asked.json())
    const before = (await kitchen.call('GET', `/api/plans/${id}/divisions/1`)).json()
    expect(['waiting', 'solving']).toContain(before.state)
    expect(before.answer).toBeNull()
    await workedOut(kitchen, `/plans/${id}/divisions/1`)
    const division = (await kitchen.call('GET', `/api/plans/${id}/divisions/1`)).json()
    expect(division.state).toBe('done')
    expect(division.planMoved).toBe(false)
    const { result, headline } = division.answer
    const units = result.batches.reduce((sum: number, batch: { units: number }) => sum + batch.units, 0)
    expect(units).toBeGreaterThan(0)
    expect(headline.counts).toEqual([{ unit: 'jar', units: 'jars', many: units }])
    expect(headline.cameInGrams).toBe(65_000)

    await patch(id, { version: 1, wishes: [wish({ about: 1, atMost: 1 })] })
    await kitchen.call('POST', `/api/plans/${id}/divisions`, {})
    await workedOut(kitchen, `/plans/${id}/divisions/2`)
    const compared = (await kitchen.call('GET', `/api/plans/${id}/compare?a=1&b=2`)).json()
    const sauce = compared.products.find(({ productId }: { productId: string }) => productId.endsWith(':quart'))
    expect(sauce.a).toBe(units)
    expect(sauce.difference).toBe(sauce.b - units)
    expect(sauce.b).toBeLessThanOrEqual(1)
    expect(compared.sentence).toContain('Apple sauce (quart): about 1')
    const ends = compared.ends.reduce((sum: number, { difference }: { difference: number }) => sum + difference, 0)
    expect(ends).toBeGreaterThan(0)
  })

  it('refuse a version that is not the newest, and a plan that asks for nothing', async () => {
    const id = await newPlan()
    await patch(id, { version: 1, wishes: [] })
    expect((await kitchen.call('POST', `/api/plans/${id}/divisions`, { version: 1 })).statusCode).toBe(409)
    const nothing = await kitchen.call('POST', `/api/plans/${id}/divisions`, { version: 2 })
    expect(nothing.statusCode).toBe(422)
    expect(nothing.json().error.fields.wishes).toBe('Say what you would like, for one recipe at least')
    expect(await kitchen.prisma.division.count({ where: { planId: id } })).toBe(0)
  })

  it('stop one that waits for its turn: it is answered with the best that is found at once', async () => {
    // the demonstration's plan takes all of its second, so that the second one has to wait
    const calls = `/api/plans/${kitchen.planId}/divisions`
    await kitchen.call('POST', calls, {})
    await kitchen.call('POST', calls, {})
    const stopped = await kitchen.call('POST', `${calls}/2/stop`, {})
    expect(stopped.statusCode).toBe(202)
    expect(stopped.json().location).toBe(`${calls}/2`)
    await workedOut(kitchen, `${kitchen.planPath}/divisions/2`)
    const division = (await kitchen.call('GET', `${calls}/2`)).json()
    expect(division).toMatchObject({ state: 'done', stopAsked: true })
    expect(division.answer.result.status).not.toBe('proved')
  })

  it('compare only divisions that have an answer', async () => {
    const id = await newPlan()
    expect((await kitchen.call('GET', `/api/plans/${id}/compare?a=1&b=1`)).statusCode).toBe(404)
    expect((await kitchen.call('GET', `/api/plans/${id}/compare?a=1`)).statusCode).toBe(400)
  })
})
