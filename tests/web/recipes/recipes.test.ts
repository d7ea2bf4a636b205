import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { seedRecipes } from '../../../seed/recipes.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, formFields, problemsIn, textAt, textsAt } from '../../support/html.ts'
import { addNeighbours } from '../../support/neighbours.ts'
import { asDigits } from './typed-recipes.ts'

/** What is changed in a form that is right, where it is said, and what. */
type Wrong = [part: Record<string, string>, field: string, words: string]

let app: TestApp
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  await app.prisma.supply.create({
    data: {
      coopId: app.coopId,
      id: 'sugar',
      key: 'sugar',
      name: 'sugar',
      unit: 'g',
      onHand: 1,
      packSize: 1,
      packPriceMinor: 1,
      packsAtMost: 1,
    },
  })
})
afterAll(() => app?.close())
beforeEach(async () => {
  await app.prisma.plan.deleteMany({ where: { coopId: app.coopId } })
  await app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } })
})

const jam = {
  name: 'Damson jam',
  method: 'water-bath-canned',
  source: 'our own',
  cautions: 'Boiling sugar sticks and burns.\n\n Children stay away from the stove. ',
  workPerKg: 'wash 1, pack 5',
  // the first row is left empty on purpose
  'inputs.1.from': 'crop:damson',
  'inputs.1.suits': 'firm 70, Ripe 100',
  'inputs.1.trim.0.kind': 'stones-stems',
  'inputs.1.trim.0.share': '8',
  'inputs.1.trim.0.byClass': 'damaged 20',
  'packs.0.unit': 'half-pint',
  'packs.0.gramsPerUnit': '0.42 lb',
  'packs.0.worthMinor': '3.30',
  'packs.0.workPerUnit': 'fill 1.5',
  'packs.0.supplies.2.key': 'sugar',
  'packs.0.supplies.2.amount': '165',
  'packs.0.runs.1.name': 'pot',
  'packs.0.runs.1.unitsPerRun': '8',
  'packs.0.runs.1.fillAtLeast': '50',
  'packs.0.runs.1.machineMinutes': 'burner 45 min',
  'packs.0.runs.1.work': 'stove 35',
}
const post = (fields: Record<string, string>) => app.postTaken('/recipes', fields, { from: '/recipes/new' })

async function add(fields: Record<string, string> = jam): Promise<string> {
  return (await post(fields)).split('/').at(-1) ?? ''
}
const read = async (id: string) => (await app.call('GET', `/api/recipes/${id}`)).json()

