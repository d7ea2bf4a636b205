import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { rowsAt, textAt, textsAt } from '../../support/html.ts'
import { answerOf, demonstrationApp, divide, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

// With the real solver in its thread, two seconds each.

let kitchen: PlanKitchen
let ids: Awaited<ReturnType<typeof idsOf>>
let first: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  ids = await idsOf(kitchen)
  first = await divide(kitchen)
})
afterAll(() => kitchen.close())

describe('a division', () => {
  it('is worked out after its page has answered, and shows how far it is until then', async () => {
    expect(first).toBe(`${kitchen.planPath}/divisions/1`)
    const $working = await kitchen.getPage(first)
    expect(textAt($working, 'h1')).toBe('The damson week: division 1')
    expect($working('[hx-get]').attr('hx-get')).toBe(first)
    expect($working(`form[action="${first}/stop"] button`).text()).toBe('Stop, and take the best so far')
    const $ = await workedOut(kitchen, first)
    expect(textAt($, '.lead')).toMatch(/^187 kg give \d+ jars, .*\.$/)
    expect($('#division').text()).toMatch(
      /Proved best|within \d+(\.\d)? % of the best possible|best possible is not known/,
    )
    expect($('#division').text()).not.toMatch(/\bsafe\b/i)
  })

  it('says “Proved best” only when it is', async () => {
    const { answer } = await answerOf(kitchen, first)
    const $ = await kitchen.getPage(first)
    expect($('#division').text().includes('Proved best')).toBe(answer.result.status === 'proved')
  })

  it('accounts for all that came in: in the beam, and in the table beside the flow', async () => {
    const $ = await kitchen.getPage(first)
    const grams = (text: string) => {
      const [, amount = '', unit] = /^([\d.,]+) (kg|g)/.exec(text) ?? []
      return Number(amount.replace(',', '')) * (unit === 'kg' ? 1000 : 1)
    }
    const beam = textsAt($, '.beam-list .amount').map(grams)
    expect(beam.length).toBeGreaterThan(10)
    // each of them is rounded to three figures
    expect(Math.abs(beam.reduce((sum, part) => sum + part, 0) - 186_500)).toBeLessThan(600)
    const links = rowsAt($, '.table[aria-label="From lots to products and outlets"] table').slice(1)
    const lots = await kitchen.prisma.lot.findMany()
    const fromLots = links.filter(([from]) =>
      /^(Apples|Damsons|Tomatoes|Peaches|Blackberries|Onions)\b(?! (to eat|and))/.test(from ?? ''),
    )
    const total = fromLots.reduce((sum, [, , weight]) => sum + grams(weight ?? ''), 0)
    expect(new Set(fromLots.map(([from]) => from)).size).toBe(lots.length)
    expect(Math.abs(total - 186_500)).toBeLessThan(600)
  })

  it('gives for every product that was wished for a count and a reason why not more', async () => {
    const $ = await kitchen.getPage(first)
    const outcomes = textsAt($, '.outcomes li p:first-of-type')
    expect(outcomes).toHaveLength(15)
    for (const outcome of outcomes) expect(outcome).toMatch(/^(None|[\d,]+ .+ and not more): .+\.$/)
  })

  it('lists what to buy, with what it costs and what is left of the budget', async () => {
    const { answer, question } = await answerOf(kitchen, first)
    const $ = await kitchen.getPage(first)
    const rows = rowsAt($, '.table[aria-label="What to buy"] table')
    expect(rows).toHaveLength(answer.result.purchases.length + 2)
    const spent = answer.result.purchases.reduce((sum: number, { cost }: { cost: number }) => sum + cost, 0)
    expect(spent).toBeLessThanOrEqual(question.budgetMinor)
    expect(rows.at(-1)).toEqual(['Together', `$${(spent / 100).toFixed(2)}`])
    expect($('#shopping').nextAll('p').first().text()).toContain('$90.00 may be spent')
  })

  it('is one sentence in the list of plans and on the plan’s page', async () => {
    const lead = textAt(await kitchen.getPage(first), '.lead').replace(/\.$/, '')
    expect((await kitchen.getPage('/plans'))('.entries').text()).toContain(`${lead};`)
    expect(textAt(await kitchen.getPage(kitchen.planPath), '.lead')).toContain(`${lead};`)
  })

  it('can be printed for the wall, with boxes for products by day and for shopping', async () => {
    const { answer } = await answerOf(kitchen, first)
    const $ = await kitchen.getPage(`${first}/sheet`)
    const batches = answer.result.batches.filter(({ units }: { units: number }) => units > 0)
    const boxes = $('.ticks .box').length
    expect(boxes).toBeGreaterThanOrEqual(batches.length + answer.result.purchases.length)
    expect(textsAt($, '.sheet h2')).toEqual(expect.arrayContaining(['Saturday', 'To buy', 'To take away']))
    expect($('.beam svg').length).toBeGreaterThan(0)
    expect($('.caution').text()).toContain('extension service or food authority')
  })

  it('is found by its number only, and not under another plan', async () => {
    const other = await kitchen.postTaken('/plans', { name: 'Other', lots: [ids.lot('onion')] }, { from: '/plans/new' })
    for (const path of [
      `${kitchen.planPath}/divisions/99`,
      `${kitchen.planPath}/divisions/99/sheet`,
      `${other.replace('/days', '')}/divisions/1`,
      `${kitchen.planPath}/compare?a=1&b=99`,
    ]) {
      expect((await kitchen.app.inject({ url: path })).statusCode, path).toBe(404)
    }
    expect((await kitchen.app.inject({ url: `${kitchen.planPath}/divisions/0` })).statusCode).toBe(400)
    expect((await kitchen.app.inject({ url: `${kitchen.planPath}/divisions/emoji🍎` })).statusCode).toBe(400)
  })
})

