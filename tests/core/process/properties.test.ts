import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  jarSizes,
  lookUpProcess,
  type ProcessQuery,
  processTable,
  untestedStyles,
} from '../../../src/core/process/index.ts'
import { listedNames } from '../../../src/core/process/names.ts'
import { crop, crops } from '../../../src/core/produce/index.ts'

// Whatever is asked, nothing is answered with minutes but a row of the table, at a band that holds there.

const rows = processTable()
const known: ReadonlySet<(typeof rows)[number]> = new Set(rows)
const untestedNames = untestedStyles().flatMap(({ names }) => names)
const cropNames = crops.flatMap(({ key, singular, plural, synonyms }) => [key, singular, plural, ...synonyms])
const forms = [...new Set(rows.flatMap(({ form }) => [form, ...form.split(/,| or /)]))]

const anyCase = (text: fc.Arbitrary<string>) =>
  fc
    .tuple(text, fc.constantFrom('as is', 'upper', 'spaced'))
    .map(([words, how]) =>
      how === 'upper' ? words.toUpperCase() : how === 'spaced' ? `  ${words.replace(/ /g, '  ')} ` : words,
    )
const product = anyCase(
  fc.oneof(
    { weight: 4, arbitrary: fc.constantFrom(...new Set(rows.map((row) => row.product))) },
    { weight: 3, arbitrary: fc.constantFrom(...listedNames().keys()) },
    { weight: 3, arbitrary: fc.constantFrom(...cropNames) },
    { weight: 1, arbitrary: fc.constantFrom(...untestedNames) },
    { weight: 1, arbitrary: fc.string() },
  ),
)
const form = fc.option(
  fc.oneof(
    fc.constantFrom(...forms),
    fc.constantFrom(
      'puree',
      'mashed',
      'butter',
      'jam',
      'jelly',
      'juice',
      'sauce',
      'whole',
      'sliced',
      'pickled',
      'white',
      '',
    ),
    fc.string(),
  ),
  { nil: undefined },
)
const pack = fc.option(fc.constantFrom('hot', 'raw', 'hot pack', 'cold', ''), { nil: undefined })
const jar = fc.oneof(fc.constantFrom(...jarSizes), fc.constantFrom('Pints', 'quart(s)', '500 ml', '8-ounce', 'bucket'))
const method = fc.constantFrom(
  ...[
    'boiling-water',
    'water-bath-canned',
    'steam',
    'dial-gauge',
    'weighted-gauge',
    'pressure-canned',
    'oven',
    'frozen',
  ],
)
const gauge = fc.option(fc.constantFrom('dial', 'weighted', 'none'), { nil: undefined })
const edges = [-500, 0, 304.8, 304.81, 609.6, 914.4, 1219.2, 1828.8, 1828.9, 2438.4, 2438.5, 3048, 9000]
const altitudeM = fc.oneof(
  { weight: 4, arbitrary: fc.double({ min: -500, max: 9000, noNaN: true }) },
  { weight: 2, arbitrary: fc.constantFrom(...edges) },
  { weight: 1, arbitrary: fc.double() },
)
const anything: fc.Arbitrary<ProcessQuery> = fc.record({ product, form, pack, jar, altitudeM, method, gauge })
/** A question that a row answers, with something in it changed half of the time. */
const nearRow: fc.Arbitrary<ProcessQuery> = fc
  .tuple(
    fc.constantFrom(...rows),
    anything,
    fc.constantFrom(...(['product', 'form', 'pack', 'jar', 'method', 'none', 'none'] as const)),
  )
  .map(([row, other, changed]) => {
    const { product: name, form: way, pack: packed, method: heated } = row
    const own = {
      product: name,
      form: way,
      pack: packed,
      jar: row.jars[0] ?? 'pint',
      method: heated,
      altitudeM: other.altitudeM,
    }
    return changed === 'none' ? own : { ...own, [changed]: other[changed] }
  })
const query = fc.oneof(anything, nearRow)
const many = { numRuns: 6000 }

/** In feet, by the definition of the foot; a millionth of a foot is allowed for floating point. */
function holdsAt(answer: { row: (typeof rows)[number]; band: (typeof rows)[number]['bands'][number] }, metres: number) {
  const feet = metres / 0.3048
  const number = answer.row.bands.indexOf(answer.band)
  const below =
    number === 0 ? Number.NEGATIVE_INFINITY : (answer.row.bands[number - 1]?.toFt ?? Number.POSITIVE_INFINITY)
  return number >= 0 && feet > below && feet <= (answer.band.toFt ?? Number.POSITIVE_INFINITY) + 1e-6
}

