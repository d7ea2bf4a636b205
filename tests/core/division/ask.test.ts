import { describe, expect, test } from 'vitest'
import { checkProblem } from '../../../src/core/allocation/index.ts'
import { askDivision, productId } from '../../../src/core/division/index.ts'
import { damsonJam, smallQuestion } from './kitchen.ts'

describe('a plan, put to the solver', () => {
  test('is a problem that nothing is wrong with', () => {
    expect(checkProblem(askDivision(smallQuestion()))).toEqual([])
  })

  test('divides what was sorted, without what is set aside and thrown out', () => {
    const { items } = askDivision(smallQuestion())
    expect(items.reduce((sum, item) => sum + item.grams, 0)).toBe(10_000)
    expect(new Set(items.map((item) => item.lotId))).toEqual(new Set(['damsons']))
  })

  test('ages each lot to each work day, and has nothing of it before it came', () => {
    const days = ['2026-09-16', '2026-09-17', '2027-03-01'].map((date) => ({
      id: date,
      date,
      opensMinute: 480,
      closesMinute: 600,
    }))
    const { items } = askDivision(smallQuestion({ days }))
    for (const item of items) {
      expect(item.classByDay[0]).toBeNull()
      expect(item.classByDay[1]).toBe('ripe')
      // Half a year in a cellar: no damson lives that long.
      expect(item.classByDay[2]).toBeNull()
      expect(item.keepWorthPerKg).toBeNull()
    }
  })

  test('says what each lot is today, so that an outlet can still take what no work day will see', () => {
    const days = [{ id: 'late', date: '2027-03-01', opensMinute: 480, closesMinute: 600 }]
    const { items } = askDivision(smallQuestion({ days }))
    for (const item of items) {
      expect(item.now).toEqual({ date: '2026-09-17', class: 'ripe' })
      expect(item.classByDay).toEqual([null])
    }
  })

  test('lets what outlasts the last work day be kept, for a little more than any outlet pays', () => {
    const { items } = askDivision(smallQuestion())
    expect(items.length).toBeGreaterThan(0)
    for (const item of items) {
      expect(item.keepWorthPerKg).toBe(item.usableUntil > '2026-09-18' ? 6 : null)
    }
  })

  test('counts machines of one kind together, without those that are out', () => {
    const question = smallQuestion()
    question.equipment.push(
      {
        id: 'c2',
        kind: 'canner',
        name: 'old canner',
        count: 1,
        roomMl: null,
        aroundTheClock: false,
        outOn: ['friday'],
      },
      { id: 'd', kind: 'dehydrator', name: 'dehydrator', count: 1, roomMl: null, aroundTheClock: true, outOn: [] },
      { id: 'f', kind: 'freezer', name: 'freezer', count: 2, roomMl: 20_000, aroundTheClock: true, outOn: [] },
    )
    const problem = askDivision(question)
    const minutes = new Map(problem.machines.map((machine) => [machine.id, machine.minutesByDay]))
    expect(minutes.get('canner')).toEqual([540])
    expect(minutes.get('burner')).toEqual([4 * 540])
    expect(minutes.get('dehydrator')).toEqual([1_440])
    expect(minutes.get('oven')).toEqual([0])
    expect(problem.rooms).toEqual([{ id: 'freezer', name: 'freezer', ml: 40_000 }])
  })

  test('gives helpers only the hours in which the kitchen is open, and a child no work at the stove', () => {
    const { workers } = askDivision(smallQuestion())
    expect(workers).toEqual([
      {
        id: 'wash+cut+stove+fill+pack',
        name: 'Mara',
        skills: ['wash', 'cut', 'stove', 'fill', 'pack'],
        minutesByDay: [480],
      },
      { id: 'wash+pack', name: 'Bea', skills: ['wash', 'pack'], minutesByDay: [60] },
    ])
  })

  test('has none of a jar that is not listed while another size is; what has nothing alike in the list is not counted', () => {
    const small = smallQuestion()
    expect(askDivision(small).supplies.map(({ id }) => id)).toEqual(['jar-half-pint'])
    const quarts = small.supplies.map((supply) => ({ ...supply, key: 'jar-quart' }))
    expect(askDivision({ ...small, supplies: quarts }).supplies).toMatchObject([
      { id: 'jar-half-pint', onHand: 0, packsAtMost: 0 },
    ])
    expect(askDivision({ ...small, supplies: [] }).supplies).toEqual([])
  })

  test('counts what goes in beside produce as well as jars, by weight and by the jar', () => {
    const salt = { supply: 'salt', name: 'salt', kind: 'salt' as const, unit: 'g' as const, perKg: 10, perUnit: {} }
    const ingredients = [
      { ...salt, perUnit: { 'half-pint': 1 } },
      { ...salt, supply: 'lemon-juice', name: 'lemon juice', kind: 'bottled-lemon-juice' as const, perKg: 30 },
      { ...salt, supply: 'water', name: 'water', kind: 'water' as const },
    ]
    const recipe = { ...damsonJam, definition: { ...damsonJam.definition, ingredients } }
    const { products, supplies } = askDivision(smallQuestion({ recipes: [recipe] }))
    // 200 g of damsons a half-pint: 2 g of salt and 1 g more in the jar, 6 g of juice
    // the kitchen keeps no count of juice nor of lids, so they stop nothing
    expect(products[0]?.supplies).toEqual({ 'jar-half-pint': 1, salt: 3 })
    expect(supplies.map(({ id, onHand }) => [id, onHand])).toEqual([
      ['jar-half-pint', 30],
      ['salt', 500],
    ])
  })

  test('weighs a wish by how much it matters', () => {
    const worths = ([1, 2, 3] as const).map((matters) => {
      const wishes = [{ recipeId: 'jam', pack: 'half-pint', atLeast: 4, about: 12, atMost: 24, matters }]
      return askDivision(smallQuestion({ wishes })).products[0]?.wish.worth
    })
    expect(worths).toEqual([150, 300, 600])
  })

  test('asks for nothing that was not wished, and for nothing that is no recipe', () => {
    const wishes = [
      { recipeId: 'jam', pack: 'half-pint', atLeast: 0, about: 0, atMost: 0, matters: 1 as const },
      { recipeId: 'gone', pack: 'quart', atLeast: 0, about: 1, atMost: 1, matters: 1 as const },
    ]
    expect(askDivision(smallQuestion({ wishes })).products).toEqual([])
  })

  test('lets juice that nobody makes be asked for, and has none of it', () => {
    const jelly = structuredClone(damsonJam)
    jelly.id = 'jelly'
    jelly.definition.inputs = [{ from: { material: 'apple-juice' }, suits: {}, share: { min: 1, max: 1 }, trim: [] }]
    const wishes = [{ recipeId: 'jelly', pack: 'half-pint', atLeast: 0, about: 5, atMost: 5, matters: 2 as const }]
    const problem = askDivision(smallQuestion({ recipes: [jelly], wishes }))
    expect(problem.materials.map((material) => material.id)).toContain('apple-juice')
    expect(problem.products[0]?.id).toBe(productId('jelly', 'half-pint'))
    expect(problem.outlets[0]?.takesMaterials).toEqual(['peels-cores', 'apple-juice'])
    expect(checkProblem(problem)).toEqual([])
  })

  test('refuses a crop it does not know', () => {
    const question = smallQuestion()
    question.lots = question.lots.map((lot) => ({ ...lot, crop: 'moonfruit' }))
    expect(() => askDivision(question)).toThrow('moonfruit')
  })
})
