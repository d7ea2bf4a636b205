import { describe, expect, it } from 'vitest'
import { checkProblem, solveAllocation } from '../../../src/core/allocation/index.ts'
import { askDivision, fitRecipes, proposeWishes, summarise } from '../../../src/core/division/index.ts'
import type { Recipe, RecipeInput } from '../../../src/core/recipes/index.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'
import { damsonJam } from './kitchen.ts'

const names = (fits: ReturnType<typeof fitRecipes>, lacking: boolean) =>
  fits.filter((fit) => fit.lacks.length > 0 === lacking).map((fit) => fit.recipe.name)

describe('which recipes the lots can feed', () => {
  const { recipes } = demonstrationQuestion()

  it('puts those first that can be made of apples alone, vinegar from their peels and jelly from their juice among them', () => {
    const fits = fitRecipes([{ crop: 'apple' }], recipes)
    expect(fits).toHaveLength(recipes.length)
    const made = names(fits, false)
    expect(made).toEqual(
      expect.arrayContaining(['Apple sauce', 'Apple juice for jelly', 'Apple jelly', 'Vinegar from cores and peels']),
    )
    expect(made).not.toContain('Damson jam')
    expect(fits.slice(0, made.length).every((fit) => fit.lacks.length === 0)).toBe(true)
  })

  it('says what the others lack', () => {
    const [damsons] = damsonJam.definition.inputs
    if (damsons === undefined) throw new Error('no damsons')
    const madeOf = (id: string, ...from: RecipeInput['from'][]): Recipe => ({
      ...damsonJam,
      id,
      definition: { ...damsonJam.definition, inputs: from.map((one) => ({ ...damsons, from: one })) },
    })
    const chutney = madeOf('chutney', { crop: 'damson' }, { crop: 'apple' }, { crop: 'onion' })
    const jelly = madeOf('jelly', { material: 'apple-juice' })
    const fits = fitRecipes([{ crop: 'damson' }], [jelly, chutney, damsonJam])
    const lacks = (id: string) => fits.find((fit) => fit.recipe.id === id)?.lacks
    expect(lacks('chutney')).toEqual([{ crop: 'apple' }, { crop: 'onion' }])
    expect(lacks('jelly')).toEqual([{ material: 'apple-juice' }])
    expect(lacks('jam')).toEqual([])
  })

  it('finds nothing for no lots', () => {
    expect(names(fitRecipes([], recipes), false)).toEqual([])
  })
})

describe('proposed wishes', () => {
  it('never wish for more than the produce there is, once, and never demand anything', () => {
    const question = demonstrationQuestion()
    const wishes = proposeWishes(question)
    expect(wishes.length).toBeGreaterThan(8)
    const raw = wishes.reduce((sum, wish) => {
      const recipe = question.recipes.find(({ id }) => id === wish.recipeId)
      const pack = recipe?.definition.packs.find(({ key }) => key === wish.pack)
      const fromCrops = recipe?.definition.inputs.some(({ from }) => 'crop' in from) ?? false
      return sum + (fromCrops ? wish.about * (pack?.gramsPerUnit ?? 0) : 0)
    }, 0)
    expect(raw).toBeGreaterThan(80_000)
    // 186.5 kg less what is set aside and thrown out
    expect(raw).toBeLessThanOrEqual(181_400)
    for (const wish of wishes) {
      expect(wish.atLeast).toBe(0)
      expect(wish.about).toBeGreaterThan(0)
      expect(wish.atMost).toBe(2 * wish.about)
    }
    expect(new Set(wishes.map(({ recipeId }) => recipeId)).size).toBe(wishes.length)
  })

  it('make a question that can be worked out, with most of the produce in products', async () => {
    const question = demonstrationQuestion()
    const asked = { ...question, wishes: proposeWishes(question) }
    const problem = askDivision(asked)
    expect(checkProblem(problem)).toEqual([])
    const summary = summarise(asked, problem, await solveAllocation(problem, { maxNodes: 1 }))
    expect(summary.madeGrams).toBeGreaterThan(0.4 * summary.cameInGrams)
  })

  it('pass over packs whose jars cannot be had', () => {
    const question = demonstrationQuestion()
    const supplies = question.supplies.filter(({ key }) => key !== 'jar-pint')
    const sauce = proposeWishes({ ...question, supplies }).find(({ recipeId }) => recipeId === 'Apple sauce')
    expect(sauce?.pack).toBe('quart')
  })

  it('are none when nothing came in', () => {
    expect(proposeWishes({ ...demonstrationQuestion(), lots: [] })).toEqual([])
  })
})