describe('any question at all', () => {
  it('is answered with minutes by a row of the table only, as the row has it', () => {
    let tested = 0
    fc.assert(
      fc.property(query, (asked) => {
        const answer = lookUpProcess(asked)
        if (answer.answer !== 'tested') {
          expect(answer).not.toHaveProperty('minutes')
          expect(answer.says.length).toBeGreaterThan(0)
          return
        }
        tested += 1
        for (const one of [answer, ...answer.others]) {
          expect(known.has(one.row)).toBe(true)
          expect(holdsAt(one, asked.altitudeM)).toBe(true)
          expect([one.minutes, one.psi]).toEqual([one.band.minutes, one.band.psi])
          expect([one.headspaceIn, one.sterileJars, one.pack]).toEqual([
            one.row.headspaceIn,
            one.row.sterileJars,
            one.row.pack,
          ])
          expect(one.row.jars).toContain(one.jar)
          expect(one.method === 'steam' ? 'boiling-water' : one.method).toBe(one.row.method)
          expect(one.acid.map(({ acid }) => acid)).toEqual(one.row.acid.map(({ acid }) => acid))
          expect(one.minutes).toBeLessThanOrEqual(answer.minutes)
          if (one.method === 'boiling-water' || one.method === 'steam') expect(one.row.acidity).not.toBe('low-acid')
          if (one.method === 'steam') {
            expect(one.minutes).toBeLessThanOrEqual(45)
            expect(['half-pint', 'pint', 'quart']).toContain(one.jar)
          }
        }
      }),
      many,
    )
    expect(tested).toBeGreaterThan(many.numRuns / 8)
  })

  it('is the same in any case and spacing', () => {
    fc.assert(
      fc.property(query, (asked) => {
        const plain = lookUpProcess(asked)
        const changed = lookUpProcess({
          ...asked,
          product: ` ${asked.product.toUpperCase()}`,
          method: ` ${asked.method}`,
        })
        // Upper case can change letters of other scripts: only what is listed must come out alike.
        if (plain.answer === 'tested') expect(changed).toEqual(plain)
      }),
      { numRuns: 1000 },
    )
  })

  it('is never answered where the product is known to be untested', () => {
    fc.assert(
      fc.property(query, fc.constantFrom(...untestedNames), (asked, name) => {
        expect(lookUpProcess({ ...asked, product: name, form: undefined }).answer).not.toBe('tested')
      }),
      { numRuns: 2000 },
    )
  })
})

describe('crops in boiling water and steam', () => {
  const lowAcid = crops.filter(({ acidity }) => acidity === 'low-acid')

  it.each(lowAcid.map(({ key }) => key))('%s is answered only by a row that makes it acid', (key) => {
    fc.assert(
      fc.property(
        fc.record({
          product: fc.constant(key),
          form,
          pack,
          jar,
          altitudeM,
          method: fc.constantFrom('boiling-water', 'steam'),
        }),
        (asked) => {
          const answer = lookUpProcess(asked)
          if (answer.answer !== 'tested') return
          const made = answer.row.acidity === 'acidified' || answer.row.asPublished
          expect(made, `${key} as ${asked.form}: ${answer.row.id}`).toBe(true)
        },
      ),
      { numRuns: 300 },
    )
  })

  it('are all known: low-acid ones without pressure are refused, not unknown', () => {
    for (const { key } of lowAcid.filter((one) => one.key !== 'fig')) {
      for (const heated of ['boiling-water', 'steam']) {
        expect(lookUpProcess({ product: key, jar: 'pint', altitudeM: 0, method: heated }), key).toMatchObject({
          answer: 'refused',
          reason: 'low-acid',
        })
      }
    }
    expect(crop('fig')?.acidity).toBe('low-acid')
  })
})

describe('more altitude and larger jars', () => {
  const anyRow = fc.constantFrom(...rows)
  const land = fc.double({ min: -500, max: 9000, noNaN: true })

  it('never take less time or less pressure', () => {
    fc.assert(
      fc.property(anyRow, land, land, (row, one, other) => {
        const { product, form, pack, method } = row
        const jar = row.jars[0] ?? 'pint'
        const at = (altitudeM: number) => {
          const answer = lookUpProcess({ product, form, pack, jar, method, altitudeM })
          return answer.answer === 'tested' ? [answer, ...answer.others].find((found) => found.row === row) : undefined
        }
        const [low, high] = [at(Math.min(one, other)), at(Math.max(one, other))]
        if (high !== undefined) expect(low).toBeDefined()
        if (low === undefined || high === undefined) return
        expect(high.minutes).toBeGreaterThanOrEqual(low.minutes)
        expect(high.psi ?? 0).toBeGreaterThanOrEqual(low.psi ?? 0)
      }),
      { numRuns: 3000 },
    )
  })

  it('never take less time in the larger jar, pack and form being the same', () => {
    fc.assert(
      fc.property(
        anyRow,
        land,
        fc.constantFrom(...jarSizes),
        fc.constantFrom(...jarSizes),
        (row, altitudeM, one, other) => {
          const { product, form, pack, method } = row
          const [small, large] = jarSizes.indexOf(one) <= jarSizes.indexOf(other) ? [one, other] : [other, one]
          const inJar = (jar: string) => lookUpProcess({ product, form, pack, jar, method, altitudeM })
          const [less, more] = [inJar(small), inJar(large)]
          if (less.answer === 'tested' && more.answer === 'tested') {
            expect(more.minutes, row.id).toBeGreaterThanOrEqual(less.minutes)
          }
        },
      ),
      { numRuns: 3000 },
    )
  })
})