describe('adding a recipe by the form', () => {
  test('ignores blank rows wherever they stand and reads the rest into one document', async () => {
    const id = await add()
    expect(await read(id)).toEqual({
      id,
      name: 'Damson jam',
      method: 'water-bath-canned',
      retired: false,
      version: 1,
      definition: {
        inputs: [
          {
            from: { crop: 'damson' },
            suits: { firm: 0.7, ripe: 1 },
            share: { min: 1, max: 1 },
            trim: [{ kind: 'stones-stems', share: 0.08, shareByClass: { damaged: 0.2 } }],
          },
        ],
        packs: [
          {
            key: 'half-pint',
            unit: 'half-pint',
            units: 'half-pints',
            jar: null,
            gramsPerUnit: 191,
            worthMinor: 330,
            runs: [
              {
                name: 'pot',
                unitsPerRun: 8,
                fillAtLeast: 0.5,
                machineMinutes: { burner: 45 },
                work: { stove: 35 },
                process: false,
              },
            ],
            workPerUnit: { fill: 1.5 },
            machineMinutesPerUnit: {},
            supplies: { sugar: 165 },
            freezerMl: 0,
            makes: null,
          },
        ],
        ingredients: [],
        process: null,
        steps: [],
        workPerKg: { wash: 1, pack: 5 },
        cautions: ['Boiling sugar sticks and burns.', 'Children stay away from the stove.'],
        source: 'our own',
      },
    })
  })

  test.each<Wrong>([
    [{ name: '' }, 'name', 'Enter what it is called'],
    [{ method: 'fried' }, 'method', 'Choose how it is kept'],
    [{ source: '' }, 'source', 'Say where the figures come from, if only “our own”'],
    [{ 'inputs.1.from': '' }, 'inputs.1.from', 'Choose what goes in'],
    [{ 'inputs.1.from': 'crop:moonfruit' }, 'inputs.1.from', 'Choose a crop from the list'],
    [
      { 'inputs.1.suits': '' },
      'inputs.1.suits',
      'Enter which classes are taken and how well each suits, like “firm 80, ripe 100”',
    ],
    [{ 'inputs.1.suits': 'ripe 0' }, 'inputs.1.suits', 'Give each class more than 0 and at most 100'],
    [
      { 'inputs.1.suits': 'mouldy 5' },
      'inputs.1.suits',
      'Write it like “firm 80, ripe 100”, with firm, ripe, soft, damaged: “mouldy 5” is not understood',
    ],
    [{ 'inputs.1.suits': 'ripe 5, ripe 6' }, 'inputs.1.suits', 'Name ripe once'],
    [
      { 'inputs.1.share': '80 to 50' },
      'inputs.1.share',
      'Enter a share like “100” or “50 to 80”, the smaller number first',
    ],
    [{ 'inputs.1.share': '-5' }, 'inputs.1.share', 'Enter a share like “100” or “50 to 80”'],
    [
      { 'inputs.1.share': '40 to 60' },
      'inputs.1.share',
      'The shares can never make up the whole: together the larger numbers come to less than 100',
    ],
    [{ 'inputs.1.trim.0.share': '120' }, 'inputs.1.trim.0.share', 'Enter how much leaves, like 12'],
    [
      { 'inputs.1.trim.1.kind': 'pomace', 'inputs.1.trim.1.share': '95' },
      'inputs.1.trim.0.share',
      'More leaves as trim than comes in: in each class the shares come to 100 at most',
    ],
    [{ 'packs.0.unit': '' }, 'packs.0.unit', 'Enter what one is called, like “quart”'],
    [
      { 'packs.0.key': 'Half Pint' },
      'packs.0.key',
      'Use small letters, digits and hyphens, like “half-pint”, or leave it empty',
    ],
    [
      { 'packs.0.gramsPerUnit': '0 kg' },
      'packs.0.gramsPerUnit',
      'Enter a weight for one, like “1.25 kg” or “2 3/4 lb”',
    ],
    [{ 'packs.0.gramsPerUnit': 'NaN' }, 'packs.0.gramsPerUnit', 'Enter a weight for one, like “1.25 kg” or “2 3/4 lb”'],
    [
      { 'packs.0.gramsPerUnit': '9999 kg' },
      'packs.0.gramsPerUnit',
      'Enter a weight for one, like “1.25 kg” or “2 3/4 lb”',
    ],
    [{ 'packs.0.worthMinor': '🍯' }, 'packs.0.worthMinor', 'Enter what one is worth, like 4.50'],
    [{ 'packs.0.supplies.2.amount': '-1' }, 'packs.0.supplies.2.amount', 'Enter an amount for one, like 1 or 110'],
    [{ 'packs.0.supplies.2.key': '' }, 'packs.0.supplies.2.key', 'Choose a supply'],
    [
      { 'packs.0.supplies.3.key': 'sugar', 'packs.0.supplies.3.amount': '5' },
      'packs.0.supplies.3.key',
      'Name each supply once',
    ],
    [{ 'packs.0.runs.1.unitsPerRun': '0' }, 'packs.0.runs.1.unitsPerRun', 'Enter how many make a full load, from 1'],
    [
      { 'packs.0.runs.1.machineMinutes': 'rocket 5' },
      'packs.0.runs.1.machineMinutes',
      'Write it like “canner 60, burner 60”, with canner, pressure-canner, steam-canner, burner, oven, dehydrator, press, freezer: “rocket 5” is not understood',
    ],
    [
      { 'packs.0.runs.1.machineMinutes': 'burner 99999' },
      'packs.0.runs.1.machineMinutes',
      'Enter minutes from 0 to a week',
    ],
    [
      { 'packs.2.unit': 'half-pint', 'packs.2.gramsPerUnit': '1 kg', 'packs.2.worthMinor': '1' },
      'packs.2.key',
      'Give each size a short name of its own',
    ],
    [
      {
        'packs.0.makes.name': 'juice',
        'packs.0.makes.gramsPerUnit': '1 kg',
        'packs.0.makes.readyAfterDays': '0',
        'packs.0.makes.keepsDays': '1',
      },
      'packs.0.makes.gramsPerUnit',
      'No more can come out than goes in: enter less than the raw weight for one',
    ],
  ])('refuses %o at %s and keeps everything that was typed', async (part, field, words) => {
    const $ = await app.postRefused('/recipes', { ...jam, ...part }, { from: '/recipes/new' })
    expect(problemsIn($)).toEqual([words])
    expect($('.refused a').attr('href')).toBe(`#field-${field.replaceAll('.', '-')}`)
    expect($(`#field-${field.replaceAll('.', '-')}`).closest('details:not([open])').length, 'is in sight').toBe(0)
    const kept = formFields($)
    for (const [name, typed] of Object.entries({ ...jam, ...part })) {
      const shown = kept[name] ?? ''
      if (name === 'method' || name === 'inputs.1.from' || name.endsWith('.key')) continue
      expect(String(shown).replaceAll('\r\n', '\n'), name).toBe(typed)
    }
    expect(await app.prisma.recipe.count({ where: { coopId: app.coopId } })).toBe(0)
  })

  test('says what is missing when nothing goes in and nothing comes out', async () => {
    const $ = await app.postRefused(
      '/recipes',
      { name: 'Air', method: 'fresh', source: 'ours' },
      { from: '/recipes/new' },
    )
    expect(problemsIn($)).toEqual([
      'Say what goes in: one crop or material at least',
      'Say in what it is put up: one size at least',
    ])
  })

  test('refuses a name that is taken, and takes one that another co-op has', async () => {
    await add()
    const $ = await app.postRefused('/recipes', jam, { from: '/recipes/new' })
    expect(problemsIn($)).toEqual(['There is a recipe of this name already: choose another'])
    await post({ ...jam, name: 'Their jam' })
  })
})

