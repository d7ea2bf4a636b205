import { describe, expect, test } from 'vitest'
import {
  checkRecipe,
  type Ingredient,
  type Pack,
  type ProcessClaim,
  type RecipeDefinition,
  type RecipeFault,
  recipeFaults,
  type Step,
} from '../../../src/core/recipes/index.ts'

const quart: Pack = {
  key: 'quart',
  unit: 'quart',
  units: 'quarts',
  jar: null,
  gramsPerUnit: 1250,
  worthMinor: 500,
  runs: [
    {
      name: 'canner load',
      unitsPerRun: 7,
      fillAtLeast: 0.5,
      machineMinutes: { canner: 60 },
      work: { stove: 8 },
      process: false,
    },
  ],
  workPerUnit: { fill: 2 },
  machineMinutesPerUnit: {},
  supplies: { 'jar-quart': 1, sugar: 110 },
  freezerMl: 0,
  makes: { material: 'damson-juice', name: 'damson juice', gramsPerUnit: 200, readyAfterDays: 1, keepsDays: 2 },
}
const sound: RecipeDefinition = {
  inputs: [
    { from: { crop: 'damson' }, suits: { ripe: 1, soft: 0.7 }, share: { min: 0.6, max: 1 }, trim: [] },
    { from: { material: 'apple-juice' }, suits: {}, share: { min: 0, max: 0.4 }, trim: [] },
  ],
  packs: [quart],
  workPerKg: { wash: 1 },
  ingredients: [],
  process: null,
  steps: [],
  cautions: [],
  source: 'made up',
}

const lemon: Ingredient = {
  supply: 'lemon-juice',
  name: 'bottled lemon juice',
  kind: 'bottled-lemon-juice',
  unit: 'ml',
  perKg: 0,
  perUnit: { quart: 30 },
}
const plums: ProcessClaim = {
  product: 'plums',
  form: 'halved or whole',
  pack: 'hot',
  local: null,
  minutes: 25,
  headspaceMm: 13,
}
const cooking: Step = {
  says: 'Cook it for five minutes',
  station: 'stove',
  work: 'stove',
  hands: 1,
  minutes: { perKg: 1, perUnit: 0, perRun: 5 },
  waitMinutes: 0,
  equipment: ['burner'],
  thenAtOnce: true,
}

type Part = Record<string, unknown>
const withInput = (part: Part) => ({ ...sound, inputs: [{ ...sound.inputs[0], ...part }] }) as RecipeDefinition
const withPack = (part: Part) => ({ ...sound, packs: [{ ...quart, ...part }] }) as RecipeDefinition
const withRun = (part: Part) => withPack({ runs: [{ ...quart.runs[0], ...part }] })
const withMakes = (part: Part) => withPack({ makes: { ...quart.makes, ...part } })
const all = { min: 1, max: 1 }
const withIngredient = (part: Part) => ({ ...sound, ingredients: [{ ...lemon, ...part }] }) as RecipeDefinition
const withClaim = (part: Part) => ({ ...sound, process: { ...plums, ...part } }) as RecipeDefinition
const withStep = (part: Part) => ({ ...sound, steps: [{ ...cooking, ...part }] }) as RecipeDefinition
const damson = { from: { crop: 'damson' }, suits: { ripe: 1 }, trim: [] }

