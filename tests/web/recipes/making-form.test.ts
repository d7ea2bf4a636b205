import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { jarSizes, packStyles } from '../../../src/core/process/index.ts'
import { crops } from '../../../src/core/produce/index.ts'
import {
  equipmentKinds,
  methods,
  ripenessClasses,
  stations,
  trimKinds,
  workKinds,
} from '../../../src/core/produce/vocabulary.ts'
import { checkRecipe, ingredientKinds, type RecipeDefinition, verdictOn } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { readRecipeForm } from '../../../src/features/recipes/forms.ts'
import type { RecipeValues } from '../../../src/features/recipes/queries.ts'
import { recipeTyped } from '../../../src/features/recipes/typed.ts'
import type { Typed } from '../../../src/web/forms.ts'
import { asDigits } from './typed-recipes.ts'

const asTyped = (values: RecipeValues): Typed => recipeTyped({ ...values, id: 'some', version: 3, retired: false })

describe('what is filled in for a change reads as the same recipe', () => {
  test.each(starters)('for $name', ({ name, method, definition }) => {
    const read = readRecipeForm(asTyped({ name, method, definition }))
    expect(read.errors).toEqual({})
    expect(read.ok && read.values).toEqual({ name, method, definition: asDigits(definition) })
  })

  test.each(starters)('and $name stands as it stood', ({ name, method, definition }) => {
    const read = readRecipeForm(asTyped({ name, method, definition }))
    const standing = (recipe: RecipeValues) =>
      verdictOn(recipe, { altitudeM: 640, gauges: ['dial', 'weighted'], local: [] }).packs.map((one) => one.standing)
    expect(read.ok && standing(read.values)).toEqual(standing({ name, method, definition }))
  })

  test('for any recipe that can be stored', () => {
    fc.assert(
      fc.property(anyRecipe, (values) => {
        const read = readRecipeForm(asTyped(values))
        expect(read.errors).toEqual({})
        expect(read.ok && read.values).toEqual({ ...values, definition: asDigits(values.definition) })
      }),
      { numRuns: 60 },
    )
  })
})

const words = fc.stringMatching(/^[A-Za-z][A-Za-zé’,;%()0-9 -]{0,37}[a-z]$/).map((text) => text.replace(/ +/g, ' '))
const key = fc.stringMatching(/^[a-z][a-z0-9]{0,9}(-[a-z0-9]{1,8})?$/)
const share = fc.integer({ min: 1, max: 1_000_000 }).map((part) => part / 1_000_000)
const minutes = fc.integer({ min: 1, max: 600_000 }).map((many) => many / 1000)
const amount = fc.integer({ min: 1, max: 9_999_999 }).map((many) => many / 1000)

function some<K extends string, V>(keys: readonly K[], value: fc.Arbitrary<V>): fc.Arbitrary<Partial<Record<K, V>>> {
  return fc
    .subarray([...keys])
    .chain((chosen) =>
      fc
        .tuple(...chosen.map(() => value))
        .map((values) => Object.fromEntries(chosen.map((one, index) => [one, values[index]]))),
    ) as fc.Arbitrary<Partial<Record<K, V>>>
}

const anyPack = fc.record({
  unit: words,
  units: words,
  jar: fc.option(fc.constantFrom(...jarSizes)),
  gramsPerUnit: fc.integer({ min: 1, max: 100_000 }),
  worthMinor: fc.integer({ min: 0, max: 1_000_000 }),
  runs: fc.array(
    fc.record({
      name: words,
      unitsPerRun: fc.integer({ min: 1, max: 1000 }),
      fillAtLeast: fc.integer({ min: 0, max: 10_000 }).map((part) => part / 10_000),
      machineMinutes: some(equipmentKinds, minutes),
      work: some(workKinds, minutes),
      process: fc.boolean(),
    }),
    { maxLength: 2 },
  ),
  workPerUnit: some(workKinds, minutes),
  machineMinutesPerUnit: some(equipmentKinds, minutes),
  supplies: fc.dictionary(key, amount, { maxKeys: 4 }),
  freezerMl: fc.integer({ min: 0, max: 1_000_000 }),
})

