import { describe, expect, test } from 'vitest'
import { lookUpProcess, processTable } from '../../../src/core/process/index.ts'
import { checkRecipe } from '../../../src/core/recipes/index.ts'
import { type Starter, starters } from '../../../src/core/recipes/starters/index.ts'
import { besideBoilingWater, besidePressure } from '../../../src/core/recipes/starters/parts.ts'
import { verdictOn } from '../../../src/core/recipes/verdict.ts'

const canned = starters.filter(({ method }) => method === 'water-bath-canned' || method === 'pressure-canned')

function claimOf({ name, definition }: Starter) {
  if (definition.process === null) throw new Error(`${name} claims no process`)
  return definition.process
}

describe('every canned starter', () => {
  test('claims a tested process', () => {
    expect(canned.length).toBeGreaterThanOrEqual(40)
    expect(canned.filter(({ definition }) => definition.process === null).map(({ name }) => name)).toEqual([])
  })

  test.each(canned)('$name names a row of the tables', (one) => {
    const { product, form, pack, minutes, headspaceMm } = claimOf(one)
    expect([minutes, headspaceMm]).toEqual([null, null])
    for (const { jar } of one.definition.packs) {
      const rows = processTable().filter(
        (row) =>
          row.product === product &&
          (form === null || row.form === form) &&
          row.pack === pack &&
          jar !== null &&
          row.jars.includes(jar) &&
          (row.method === 'boiling-water') === (one.method === 'water-bath-canned'),
      )
      expect(rows.length, `${jar} of ${product}, ${form}, ${pack}`).toBeGreaterThan(0)
    }
  })

  test.each(canned)('$name has a tested time at 640 and at 1,400 m', (one) => {
    const { product, form, pack } = claimOf(one)
    for (const altitudeM of [640, 1400]) {
      for (const { jar } of one.definition.packs) {
        const query = { product, form: form ?? undefined, pack, jar: jar ?? '', altitudeM }
        const ways =
          one.method === 'water-bath-canned'
            ? [{ ...query, method: 'boiling-water' }]
            : ['dial', 'weighted'].map((gauge) => ({ ...query, method: 'pressure-canned', gauge }))
        for (const way of ways) expect(lookUpProcess(way)).toMatchObject({ answer: 'tested' })
      }
    }
  })

  test.each(canned)('$name follows it in every pack from the sea to 2,500 m', (one) => {
    for (const altitudeM of [0, 640, 1400, 2500]) {
      const { packs } = verdictOn(one, { altitudeM, gauges: ['dial', 'weighted'], local: [] })
      expect(packs.map(({ pack, standing, departures }) => ({ pack, standing, departures }))).toEqual(
        one.definition.packs.map(({ key }) => ({ pack: key, standing: 'tested', departures: [] })),
      )
    }
  })

  test.each(canned)('$name leaves the tested minutes to the table, and has what comes beside them', (one) => {
    for (const { runs } of one.definition.packs) {
      const heated = runs.filter(({ process }) => process)
      expect(heated).toHaveLength(1)
      expect(heated[0]?.machineMinutes).toEqual(
        one.method === 'water-bath-canned'
          ? { canner: besideBoilingWater, burner: besideBoilingWater }
          : { 'pressure-canner': besidePressure, burner: besidePressure },
      )
    }
  })

  test('keeps a canner busy as long as the guide says beside the process', () => {
    // USDA Complete Guide 2015, Guide 1 p. 1-17, 1-18: 20 to 30 minutes to the boil, 5 to settle
    expect(besideBoilingWater).toBeGreaterThanOrEqual(25)
    // p. 1-17, 1-20, 1-22: 12 to 15 to steam, 10 to vent, 3 to 5 to pressure, 20 to 60 to cool
    expect(besidePressure).toBeGreaterThanOrEqual(12 + 10 + 3 + 20)
    expect(besidePressure).toBeLessThanOrEqual(15 + 10 + 5 + 60)
  })
})

describe('starters that are not canned', () => {
  test.each(starters.filter((one) => !canned.includes(one)))('$name claims no process', ({ method, definition }) => {
    expect(definition.process).toBeNull()
    expect(checkRecipe(definition, method)).toEqual([])
  })

  test('juice in closed jars that claims nothing is kept cold', () => {
    const juice = starters.find(({ name }) => name === 'Bottled apple juice')
    expect(juice?.definition.cautions.join(' ')).toMatch(/keep it cold/i)
  })
})

describe('acid in tomatoes and figs', () => {
  // USDA Complete Guide 2015, Guide 3 p. 3-5 and Guide 2 p. 2-14: 2 tablespoons (29.6 ml) a quart, 1 (14.8 ml) a pint
  const least: Record<string, number> = { quart: 29.5, pint: 14.7 }
  const sour = canned.filter((one) => /^(tomatoes|tomato juice|tomato sauce, standard|figs)/.test(claimOf(one).product))

  test.each(sour)('$name has it measured into each jar', ({ definition }) => {
    const lemon = definition.ingredients.find(({ kind }) => kind === 'bottled-lemon-juice')
    for (const { key } of definition.packs) expect(lemon?.perUnit[key]).toBeGreaterThanOrEqual(least[key] ?? Infinity)
    expect(definition.cautions.join(' ')).toMatch(/full measure of bottled lemon juice/)
  })

  test('is looked for in at least seven recipes', () => expect(sour.length).toBeGreaterThanOrEqual(7))
})