describe('changing a division where it stands', () => {
  it('answers a wish for too much jam with why it stopped', async () => {
    const row = `wish.${ids.recipe('Damson jam')}.half-pint`
    const second = await kitchen.postTaken(
      `${kitchen.planPath}/divisions`,
      { [`${row}.atLeast`]: '0', [`${row}.about`]: '900', [`${row}.atMost`]: '999' },
      { from: first },
    )
    expect(second).toBe(`${kitchen.planPath}/divisions/2`)
    const $ = await workedOut(kitchen, second)
    const jam = $('.outcomes li').filter((_, entry) => $(entry).find('h3').text() === 'Damson jam')
    const words = jam.find('p').first().text()
    expect(words).toMatch(/^\d+ half-pints and not more: /)
    expect(words).not.toContain('as many as you wished for')
    expect(words).toMatch(
      /the damsons that suit it|that may be spent|nobody has time|full on|can be had|load|worth more elsewhere/,
    )
    const { question } = await answerOf(kitchen, second)
    expect(question.wishes).toHaveLength(15)
  })

  it('sends leftovers elsewhere when an outlet is closed, and compares the two', async () => {
    const open = ['juice', 'feed', 'compost'].map((kind) => ids.outlet(kind))
    const third = await kitchen.postTaken(
      `${kitchen.planPath}/divisions`,
      { outlets: open },
      { from: `${kitchen.planPath}/divisions/2` },
    )
    await workedOut(kitchen, third)
    const toVinegar = async (path: string) => {
      const { answer } = await answerOf(kitchen, path)
      return answer.result.leftovers.filter(
        ({ to, grams }: { to: { outletId?: string }; grams: number }) =>
          grams > 0 && to.outletId === ids.outlet('vinegar'),
      ).length
    }
    expect(await toVinegar(`${kitchen.planPath}/divisions/2`)).toBeGreaterThan(0)
    expect(await toVinegar(third)).toBe(0)
    const $ = await kitchen.getPage(`${kitchen.planPath}/compare?a=2&b=3`)
    // what the closing brought is only certain where both divisions are proved: the search may differ too
    const statuses = await Promise.all(
      [`${kitchen.planPath}/divisions/2`, third].map(
        async (path) => (await answerOf(kitchen, path)).answer.result.status,
      ),
    )
    const brings = statuses.every((status) => status === 'proved') ? 'That brings' : 'The second has'
    expect(textAt($, '.lead')).toMatch(
      new RegExp(`^Vinegar barrel in the shed is closed\\. ${brings} .+ less for Vinegar barrel in the shed`),
    )
    expect($('.panel svg[role=group]').length).toBe(2)
    const ends = rowsAt($, '.table[aria-label="Where the rest goes"] table')
    const vinegar = ends.find(([name]) => name === 'Vinegar barrel in the shed')
    expect(vinegar?.[2]).toBe('0 g')
    expect(vinegar?.[3]).toMatch(/^−/)
    // the older one says that it is no longer what the plan asks
    const $older = await kitchen.getPage(`${kitchen.planPath}/divisions/2`)
    expect($older('.panel').text()).toContain('Vinegar barrel in the shed is closed.')
  })

  it('compares with a division of another plan by its id', async () => {
    const { id } = await answerOf(kitchen, first)
    const other = await kitchen.call('POST', '/api/plans', {
      name: 'Onions alone',
      lotIds: [ids.lot('onion'), ids.lot('apple')],
      dayIds: [ids.days[0]],
      wishes: [{ recipeId: ids.recipe('Apple sauce'), pack: 'quart', atLeast: 0, about: 7, atMost: 14, matters: 2 }],
    })
    const planPath = `/plans/${other.json().id}`
    await workedOut(kitchen, await divide(kitchen, planPath))
    const $ = await kitchen.getPage(`${planPath}/compare?a=${id}&b=1`)
    expect(textAt($, 'h1')).toBe('The damson week, division 1 beside Onions alone, division 1')
    expect(textAt($, '.lead')).toContain('is left out')
  })

  it('is refused with what was typed kept, on the division’s own page', async () => {
    const row = `wish.${ids.recipe('Damson jam')}.half-pint`
    const $ = await kitchen.postRefused(`${kitchen.planPath}/divisions`, { [`${row}.about`]: 'lots' }, { from: first })
    expect(textAt($, 'h1')).toBe('The damson week: division 1')
    expect($(`input[name="${row}.about"]`).attr('value')).toBe('lots')
    expect($('#change details').attr('open')).toBeDefined()
    expect(await kitchen.prisma.division.count({ where: { planId: kitchen.planId } })).toBe(3)
  })

  it('is refused when somebody was quicker', async () => {
    const answer = await kitchen.postForm(
      `${kitchen.planPath}/divisions`,
      { budget: '55', version: '1' },
      { from: first },
    )
    expect(answer.statusCode).toBe(409)
    expect(answer.payload).toContain('Somebody changed this plan')
    expect(answer.payload).toContain('value="55"')
  })
})