const anyRecipe: fc.Arbitrary<RecipeValues> = fc
  .uniqueArray(key, { minLength: 1, maxLength: 3 })
  .chain((packKeys) =>
    fc.record({
      name: words,
      method: fc.constantFrom(...methods),
      definition: fc.record({
        inputs: fc
          .record({
            crop: fc.constantFrom(...crops.map((one) => one.key)),
            suits: some(ripenessClasses, share).filter((suits) => Object.keys(suits).length > 0),
            trim: fc.option(fc.record({ kind: fc.constantFrom(...trimKinds), share })),
          })
          .map(({ crop, suits, trim }) => [
            { from: { crop }, suits, share: { min: 1, max: 1 }, trim: trim === null ? [] : [trim] },
          ]),
        packs: fc
          .tuple(...packKeys.map(() => anyPack))
          .map((packs) => packs.map((pack, index) => ({ ...pack, key: packKeys[index] ?? '', makes: null }))),
        ingredients: fc.array(
          fc.record({
            supply: key,
            name: words,
            kind: fc.constantFrom(...ingredientKinds),
            unit: fc.constantFrom('g', 'ml', 'piece'),
            perKg: amount,
            perUnit: some(packKeys, amount),
          }),
          { maxLength: 5 },
        ),
        process: fc.option(
          fc.record({
            product: words,
            form: fc.option(words),
            pack: fc.constantFrom(...packStyles),
            local: fc.option(key),
            minutes: fc.option(fc.integer({ min: 1, max: 600 })),
            headspaceMm: fc.option(fc.integer({ min: 0, max: 1000 }).map((many) => many / 10)),
          }),
        ),
        steps: fc.array(
          fc.record({
            says: words,
            station: fc.constantFrom(...stations),
            work: fc.option(fc.constantFrom(...workKinds)),
            hands: fc.integer({ min: 0, max: 20 }),
            minutes: fc.record({ perKg: minutes, perUnit: minutes, perRun: minutes }),
            waitMinutes: fc.integer({ min: 0, max: 525_600 }),
            equipment: fc.subarray([...equipmentKinds]),
            thenAtOnce: fc.boolean(),
          }),
          { maxLength: 5 },
        ),
        workPerKg: some(workKinds, minutes),
        cautions: fc.array(words, { maxLength: 10 }),
        source: words,
      }),
    }),
  )
  .filter(
    ({ method, definition }) => checkRecipe(definition as RecipeDefinition, method).length === 0,
  ) as fc.Arbitrary<RecipeValues>

const filling = {
  name: 'Peach filling',
  method: 'water-bath-canned',
  source: 'our own',
  'inputs.0.from': 'crop:peach',
  'inputs.0.suits': 'ripe 100',
  'packs.0.unit': 'quart',
  'packs.0.jar': 'quart',
  'packs.0.gramsPerUnit': '900 g',
  'packs.0.worthMinor': '6.50',
}

const problems = (part: Record<string, string>) => readRecipeForm({ ...filling, ...part }).errors