describe('the form for a change', () => {
  test.each(seedRecipes)('sent as it was filled in leaves $name as it is', async ({ name, method, definition }) => {
    const added = await app.call('POST', '/api/recipes', { name, method, definition })
    expect(added.statusCode).toBe(201)
    const { id } = added.json()
    await app.postTaken(`/recipes/${id}`, {}, { from: `/recipes/${id}/edit` })
    expect(await read(id)).toEqual({ ...added.json(), definition: asDigits(added.json().definition), version: 2 })
  })

  test('refuses an older state with 409, keeps what was typed and takes it when sent again', async () => {
    const id = await add()
    await app.postTaken(`/recipes/${id}`, { name: 'First' }, { from: `/recipes/${id}/edit` })
    const late = await app.postForm(`/recipes/${id}`, { name: 'Second', version: '1' }, { from: `/recipes/${id}/edit` })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ name: 'Second', version: '2' })
    await app.postTaken(`/recipes/${id}`, { name: 'Second', version: '2' }, { from: `/recipes/${id}/edit` })
    expect((await read(id)).name).toBe('Second')
  })

  test('does not lose a size that a plan wishes for', async () => {
    const id = await add()
    await app.prisma.plan.create({
      data: {
        coopId: app.coopId,
        id: 'week',
        name: 'Damson week',
        wishes: { create: { recipeId: id, pack: 'half-pint', atLeast: 0, about: 3, atMost: 6, matters: 2 } },
      },
    })
    const answer = await app.postForm(`/recipes/${id}`, { 'packs.0.key': 'small' }, { from: `/recipes/${id}/edit` })
    expect(answer.statusCode).toBe(422)
    expect(problemsIn(expectSoundPage(answer.payload))).toEqual([
      'The plan “Damson week” wishes for “half-pint”: keep a size with that short name',
    ])
    expect(await read(id)).toMatchObject({ version: 1, definition: { packs: [{ key: 'half-pint' }] } })
  })
})

describe('the pages', () => {
  test('list recipes by method', async () => {
    await add()
    await post({ ...jam, name: 'Damsons, frozen', method: 'frozen' })
    const $ = await app.getPage('/recipes')
    expect(textAt($, '.lead')).toBe('2 recipes: 1 water-bath canned, 1 frozen.')
    expect(textsAt($, 'h2')).toEqual(['Water-bath canned', 'Frozen'])
    expect(textsAt($, '.index span')).toEqual([
      'damsons, in half-pints; no tested process is known for it',
      'no tested process is known for it',
      'damsons, in half-pints',
    ])
  })

  test('show what goes in, what a load takes and the caution, and say of a recipe that claims no process that none is known', async () => {
    const $ = await app.getPage(`/recipes/${await add()}`)
    expect(textAt($, '.lead')).toBe('Water-bath canned, from damsons.')
    expect(textsAt($, 'section h3')).toEqual(['What can be done instead', 'Damsons', '8 half-pints take 1.53 kg'])
    expect(textAt($, '#verdict')).toBe('No tested process is known for it')
    expect($('.verdict a[href*="as=frozen"]').length).toBe(1)
    expect(textsAt($, '.goes-in dd')).toEqual(['100 %', 'firm 70 %, ripe 100 %', 'stones and stems 8 % (damaged 20 %)'])
    // 8 half-pints of 191 g: 1.528 kg; 1 and 5 minutes a kilogram, 1.5 a jar, 35 a pot
    expect(textsAt($, '.pack .facts:last-of-type dd')).toEqual([
      '56 min (wash 2 min, stove 35 min, fill 12 min, pack 8 min)',
      '45 min',
    ])
    expect(textsAt($, '.pack .facts:first-of-type dd')).toContain('sugar 165 g')
    expect(textAt($, '.caution')).toBe('Boiling sugar sticks and burns. Children stay away from the stove.')
    expect($('.verdict').text()).not.toMatch(/\d+ min/)
    expect($('main').text()).not.toMatch(/\bsafe/i)
  })

  test('retire a recipe and take it back, each in one tap', async () => {
    const id = await add()
    await app.postTaken(`/recipes/${id}/retirement`, {}, { from: `/recipes/${id}` })
    expect((await read(id)).retired).toBe(true)
    const $ = await app.getPage('/recipes')
    expect(textsAt($, 'h2')).toEqual(['Retired'])
    await app.postTaken(`/recipes/${id}/retirement`, {}, { from: `/recipes/${id}` })
    expect(await read(id)).toMatchObject({ retired: false, version: 3 })
  })
})

