import { afterAll, beforeAll, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { textAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { addJars } from '../shelf/jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
})
afterAll(() => app?.close())

test('before anything was made the page says what will be there', async () => {
  expect(textAt(await app.getPage('/yields'), 'main')).toContain('No batch has been finished yet')
  expect((await app.call('GET', '/api/yields')).json()).toEqual([])
})

test('batches move what is expected by the closed form, units that did not seal included', async () => {
  const recipe = await app.call('POST', '/api/recipes', {
    name: 'Frozen damsons',
    method: 'frozen',
    definition: jam,
  })
  expect(recipe.statusCode).toBe(201)
  const { id: recipeId } = recipe.json()
  for (let made = 0; made < 4; made++) {
    // 12 expected, 14 and one that did not seal came: the ratio is 1.25
    const as = { expectedUnits: 12, unsealed: 1, expectedHandMinutes: 60, handMinutes: 60 }
    await addJars(app, 14, { recipeId, pack: 'half-pint', ...as })
  }
  const [learnt] = (await app.call('GET', '/api/yields')).json()
  // four batches of a strength of four: (4 ln 1.25) / (4 + 4), so √1.25
  expect(learnt.yieldByPack['half-pint'].factor).toBeCloseTo(Math.sqrt(1.25), 9)
  expect(learnt.minutes).toMatchObject({ factor: 1, batches: 4 })
  const page = textAt(await app.getPage('/yields'), 'main')
  expect(page).toContain('Frozen damsons')
  // ten kilograms at 500 g a jar are 20 by the recipe, 22.4 as learnt
  expect(page).toContain('22.4')
  expect(page).toContain('as the recipe says, after 4 batches')
})

const jam = {
  inputs: [{ from: { crop: 'damson' }, suits: { ripe: 1 }, share: { min: 1, max: 1 }, trim: [] }],
  packs: [
    {
      key: 'half-pint',
      unit: 'half-pint',
      units: 'half-pints',
      jar: null,
      gramsPerUnit: 500,
      worthMinor: 300,
      runs: [],
      workPerUnit: {},
      machineMinutesPerUnit: {},
      supplies: {},
      freezerMl: 0,
      makes: null,
    },
  ],
  ingredients: [],
  process: null,
  steps: [],
  workPerKg: { cut: 4 },
  cautions: [],
  source: 'a test',
}