describe('rows of ingredients, steps and the process', () => {
  test('may stay blank wherever they stand', () => {
    const read = readRecipeForm({
      ...filling,
      'ingredients.0.name': ' ',
      'ingredients.0.kind': '',
      'ingredients.2.name': 'flour',
      'ingredients.2.kind': 'starch',
      'ingredients.2.perKg': '60 g',
      'steps.1.says': '',
      'steps.3.says': 'Boil',
      'steps.3.station': 'stove',
      'process.product': '  ',
    })
    expect(read.ok && read.values.definition).toMatchObject({
      process: null,
      ingredients: [{ supply: 'flour', name: 'flour', kind: 'starch', unit: 'g', perKg: 60, perUnit: {} }],
      steps: [{ says: 'Boil', station: 'stove', work: null, hands: 1, waitMinutes: 0, thenAtOnce: false }],
    })
  })

  test.each([
    ['2 tbsp', 29.573, 'ml'],
    ['1/2 cup', 118.294, 'ml'],
    ['4.6 g', 4.6, 'g'],
    ['1/4 lb', 113, 'g'],
    ['2 pieces', 2, 'piece'],
    ['3', 3, 'piece'],
  ])('take %s into each jar', (typed, much, unit) => {
    const read = readRecipeForm({
      ...filling,
      'ingredients.0.name': 'x',
      'ingredients.0.kind': 'other',
      'ingredients.0.perUnit': `quart ${typed}`,
    })
    expect(read.errors).toEqual({})
    expect(read.ok && read.values.definition.ingredients[0]).toMatchObject({ unit, perKg: 0, perUnit: { quart: much } })
  })

  const flour = { 'ingredients.1.name': 'flour', 'ingredients.1.kind': 'starch', 'ingredients.1.perKg': '60 g' }
  const boil = { 'steps.2.says': 'Boil', 'steps.2.station': 'stove' }

  test.each<[Record<string, string>, string, RegExp]>([
    [{ ...flour, 'ingredients.1.perKg': '' }, 'ingredients.1.perKg', /^Enter how much/],
    [{ ...flour, 'ingredients.1.perKg': 'a handful' }, 'ingredients.1.perKg', /^Enter an amount with its unit/],
    [{ ...flour, 'ingredients.1.perKg': '-5 g' }, 'ingredients.1.perKg', /^Enter an amount with its unit/],
    [{ ...flour, 'ingredients.1.perKg': '500 kg' }, 'ingredients.1.perKg', /more than a recipe can hold/],
    [{ ...flour, 'ingredients.1.perUnit': 'quart 2 tbsp' }, 'ingredients.1.perUnit', /^Measure it the same way/],
    [{ ...flour, 'ingredients.1.perUnit': 'quart' }, 'ingredients.1.perUnit', /^Write it like/],
    [{ ...flour, 'ingredients.1.perUnit': 'quart 1 g, quart 2 g' }, 'ingredients.1.perUnit', /^Name .* once/],
    [{ ...flour, 'ingredients.1.perUnit': 'bucket 2 g' }, 'ingredients.1.perUnit', /size/],
    [{ ...flour, 'ingredients.1.kind': 'magic' }, 'ingredients.1.kind', /^Choose what it is/],
    [{ ...flour, 'ingredients.1.name': '' }, 'ingredients.1.name', /^Enter what it is called/],
    [{ ...flour, 'ingredients.1.name': '🍯' }, 'ingredients.1.supply', /letters or digits/],
    [{ ...flour, 'ingredients.1.supply': '../../x' }, 'ingredients.1.supply', /^Choose a supply/],
    [{ ...boil, 'steps.2.station': 'roof' }, 'steps.2.station', /^Choose where/],
    [{ ...boil, 'steps.2.says': '' }, 'steps.2.says', /^Say what is done/],
    [{ ...boil, 'steps.2.says': 'x'.repeat(401) }, 'steps.2.says', /400 characters/],
    [{ ...boil, 'steps.2.hands': '21' }, 'steps.2.hands', /^Enter how many people/],
    [{ ...boil, 'steps.2.perKg': '1e3' }, 'steps.2.perKg', /^Enter minutes/],
    [{ ...boil, 'steps.2.perRun': '10081' }, 'steps.2.perRun', /^Enter minutes/],
    [{ ...boil, 'steps.2.waitMinutes': 'a while' }, 'steps.2.waitMinutes', /^Enter a time/],
    [{ ...boil, 'steps.2.waitMinutes': '2 years' }, 'steps.2.waitMinutes', /^Enter a time/],
    [{ ...boil, 'steps.2.equipment': 'cauldron' }, 'steps.2.equipment', /cauldron/],
    [{ 'process.form': 'halves', 'process.pack': 'hot' }, 'process.product', /^Enter the product/],
    [{ 'process.product': 'plums', 'process.pack': 'cold' }, 'process.pack', /^Choose how it is packed/],
    [
      { 'process.product': 'plums', 'process.pack': 'hot', 'process.minutes': '0x10' },
      'process.minutes',
      /^Enter whole/,
    ],
    [
      { 'process.product': 'plums', 'process.pack': 'hot', 'process.headspaceMm': '1 mile' },
      'process.headspaceMm',
      /^Enter a headspace/,
    ],
    [{ 'packs.0.jar': 'bathtub' }, 'packs.0.jar', /^Choose a jar/],
    [{ 'packs.0.unit': '🍯' }, 'packs.0.key', /letters or digits/],
    [{ cautions: 'Hot.\n'.repeat(11) }, 'cautions', /^Write 10 cautions at most/],
    [{ cautions: 'x'.repeat(401) }, 'cautions', /400 characters/],
  ])('refuse %o at %s', (part, field, said) => {
    const found = problems(part)
    expect(Object.keys(found)).toEqual([field])
    expect(found[field]).toMatch(said)
  })

  test('are folded to one line, as the document holds no line ends', () => {
    const read = readRecipeForm({
      ...filling,
      source: 'our own\r\nand\tGuide 2',
      ...boil,
      'steps.2.says': 'Boil\nhard',
    })
    expect(read.ok && read.values.definition.source).toBe('our own and Guide 2')
    expect(read.ok && read.values.definition.steps[0]?.says).toBe('Boil hard')
  })

  test('are refused where there are more than a recipe holds, and say so at the first one too many', () => {
    const rows = (many: number, row: (at: number) => Record<string, string>) =>
      Object.assign({}, ...Array.from({ length: many }, (_, at) => row(at)))
    const inputs = rows(9, (at) => ({
      [`inputs.${at}.from`]: `crop:${crops[at]?.key}`,
      [`inputs.${at}.suits`]: 'ripe 100',
      [`inputs.${at}.share`]: '0 to 100',
    }))
    expect(problems(inputs)).toEqual({
      'inputs.8.from': 'A recipe holds 8 crops and materials at most: leave the rest out',
    })
    const packs = rows(7, (at) => ({
      [`packs.${at}.unit`]: `size ${at}`,
      [`packs.${at}.gramsPerUnit`]: '1 kg',
      [`packs.${at}.worthMinor`]: '1',
    }))
    expect(problems(packs)).toEqual({ 'packs.6.unit': 'A recipe holds 6 sizes at most: leave the rest out' })
    const runs = rows(5, (at) => ({
      [`packs.0.runs.${at}.name`]: `pot ${at}`,
      [`packs.0.runs.${at}.unitsPerRun`]: '4',
    }))
    expect(problems(runs)).toEqual({
      'packs.0.runs.4.name': 'A recipe holds 4 loads of one size at most: leave the rest out',
    })
    const supplies = rows(21, (at) => ({
      [`packs.0.supplies.${at}.key`]: `supply-${at}`,
      [`packs.0.supplies.${at}.amount`]: '1',
    }))
    expect(Object.keys(problems(supplies))).toEqual(['packs.0.supplies.20.key'])
    const ingredients = rows(31, (at) => ({
      [`ingredients.${at}.name`]: `spice ${at}`,
      [`ingredients.${at}.kind`]: 'spice',
      [`ingredients.${at}.perKg`]: '1 g',
    }))
    expect(Object.keys(problems(ingredients))).toEqual(['ingredients.30.name'])
    const steps = rows(31, (at) => ({ [`steps.${at}.says`]: 'Stir', [`steps.${at}.station`]: 'stove' }))
    expect(Object.keys(problems(steps))).toEqual(['steps.30.says'])
  })

  test('never throw, whatever is typed', () => {
    const names = [
      'ingredients.0.perKg',
      'ingredients.0.perUnit',
      'ingredients.0.name',
      'process.minutes',
      'process.headspaceMm',
      'process.form',
      'steps.0.says',
      'steps.0.waitMinutes',
      'steps.0.equipment',
      'packs.0.jar',
      'cautions',
    ]
    const typed = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 60 }),
      fc.constantFrom('__proto__', '1e309 g', '½ tsp', '0 g'),
    )
    fc.assert(
      fc.property(fc.constantFrom(...names), typed, (name, text) => {
        const read = readRecipeForm({ ...filling, [name]: text })
        for (const field of Object.keys(read.errors)) expect(field).not.toBe('')
      }),
      { numRuns: 200 },
    )
  })
})
