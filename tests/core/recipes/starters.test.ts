import { describe, expect, test } from 'vitest'
import { processTable } from '../../../src/core/process/index.ts'
import { crop } from '../../../src/core/produce/crops.ts'
import { methods } from '../../../src/core/produce/vocabulary.ts'
import { checkRecipe, type Step } from '../../../src/core/recipes/index.ts'
import { stationOf } from '../../../src/core/recipes/starters/build.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'

/** Minutes of one kind of work, added up anew from the steps. */
function minutes(steps: readonly Step[], part: (step: Step) => number): Record<string, number> {
  const total: Record<string, number> = {}
  for (const one of steps) {
    if (one.work !== null && part(one) > 0) total[one.work] = (total[one.work] ?? 0) + part(one)
  }
  return total
}

describe('the library of starters', () => {
  test('holds at least 66 recipes for at least 18 crops, by every method', () => {
    const crops = new Set(
      starters.flatMap(({ definition }) =>
        definition.inputs.flatMap(({ from }) => ('crop' in from ? [from.crop] : [])),
      ),
    )
    expect(starters.length).toBeGreaterThanOrEqual(66)
    expect(crops.size).toBeGreaterThanOrEqual(18)
    expect([...crops].filter((key) => crop(key) === undefined)).toEqual([])
    expect(new Set(starters.map(({ method }) => method))).toEqual(new Set(methods))
  })

  test('has each name and each key once', () => {
    expect(new Set(starters.map(({ name }) => name)).size).toBe(starters.length)
    expect(new Set(starters.map(({ key }) => key)).size).toBe(starters.length)
  })

  test('makes each crop that can be frozen or dried into something beside jars', () => {
    const beside = starters.filter(({ method }) => method === 'frozen' || method === 'dried')
    expect(beside.length).toBeGreaterThanOrEqual(20)
  })

  test('none says that it is safe', () => {
    expect(JSON.stringify(starters)).not.toMatch(/\bsafe/i)
  })
})

describe.each(starters.map((one) => ({ ...one })))('$name', ({ method, definition }) => {
  const { steps, packs, cautions } = definition

  test('can be divided with', () => {
    expect(checkRecipe(definition, method)).toEqual([])
  })

  test('has minutes of hands that are the sums of its steps', () => {
    expect(steps.length).toBeGreaterThan(0)
    expect(definition.workPerKg).toEqual(minutes(steps, (step) => step.minutes.perKg))
    for (const pack of packs) {
      expect(pack.workPerUnit).toEqual(minutes(steps, (step) => step.minutes.perUnit))
      for (const run of pack.runs) {
        const there = steps.filter(({ station }) => station === stationOf(run))
        expect(run.work).toEqual(minutes(there, (step) => step.minutes.perRun))
        expect(there.length, `no step stands where the ${run.name} is`).toBeGreaterThan(0)
      }
    }
  })

  test('spends each minute by the load on a load that it has', () => {
    const stations = new Set(packs.flatMap(({ runs }) => runs.map(stationOf)))
    const lost = steps.filter(({ station, minutes: { perRun } }) => perRun > 0 && !stations.has(station))
    expect(lost.map(({ says }) => says)).toEqual([])
  })

  test('names its source, and says what can hurt', () => {
    expect(definition.source.length).toBeGreaterThan(5)
    const words = cautions.join(' ')
    if (steps.some(({ work }) => work === 'cut')) expect(words).toMatch(/knives/)
    if (method === 'pressure-canned') expect(words).toMatch(/pressure canner.*extension service or food authority/)
    if (method === 'water-bath-canned') {
      expect(words).toMatch(/boiling water.*tested process.*extension service or food authority/i)
    }
    if (method === 'refrigerated') expect(words).toMatch(/cold/)
  })

  test('goes from pot to jar to canner without a pause', () => {
    if (definition.process === null) return
    const canner = steps.findIndex(({ station }) => station === 'canner')
    expect(canner).toBeGreaterThan(0)
    expect(steps[canner - 1]).toMatchObject({ station: 'fill', thenAtOnce: true })
    const cooked = steps.slice(0, canner - 1).findLast(({ station, work }) => station === 'stove' && work === 'stove')
    if (definition.process.pack === 'hot') expect(cooked?.says).not.toMatch(/empty jars/)
    if (definition.process.pack === 'hot' && cooked === steps[canner - 2]) expect(cooked?.thenAtOnce).toBe(true)
  })

  test('takes jars and a lid for each jar, and a bag where it is frozen', () => {
    for (const pack of packs) {
      if (pack.jar !== null) expect(pack.supplies).toMatchObject({ [`jar-${pack.jar}`]: 1, lid: 1 })
      if (method === 'frozen') {
        expect(pack.supplies).toMatchObject({ 'freezer-bag': 1 })
        expect(pack.freezerMl).toBeGreaterThanOrEqual(500)
      }
    }
  })
})

describe('jars for short processes', () => {
  // Guide 1 p. 1-14 (seen): less than ten minutes needs jars that were boiled empty
  const rows = processTable().filter(({ sterileJars }) => sterileJars)
  const short = starters.filter(({ definition: { process } }) =>
    rows.some(
      (row) =>
        row.product === process?.product &&
        row.pack === process.pack &&
        (process.form === null || row.form === process.form),
    ),
  )

  test.each(short)('are boiled empty for $name', ({ definition: { steps } }) => {
    expect(steps.some(({ says }) => /boil the empty jars/i.test(says))).toBe(true)
  })

  test('and for nothing else', () => {
    const boiled = starters.filter(({ definition: { steps } }) => steps.some(({ says }) => /empty jars/.test(says)))
    expect(short.length).toBeGreaterThanOrEqual(8)
    expect(boiled.map(({ name }) => name)).toEqual(short.map(({ name }) => name))
  })
})
