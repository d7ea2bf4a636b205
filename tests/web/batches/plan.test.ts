import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { formFields, textAt, textsAt } from '../../support/html.ts'
import { demonstrationApp, divide, type PlanKitchen, workedOut } from '../plans/kitchen.ts'
import { unequalStocks } from './kitchen.ts'

let kitchen: PlanKitchen
let coopId: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  coopId = (await kitchen.prisma.plan.findFirstOrThrow()).coopId
  await kitchen.prisma.place.createMany({
    data: [
      { coopId, id: 'test-pantry', name: 'A test pantry', kind: 'pantry' },
      { coopId, id: 'test-fridge', name: 'A test fridge', kind: 'refrigerator' },
      { coopId, id: 'test-freezer', name: 'A test freezer', kind: 'freezer' },
    ],
  })
  await workedOut(kitchen, await divide(kitchen))
})
afterAll(() => kitchen?.close())

const listPath = () => `/batches/new?plan=${kitchen.planId}`

/** Links to the forms of what is still to be finished. */
async function open(): Promise<string[]> {
  const $ = await kitchen.getPage(listPath())
  return $('a.button')
    .toArray()
    .map((link) => $(link).attr('href') ?? '')
}

describe('a plan that was divided', () => {
  test('leads to its batches, each with a form that is filled in', async () => {
    const $ = await kitchen.getPage(kitchen.planPath)
    expect($(`a[href="${listPath()}"]`).length).toBe(1)
    const links = await open()
    expect(links.length).toBeGreaterThan(3)
    const division = await kitchen.call('GET', `/api${kitchen.planPath}/divisions/1`)
    for (const link of links.slice(0, 4)) {
      const form = formFields(await kitchen.getPage(link), 'form[method="post"]')
      const id = String(form['planned'])
      const made = division
        .json()
        .answer.result.batches.find(
          ({ productId, day }: { productId: string; day: number }) => `${productId}@${day}` === id,
        )
      expect(form['units'], id).toBe(String(made.units))
      expect(Number(form['handMinutes'])).toBeGreaterThan(0)
    }
  })

  test('has one batch less to finish after one was finished, and its lots are to the gram what they were', async () => {
    const before = await open()
    const wanted = before.find((link) => link.includes('damson')) ?? before[0] ?? ''
    const form = formFields(await kitchen.getPage(wanted), 'form[method="post"]')
    const lotFields = Object.entries(form).filter(([name, value]) => name.startsWith('lot.') && value !== '')
    const lotIds = [...new Set(lotFields.map(([name]) => name.split('.')[1] ?? ''))]
    const wholes = await Promise.all(lotIds.map(wholeOf))
    // whatever the recipe, cold is a place that takes it; what was planned may be a little off by now
    const recipe = await kitchen.prisma.recipe.findFirstOrThrow({ where: { id: String(form['recipe']) } })
    const place =
      recipe.method === 'frozen' ? 'test-freezer' : recipe.method === 'dried' ? 'test-pantry' : 'test-fridge'
    const path = await kitchen.postTaken('/batches', { placeId: place, sure: 'yes' }, { from: wanted })
    const id = path.replace('/batches/', '')
    const batch = await kitchen.prisma.batch.findFirstOrThrow({ where: { id }, include: { inputs: true } })
    expect(batch).toMatchObject({
      planId: kitchen.planId,
      planned: form['planned'],
      expectedUnits: Number(form['units']),
    })
    expect(batch.inputs.reduce((sum, { grams }) => sum + grams, 0)).toBe(batch.inGrams)
    expect(await Promise.all(lotIds.map(wholeOf))).toEqual(wholes)
    for (const lotId of lotIds) {
      const used = await kitchen.prisma.sorting.findFirstOrThrow({ where: { lotId }, orderBy: { createdAt: 'desc' } })
      const took = batch.inputs.filter((input) => input.lotId === lotId).reduce((sum, { grams }) => sum + grams, 0)
      expect(used).toMatchObject({ how: 'used', usedGrams: took })
    }
    expect(await open()).toEqual(before.filter((link) => link !== wanted))
    const again = await kitchen.getPage(wanted)
    expect(textAt(again, '.lead')).toContain('1 done')
    expect(textsAt(again, 'main li a').some((text) => text.includes(batch.code))).toBe(true)
    expect(await unequalStocks({ ...kitchen, coopId })).toEqual([])
  })

  test('a batch is finished once, though two send its form', async () => {
    const [wanted = ''] = await open()
    const form = formFields(await kitchen.getPage(wanted), 'form[method="post"]')
    const body = {
      recipeId: form['recipe'],
      pack: form['pack'],
      plan: { planId: kitchen.planId, planned: form['planned'] },
      madeOn: '2026-09-18',
      otherGrams: 1000,
      units: 2,
      placeId: 'test-freezer',
    }
    const answers = await Promise.all([1, 2].map(() => kitchen.call('POST', '/api/batches', body)))
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409])
    const numbers = await kitchen.prisma.batch.findMany({ orderBy: { number: 'asc' } })
    expect(new Set(numbers.map(({ number }) => number)).size).toBe(numbers.length)
  })
})

async function wholeOf(lotId: string): Promise<number> {
  const row = await kitchen.prisma.sorting.findFirstOrThrow({ where: { lotId }, orderBy: { createdAt: 'desc' } })
  const { firmGrams, ripeGrams, softGrams, damagedGrams, setAsideGrams, lostGrams, usedGrams } = row
  return firmGrams + ripeGrams + softGrams + damagedGrams + setAsideGrams + lostGrams + usedGrams
}
