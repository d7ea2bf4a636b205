import { describe, expect, it } from 'vitest'
import { processSources } from '../../../src/core/process/sources.ts'
import { processTable } from '../../../src/core/process/tables/index.ts'
import { printedNames } from '../../../src/core/process/tables/printed-names.ts'
import { jarSizes, type ProcessRow } from '../../../src/core/process/types.ts'
import { pressureRows } from './pressure-lines.ts'

const rows = pressureRows()
const psiOf = (row: ProcessRow) => row.bands.map(({ psi }) => psi ?? Number.NaN)

describe('every row under pressure', () => {
  it('there are some', () => {
    expect(rows.length).toBeGreaterThan(180)
  })

  it('never goes above 15 psi (Guide 1 p. 1-10)', () => {
    for (const row of rows) for (const psi of psiOf(row)) expect(psi, row.id).toBeLessThanOrEqual(15)
  })

  it('is never at less pressure higher up', () => {
    for (const row of rows) expect(psiOf(row), row.id).toEqual(psiOf(row).sort((a, b) => a - b))
  })

  it('has one time at all altitudes: the pressure rises, the time stays', () => {
    for (const row of rows) expect(new Set(row.bands.map(({ minutes }) => minutes)).size, row.id).toBe(1)
  })

  it('is at 10 psi at least where the food is low-acid (Guide 1 p. 1-8)', () => {
    for (const row of rows.filter(({ acidity }) => acidity === 'low-acid'))
      expect(Math.min(...psiOf(row)), row.id).toBeGreaterThanOrEqual(10)
  })

  it('has no gap in its bands, and a dial gauge no band above 8,000 ft', () => {
    for (const { id, method, bands } of rows) {
      for (const [number, { fromFt }] of bands.entries())
        expect(fromFt, id).toBe(number === 0 ? 0 : (bands[number - 1]?.toFt ?? Number.NaN) + 1)
      if (method === 'dial-gauge') expect(bands.at(-1)?.toFt, id).toBe(8000)
    }
  })

  it('gives no bigger jar less time', () => {
    for (const one of rows)
      for (const other of rows) {
        const alike =
          one.method === other.method &&
          one.product === other.product &&
          one.form === other.form &&
          one.pack === other.pack &&
          one.bands[0]?.psi === other.bands[0]?.psi
        if (!alike || largest(one) <= largest(other)) continue
        expect(one.bands[0]?.minutes, `${one.id} after ${other.id}`).toBeGreaterThanOrEqual(
          other.bands[0]?.minutes ?? Number.NaN,
        )
      }
  })

  it('gives no jar two times at one pressure', () => {
    const places = rows.flatMap(({ method, product, form, pack, jars, bands }) =>
      jars.map((jar) => [method, product, form, pack, jar, bands[0]?.psi].join(' | ')),
    )
    expect(places.filter((place, number) => places.indexOf(place) !== number)).toEqual([])
  })

  it('asks for acid where it is acidified, and for none otherwise', () => {
    for (const { id, acidity, acid } of rows) expect(acid.length > 0, id).toBe(acidity === 'acidified')
  })

  it('names its source', () => {
    for (const { id, source } of rows) {
      expect(Object.keys(processSources), id).toContain(source.document)
      expect(source.section, id).toBeTruthy()
    }
  })

  it('has a name of its own in the whole table', () => {
    const ids = processTable().map(({ id }) => id)
    expect(ids.filter((id, number) => ids.indexOf(id) !== number)).toEqual([])
  })

  it('calls acid food and its form what the boiling-water tables call it', () => {
    const boiled = processTable().filter(({ method }) => method === 'boiling-water')
    for (const { id, product, form, acidity } of rows)
      if (acidity !== 'low-acid')
        expect(
          boiled.some((row) => row.product === product && row.form === form),
          id,
        ).toBe(true)
  })

  it('has every product by both gauges', () => {
    const by = (method: string) => new Set(rows.filter((row) => row.method === method).map(({ product }) => product))
    expect(by('dial-gauge')).toEqual(by('weighted-gauge'))
  })
})

describe('printed names', () => {
  it('are lower case and lead to rows', () => {
    for (const [name, { product, form }] of Object.entries(printedNames)) {
      expect(name).toBe(name.toLowerCase())
      expect(
        rows.some((row) => row.product === product && row.form === form),
        name,
      ).toBe(true)
    }
  })

  it('reach every form under pressure', () => {
    const reached = Object.values(printedNames).map(({ product, form }) => `${product}, ${form}`)
    for (const { product, form } of rows) expect(reached).toContain(`${product}, ${form}`)
  })

  // Names as the tables of the guide print them, Guides 2, 3 and 4
  it.each([
    ['apples, sliced', 'apples', 'sliced'],
    ['berries, whole', 'berries', 'whole'],
    ['cherries, sour or sweet', 'cherries', 'whole, sweet or sour'],
    ['tomatoes, whole or halved, in water', 'tomatoes, whole or halved', 'packed in water'],
    ['tomatoes, raw without added liquid', 'tomatoes, whole or halved', 'raw, no added liquid'],
    ['tomato sauce, standard', 'tomato sauce, standard', 'thin or thick'],
    ['beans, snap and italian, pieces', 'beans, snap and Italian', 'pieces'],
    ['corn, whole kernel', 'corn', 'whole kernel'],
    ['peas, green or english, shelled', 'peas, green or English', 'shelled'],
    ['potatoes, sweet, pieces or whole', 'potatoes, sweet', 'pieces or whole'],
    ['soups (vegetable, bean, meat)', 'soups (vegetable, bean, meat)', ''],
  ])('%s', (name, product, form) => {
    expect(printedNames[name]).toEqual({ product, form })
  })
})

function largest({ jars }: ProcessRow): number {
  return Math.max(...jars.map((jar) => jarSizes.indexOf(jar)))
}