const cases: [RecipeFault, string, RecipeDefinition][] = [
  ['no-input', 'inputs', { ...sound, inputs: [] }],
  [
    'same-input-twice',
    'inputs.1.from',
    {
      ...sound,
      inputs: [
        { ...damson, share: { min: 0.5, max: 0.5 } },
        { ...damson, share: { min: 0.5, max: 0.5 } },
      ],
    },
  ],
  ['unknown-crop', 'inputs.0.from', withInput({ from: { crop: 'moonfruit' }, share: all })],
  ['no-class', 'inputs.0.suits', withInput({ suits: {}, share: all })],
  ['class-of-material', 'inputs.0.suits', withInput({ from: { material: 'apple-juice' }, share: all })],
  ['suit-out-of-range', 'inputs.0.suits', withInput({ suits: { ripe: 0 }, share: all })],
  ['suit-out-of-range', 'inputs.0.suits', withInput({ suits: { ripe: 1.01 }, share: all })],
  ['suit-out-of-range', 'inputs.0.suits', withInput({ suits: { ripe: Number.NaN }, share: all })],
  ['share-out-of-range', 'inputs.0.share', withInput({ share: { min: 0.5, max: 1.2 } })],
  ['share-out-of-range', 'inputs.0.share', withInput({ share: { min: 1, max: 0.9995 } })],
  ['share-out-of-range', 'inputs.0.share', withInput({ share: { min: -0.1, max: 1 } })],
  ['shares-below-whole', 'inputs', withInput({ share: { min: 0.5, max: 0.9 } })],
  [
    'shares-above-whole',
    'inputs',
    {
      ...sound,
      inputs: [
        { ...damson, share: { min: 0.7, max: 1 } },
        { from: { material: 'x' }, suits: {}, share: { min: 0.4, max: 0.5 }, trim: [] },
      ],
    },
  ],
  ['trim-above-whole', 'inputs.0.trim', withInput({ share: all, trim: [{ kind: 'pomace', share: 1.1 }] })],
  [
    'trim-above-whole',
    'inputs.0.trim',
    withInput({
      share: all,
      trim: [
        { kind: 'pomace', share: 0.6 },
        { kind: 'stones-stems', share: 0.1, shareByClass: { soft: 0.5 } },
      ],
    }),
  ],
  ['no-pack', 'packs', { ...sound, packs: [] }],
  ['pack-key-twice', 'packs.1.key', { ...sound, packs: [quart, quart] }],
  ['weight-not-positive', 'packs.0.gramsPerUnit', withPack({ gramsPerUnit: 0, makes: null })],
  ['weight-not-positive', 'packs.0.gramsPerUnit', withPack({ gramsPerUnit: 12.5, makes: null })],
  ['worth-negative', 'packs.0.worthMinor', withPack({ worthMinor: -1 })],
  ['run-holds-nothing', 'packs.0.runs.0.unitsPerRun', withRun({ unitsPerRun: 0 })],
  ['fill-out-of-range', 'packs.0.runs.0.fillAtLeast', withRun({ fillAtLeast: 1.5 })],
  ['minutes-not-possible', 'packs.0.runs.0.machineMinutes', withRun({ machineMinutes: { canner: -5 } })],
  ['minutes-not-possible', 'packs.0.runs.0.work', withRun({ work: { stove: Number.POSITIVE_INFINITY } })],
  ['minutes-not-possible', 'workPerKg', { ...sound, workPerKg: { wash: 20_000 } }],
  ['supply-not-positive', 'packs.0.supplies', withPack({ supplies: { sugar: 0 } })],
  ['freezer-not-possible', 'packs.0.freezerMl', withPack({ freezerMl: -1 })],
  ['makes-nothing', 'packs.0.makes.gramsPerUnit', withMakes({ gramsPerUnit: 0 })],
  ['makes-more-than-goes-in', 'packs.0.makes.gramsPerUnit', withMakes({ gramsPerUnit: 1251 })],
  ['keeps-shorter-than-it-waits', 'packs.0.makes.keepsDays', withMakes({ keepsDays: 0 })],
  ['ingredient-without-name', 'ingredients.0.name', withIngredient({ name: ' ' })],
  ['ingredient-not-positive', 'ingredients.0.perKg', withIngredient({ perUnit: {} })],
  ['ingredient-not-positive', 'ingredients.0.perKg', withIngredient({ perKg: -1 })],
  ['ingredient-not-positive', 'ingredients.0.perKg', withIngredient({ perKg: Number.NaN })],
  ['ingredient-not-positive', 'ingredients.0.perUnit', withIngredient({ perUnit: { quart: 0 } })],
  ['ingredient-for-no-pack', 'ingredients.0.perUnit', withIngredient({ perUnit: { pint: 15 } })],
  ['unit-of-another-kind', 'ingredients.0.unit', withIngredient({ unit: 'piece' })],
  ['unit-of-another-kind', 'ingredients.0.unit', withIngredient({ kind: 'starch', unit: 'ml' })],
  ['claim-without-product', 'process.product', withClaim({ product: '' })],
  ['claimed-minutes-not-possible', 'process.minutes', withClaim({ minutes: 0 })],
  ['claimed-minutes-not-possible', 'process.minutes', withClaim({ minutes: Number.NaN })],
  ['claimed-headspace-not-possible', 'process.headspaceMm', withClaim({ headspaceMm: -1 })],
  ['heated-without-claim', 'packs.0.runs.0.process', withRun({ process: true })],
  ['step-without-words', 'steps.0.says', withStep({ says: '' })],
  ['hands-not-possible', 'steps.0.hands', withStep({ hands: 0 })],
  ['hands-not-possible', 'steps.0.hands', withStep({ hands: 1.5 })],
  ['minutes-not-possible', 'steps.0.minutes', withStep({ minutes: { perKg: -1, perUnit: 0, perRun: 0 } })],
  ['hands-without-work', 'steps.0.minutes', withStep({ work: null })],
  ['wait-not-possible', 'steps.0.waitMinutes', withStep({ waitMinutes: 50_000 })],
]

describe('checking a recipe', () => {
  test('finds nothing in a sound one', () => expect(checkRecipe(sound)).toEqual([]))

  test.each(cases)('names %s at %s', (fault, at, definition) => {
    expect(checkRecipe(definition)).toEqual([{ at, fault }])
  })

  test('lets a claim stand only where jars are heated', () => {
    const claims = withClaim({})
    expect(checkRecipe(claims, 'frozen')).toEqual([{ at: 'process', fault: 'claim-on-uncanned' }])
    expect(checkRecipe(claims, 'water-bath-canned')).toEqual([])
    expect(checkRecipe(claims)).toEqual([])
  })

  test('takes a whole recipe with its ingredients, claim, heated run and steps', () => {
    const waiting = { ...cooking, work: null, hands: 0, minutes: { perKg: 0, perUnit: 0, perRun: 0 }, waitMinutes: 720 }
    const heated = { ...quart, jar: 'quart' as const, runs: quart.runs.map((run) => ({ ...run, process: true })) }
    const whole = { ...sound, packs: [heated], ingredients: [lemon], process: plums, steps: [cooking, waiting] }
    expect(checkRecipe(whole, 'water-bath-canned')).toEqual([])
  })

  test('names every fault of the list in some case', () => {
    expect([...new Set(['claim-on-uncanned', ...cases.map(([fault]) => fault)])].sort()).toEqual(
      [...recipeFaults].sort(),
    )
  })

  test('takes thirds typed in percent', () => {
    const third = { min: 0.333, max: 0.3335 }
    const inputs = ['damson', 'apple', 'blackberry'].map((key) => ({ ...damson, from: { crop: key }, share: third }))
    expect(checkRecipe({ ...sound, inputs })).toEqual([])
  })
})