describe('the calls', () => {
  const body = () => {
    const first = seedRecipes[0]
    if (first === undefined) throw new Error('no seed recipe')
    return structuredClone(first)
  }

  test('add once under one Idempotency-Key, change, retire', async () => {
    const key = { 'idempotency-key': 'recipes-0001' }
    const { id } = (await app.call('POST', '/api/recipes', body(), key)).json()
    expect((await app.call('POST', '/api/recipes', body(), key)).json().id).toBe(id)
    expect((await app.call('PUT', `/api/recipes/${id}`, { ...body(), name: 'Peaches', version: 1 })).json().name).toBe(
      'Peaches',
    )
    expect((await app.call('PUT', `/api/recipes/${id}`, { ...body(), version: 1 })).statusCode).toBe(409)
    expect((await app.call('PUT', `/api/recipes/${id}/retirement`, { retired: true })).json().retired).toBe(true)
    expect((await app.call('GET', '/api/recipes')).json().recipes.length).toBe(1)
  })

  test.each<[string, (recipe: ReturnType<typeof body>) => unknown, number]>([
    ['an unknown field', (recipe) => Object.assign(recipe.definition, { colour: 'red' }), 400],
    ['a negative weight', (recipe) => Object.assign(recipe.definition.packs[0] ?? {}, { gramsPerUnit: -1 }), 400],
    ['a text that the database cannot hold', (recipe) => Object.assign(recipe.definition, { source: 'a\u0000b' }), 400],
    [
      'a supply with a strange key',
      (recipe) => Object.assign(recipe.definition.packs[0]?.supplies ?? {}, { 'A\u0000': 1 }),
      400,
    ],
    ['no pack', (recipe) => Object.assign(recipe.definition, { packs: [] }), 422],
    ['no input', (recipe) => Object.assign(recipe.definition, { inputs: [] }), 422],
  ])('refuse %s', async (_, spoil, status) => {
    const recipe = body()
    spoil(recipe)
    const answer = await app.call('POST', '/api/recipes', recipe)
    expect(answer.statusCode).toBe(status)
    expect(Object.keys(answer.json().error.fields).every((field) => field.startsWith('definition'))).toBe(true)
  })

  test('do not find what is unknown or another co-op’s', async () => {
    for (const id of ['nowhere', 'their-jam']) {
      expect((await app.app.inject({ url: `/recipes/${id}` })).statusCode).toBe(404)
      expect((await app.app.inject({ url: `/recipes/${id}/edit` })).statusCode).toBe(404)
      expect((await app.call('GET', `/api/recipes/${id}`)).statusCode).toBe(404)
      expect((await app.call('PUT', `/api/recipes/${id}`, { ...body(), version: 1 })).statusCode).toBe(404)
      expect((await app.call('PUT', `/api/recipes/${id}/retirement`, { retired: true })).statusCode).toBe(404)
    }
  })
})

test('a stored document that no longer fits is a fault whose log line names the recipe', async () => {
  const lines: string[] = []
  const other = await testApp({ logLine: (line) => lines.push(line) })
  try {
    await other.prisma.recipe.create({
      data: { coopId: other.coopId, id: 'old', name: 'Grandmother’s jam', method: 'frozen', definition: { packs: 1 } },
    })
    expect((await other.app.inject({ url: '/recipes/old' })).statusCode).toBe(500)
    expect(lines.join('\n')).toContain('Grandmother’s jam')
  } finally {
    await other.close()
  }
})
