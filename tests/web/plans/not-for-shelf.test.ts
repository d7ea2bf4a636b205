import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { textAt } from '../../support/html.ts'
import { answerOf, demonstrationApp, divide, idsOf, type PlanKitchen, workedOut } from './kitchen.ts'

let kitchen: PlanKitchen
beforeAll(async () => {
  kitchen = await demonstrationApp()
})
afterAll(() => kitchen?.close())

/** The starter for peach pie filling with flour in place of the modified starch: what many families do. */
function withFlour() {
  const tested = starters.find(({ name }) => name === 'Peach pie filling')
  if (tested === undefined) throw new Error('the library has no peach pie filling')
  const recipe = structuredClone(tested)
  return {
    name: 'Peach pie filling as grandmother made it',
    method: recipe.method,
    definition: {
      ...recipe.definition,
      ingredients: recipe.definition.ingredients.map((one) =>
        one.kind === 'modified-starch' ? { ...one, supply: 'flour', name: 'flour', kind: 'starch' as const } : one,
      ),
    },
  }
}

describe('what follows no tested process', () => {
  test('is not offered in a plan as canned food, with the reason and a way to its recipe', async () => {
    const { id } = (await kitchen.call('POST', '/api/recipes', withFlour())).json()
    const $ = await kitchen.getPage(`${kitchen.planPath}/wishes`)
    expect($('legend').text()).not.toContain('grandmother')
    const said = $(`main li:has(a[href="/recipes/${id}"])`).text()
    expect(said).toMatch(/flour|starch/i)
    const pack = withFlour().definition.packs[0]?.key ?? ''
    const plan = (await kitchen.call('GET', `/api${kitchen.planPath}`)).json()
    const wishes = [{ recipeId: id, pack, atLeast: 0, about: 7, atMost: 7, matters: 2 }]
    const answer = await kitchen.app.inject({
      method: 'PATCH',
      url: `/api${kitchen.planPath}`,
      payload: { version: plan.version, wishes },
    })
    expect(answer.statusCode).toBe(422)
    expect(answer.body).toContain('wishes.0.pack')
  })

  test('is offered once it is frozen instead', async () => {
    const flour = withFlour()
    const frozen = {
      ...flour,
      name: 'Peach pie filling with flour, frozen',
      method: 'frozen',
      definition: {
        ...flour.definition,
        process: null,
        packs: flour.definition.packs.map((pack) => ({
          ...pack,
          jar: null,
          freezerMl: 1100,
          runs: pack.runs.filter((run) => !run.process),
        })),
      },
    }
    const added = await kitchen.call('POST', '/api/recipes', frozen)
    expect(added.statusCode, added.body.slice(0, 300)).toBe(201)
    const $ = await kitchen.getPage(`${kitchen.planPath}/wishes`)
    expect($('legend').text()).toContain('Peach pie filling with flour, frozen')
  })

  test('falls out of a plan that wished for it, and the plan says so', async () => {
    const id = (await idsOf(kitchen)).recipe('Apple pie filling')
    const recipe = (await kitchen.call('GET', `/api/recipes/${id}`)).json()
    const ingredients = recipe.definition.ingredients.map((one: { kind: string }) =>
      one.kind === 'modified-starch' ? { ...one, kind: 'starch' } : one,
    )
    const { name, method, version, definition } = recipe
    await kitchen.call('PUT', `/api/recipes/${id}`, {
      name,
      method,
      version,
      definition: { ...definition, ingredients },
    })
    const $ = await kitchen.getPage(kitchen.planPath)
    expect(textAt($, 'main')).toContain('Wished for, and left out')
    const path = await divide(kitchen)
    await workedOut(kitchen, path)
    const answer = await answerOf(kitchen, path)
    expect(JSON.stringify(answer.question.wishes)).not.toContain(id)
    expect(JSON.stringify(answer.question.recipes)).not.toContain('"starch"')
  })
})

describe('a canner load', () => {
  test('takes the tested minutes of the co-op’s altitude beside heating up and cooling', async () => {
    // USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-19: peaches, hot pack, quarts: 25, 30, 35, 40 minutes;
    // 640 m is 2,100 ft, 1,400 m is 4,593 ft
    const minutesAt = async (altitudeM: number) => {
      await kitchen.prisma.coop.updateMany({ data: { altitudeM } })
      const path = await divide(kitchen)
      await workedOut(kitchen, path)
      const { question } = await answerOf(kitchen, path)
      const recipe = question.recipes.find(({ name }: { name: string }) => name === 'Peach slices in light syrup')
      const pack = recipe.definition.packs.find(({ key }: { key: string }) => key === 'quart')
      return pack.runs.find(({ machineMinutes }: { machineMinutes: object }) => 'canner' in machineMinutes)
        .machineMinutes.canner
    }
    const here = await minutesAt(640)
    expect(await minutesAt(1_400)).toBe(here + 5)
    expect(await minutesAt(300)).toBe(here - 5)
  })
})
