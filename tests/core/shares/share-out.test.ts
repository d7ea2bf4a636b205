import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  apportionmentMethods,
  type HouseholdShare,
  type SharedProduct,
  type ShareOutQuestion,
  type SharingHousehold,
  shareOut,
} from '../../../src/core/shares/index.ts'

const runs = { numRuns: 500 }
const household = (id: string, points: number, more: Partial<SharingHousehold> = {}): SharingHousehold => ({
  id,
  points,
  people: 1,
  owed: 0,
  ...more,
})
const question = (
  products: SharedProduct[],
  households: SharingHousehold[],
  more: Partial<ShareOutQuestion> = {},
): ShareOutQuestion => ({ products, households, method: 'largest-remainder', byNeedPercent: 0, ...more })

describe('a sharing worked out by hand', () => {
  // 10 jars at 4.00 and 7 at 1.00: 47.00, by points 5 : 3 : 2 due 23.50, 14.10 and 9.40.
  const jam = { id: 'jam', units: 10, worth: 400 }
  const relish = { id: 'relish', units: 7, worth: 100 }
  const three = [household('ash', 5), household('birch', 3), household('cedar', 2)]

  test('dear jars first, cheap ones even it out', () => {
    const { households, products } = shareOut(question([relish, jam], three))
    expect(products.map(({ id }) => id)).toEqual(['jam', 'relish'])
    // Jam by 5 : 3 : 2 is 5, 3 and 2 jars; 3.50, 2.10 and 1.40 are left for 7 jars of relish.
    expect(households.map(({ units }) => units)).toEqual([
      { jam: 5, relish: 4 },
      { jam: 3, relish: 2 },
      { jam: 2, relish: 1 },
    ])
    expect(households.map(({ entitled }) => entitled)).toEqual([2350, 1410, 940])
    expect(households.map(({ received }) => received)).toEqual([2400, 1400, 900])
    expect(households.map(({ owed }) => owed)).toEqual([-50, 10, 40])
  })

  test('what is owed enters', () => {
    const owing = [household('ash', 5, { owed: -400 }), household('birch', 3, { owed: 400 }), household('cedar', 2)]
    const { households } = shareOut(question([jam, relish], owing))
    // Claims 19.50, 18.10 and 9.40: quotas of jam 4.15, 3.85 and 2; then 3.50, 2.10 and 1.40.
    expect(households.map(({ units }) => units)).toEqual([
      { jam: 4, relish: 4 },
      { jam: 4, relish: 2 },
      { jam: 2, relish: 1 },
    ])
    expect(households.map(({ owed }) => owed)).toEqual([-50, 10, 40])
  })

  test('who declines the jam has relish instead, before the others', () => {
    const { households, products } = shareOut(
      question(
        [jam, { ...relish, units: 20 }],
        [three[0], three[1], household('cedar', 2, { declines: ['jam'] })].flatMap((one) => one ?? []),
      ),
    )
    expect(products.map(({ id }) => id)).toEqual(['jam', 'relish'])
    // 60.00: due 30, 18 and 12. Jam by 30 : 18 is 6.25 and 3.75; then 6, 2 and 12 are left for 20 jars.
    expect(households.map(({ units, owed }) => [units, owed])).toEqual([
      [{ jam: 6, relish: 6 }, 0],
      [{ jam: 4, relish: 2 }, 0],
      [{ relish: 12 }, 0],
    ])
  })

  test('what everybody declines stays, and counts for nobody', () => {
    const all = three.map((one) => ({ ...one, declines: ['relish'] }))
    const { households, products } = shareOut(question([jam, relish], all))
    expect(products).toMatchObject([
      { id: 'relish', apportionment: null, left: 7 },
      { id: 'jam', left: 0 },
    ])
    expect(households.map(({ entitled }) => entitled)).toEqual([2000, 1200, 800])
  })

  test('jars that nobody has a claim to go to those who take them', () => {
    // Cedar alone takes the jam: all of it, though only 9.40 are due.
    const { households } = shareOut(
      question(
        [jam, relish],
        [
          household('ash', 5, { declines: ['jam'] }),
          household('birch', 3, { declines: ['jam'] }),
          household('cedar', 2),
        ],
      ),
    )
    expect(households.map(({ units }) => units)).toEqual([{ relish: 4 }, { relish: 3 }, { jam: 10 }])
    expect(households.map(({ owed }) => owed)).toEqual([1950, 1110, -3060])
  })

  test('jars beyond all claims go by parts, not all to the one with a few cents left', () => {
    // 13.33 due to each; ash and birch have had almost all of it, and cedar does not want any jam.
    const { households } = shareOut(
      question(
        [jam],
        [
          household('ash', 1, { owed: -1330 }),
          household('birch', 1, { owed: -1300 }),
          household('cedar', 1, { owed: 2630, declines: ['jam'] }),
        ],
      ),
    )
    expect(households.map(({ units }) => units)).toEqual([{ jam: 5 }, { jam: 5 }, {}])
  })

  test('by need: a fifth by people, the rest by points', () => {
    const families = [
      household('ash', 9, { people: 2 }),
      household('birch', 1, { people: 2 }),
      household('dale', 0, { people: 4 }),
    ]
    const jars = [{ id: 'jam', units: 100, worth: 100 }]
    const everybody = shareOut(question(jars, families, { byNeedPercent: 20 }))
    expect(everybody.households.map(({ units }) => units['jam'])).toEqual([77, 13, 10])
    expect(everybody.households.map(({ partByPoints, partByNeed }) => [partByPoints, partByNeed])).toEqual([
      [0.72, 0.05],
      [0.08, 0.05],
      [0, 0.1],
    ])
    const only = shareOut(question(jars, families, { byNeedPercent: 20, needFor: 'brought-nothing' }))
    expect(only.households.map(({ units }) => units['jam'])).toEqual([72, 8, 20])
  })

  test('with no points at all everything goes by people, with nobody in need all by points', () => {
    const jars = [{ id: 'jam', units: 6, worth: 100 }]
    const people = [household('ash', 0, { people: 1 }), household('birch', 0, { people: 2 })]
    expect(shareOut(question(jars, people)).households.map(({ units }) => units['jam'])).toEqual([2, 4])
    const workers = [household('ash', 1), household('birch', 2)]
    const shared = shareOut(question(jars, workers, { byNeedPercent: 50, needFor: 'brought-nothing' }))
    expect(shared.households.map(({ units }) => units['jam'])).toEqual([2, 4])
  })

  test('jars of no worth are shared by parts', () => {
    const { households } = shareOut(question([{ id: 'gift', units: 10, worth: 0 }], three))
    expect(households.map(({ units, owed }) => [units['gift'], owed])).toEqual([
      [5, 0],
      [3, 0],
      [2, 0],
    ])
  })

  test('nothing to share leaves what was owed', () => {
    const { households } = shareOut(
      question([], [household('ash', 1, { owed: 7 }), household('birch', 1, { owed: -7 })]),
    )
    expect(households).toMatchObject([
      { units: {}, received: 0, owed: 7 },
      { units: {}, received: 0, owed: -7 },
    ])
    expect(shareOut(question([], []))).toEqual({ households: [], products: [] })
  })
})

const productIds = ['jam', 'relish', 'sauce', 'stock']
const anyProducts = fc.uniqueArray(
  fc.record({ id: fc.constantFrom(...productIds), units: fc.nat(30), worth: fc.nat(900) }),
  { selector: ({ id }) => id, maxLength: 4 },
)
const anyHouseholds = fc
  .uniqueArray(
    fc.record({
      id: fc.constantFrom('ash', 'birch', 'cedar', 'dale', 'elm'),
      points: fc.nat(80).map((quarters) => quarters / 4),
      people: fc.nat(6),
      owed: fc.integer({ min: -600, max: 600 }),
      declines: fc.subarray(productIds),
    }),
    { selector: ({ id }) => id, minLength: 1 },
  )
  .filter((households) => households.some(({ points, people }) => points > 0 || (points === 0 && people > 0)))
const anyQuestion = fc
  .record({
    products: anyProducts,
    households: anyHouseholds,
    method: fc.constantFrom(...apportionmentMethods),
    byNeedPercent: fc.nat(100),
    needFor: fc.constantFrom('everybody' as const, 'brought-nothing' as const),
  })
  .map((one): ShareOutQuestion => {
    const known = new Set(one.products.map(({ id }) => id))
    const households = one.households.map((each) => ({
      ...each,
      declines: each.declines.filter((id) => known.has(id)),
    }))
    return { ...one, households }
  })

/** As above, with nobody declining, what is owed adding up to 0 and largest remainders. */
const plainQuestion = anyQuestion.map((one): ShareOutQuestion => {
  const households = one.households.map((each) => ({ ...each, declines: [] }))
  const rest = -households.slice(1).reduce((sum, { owed }) => sum + owed, 0)
  return {
    ...one,
    method: 'largest-remainder',
    households: households.map((each, index) => (index === 0 ? { ...each, owed: rest } : each)),
  }
})

describe('any sharing', () => {
  test('gives out every jar that somebody takes, and to the cent what is owed adds up', () => {
    fc.assert(
      fc.property(anyQuestion, (asked) => {
        const { households, products } = shareOut(asked)
        for (const { id, units } of asked.products) {
          const takers = asked.households.filter(({ declines }) => !declines?.includes(id))
          const row = products.find((one) => one.id === id)
          expect(total(households, (one) => one.units[id] ?? 0)).toBe(takers.length > 0 ? units : 0)
          expect(row?.left).toBe(takers.length > 0 ? 0 : units)
          for (const share of row?.apportionment?.shares ?? []) {
            expect(households.find((one) => one.id === share.id)?.units[id] ?? 0).toBe(share.seats)
          }
        }
        for (const one of households) {
          const before = asked.households.find(({ id }) => id === one.id)
          const worth = asked.products.reduce((sum, product) => sum + (one.units[product.id] ?? 0) * product.worth, 0)
          expect(one.received).toBe(worth)
          expect(one.owedBefore).toBe(before?.owed)
          expect(one.owedBefore + one.entitled - one.received).toBe(one.owed)
          expect(Number.isSafeInteger(one.owed)).toBe(true)
          for (const declined of before?.declines ?? []) expect(one.units).not.toHaveProperty(declined)
        }
        expect(total(households, ({ entitled }) => entitled)).toBe(total(households, ({ received }) => received))
        expect(total(households, ({ owed }) => owed)).toBe(asked.households.reduce((sum, { owed }) => sum + owed, 0))
        expect(total(households, ({ partByPoints, partByNeed }) => partByPoints + partByNeed)).toBeCloseTo(1, 9)
      }),
      runs,
    )
  })

  test('does not depend on the order of input', () => {
    const shuffled = anyQuestion.chain((asked) =>
      fc.record({
        asked: fc.constant(asked),
        products: fc.shuffledSubarray([...asked.products], { minLength: asked.products.length }),
        households: fc.shuffledSubarray([...asked.households], { minLength: asked.households.length }),
      }),
    )
    fc.assert(
      fc.property(shuffled, ({ asked, products, households }) => {
        expect(shareOut({ ...asked, products, households })).toEqual(shareOut(asked))
      }),
      runs,
    )
  })

  test('by largest remainder puts nobody with a claim above it by as much as the dearest jar', () => {
    fc.assert(
      fc.property(plainQuestion, (asked) => {
        const dearest = Math.max(1, ...asked.products.map(({ worth }) => worth))
        for (const { owedBefore, entitled, received, owed } of shareOut(asked).households) {
          if (owedBefore + entitled >= 0) expect(owed).toBeGreaterThan(-dearest)
          else expect(received).toBe(0)
        }
      }),
      runs,
    )
  })

  test('never strays from what is due by more than a dearest jar beyond the best division there is', () => {
    const small = plainQuestion.map((asked) => ({
      ...asked,
      products: asked.products.slice(0, 3).map((product) => ({ ...product, units: product.units % 4 })),
      households: asked.households.slice(0, 3).map((each) => ({ ...each, points: each.points + 1, owed: 0 })),
    }))
    fc.assert(
      fc.property(small, (asked) => {
        const { households } = shareOut(asked)
        const dearest = Math.max(0, ...asked.products.map(({ worth }) => worth))
        const furthest = Math.max(...households.map(({ owed }) => Math.abs(owed)))
        const best = leastFurthest(
          households.map(({ entitled }) => entitled),
          asked.products,
        )
        expect(furthest).toBeGreaterThanOrEqual(best)
        expect(furthest).toBeLessThanOrEqual(best + dearest)
      }),
      runs,
    )
  })

  test('year after year what is owed stays within a jar of each other household', () => {
    fc.assert(
      fc.property(plainQuestion, (asked) => {
        const dearest = Math.max(1, ...asked.products.map(({ worth }) => worth))
        let households = asked.households.map((each) => ({ ...each, owed: 0 }))
        for (let year = 0; year < 12; year++) {
          const after = new Map(shareOut({ ...asked, households }).households.map(({ id, owed }) => [id, owed]))
          households = households.map((each) => ({ ...each, owed: after.get(each.id) ?? 0 }))
          for (const { owed } of households) {
            expect(owed).toBeGreaterThan(-dearest)
            expect(owed).toBeLessThanOrEqual((households.length - 1) * dearest)
          }
        }
      }),
      { numRuns: 100 },
    )
  })
})

describe('refusals', () => {
  const jam = { id: 'jam', units: 3, worth: 100 }
  test.each<[string, ShareOutQuestion, RegExp]>([
    ['part of a jar', question([{ ...jam, units: 0.5 }], [household('ash', 1)]), /jars of jam/],
    ['part of a cent', question([{ ...jam, worth: 0.5 }], [household('ash', 1)]), /worth of jam/],
    ['negative points', question([jam], [household('ash', -1)]), /points of ash/],
    ['half a person', question([jam], [household('ash', 1, { people: 0.5 })]), /people of ash/],
    ['part of a cent owed', question([jam], [household('ash', 1, { owed: 0.5 })]), /owed to ash/],
    ['an unknown decline', question([jam], [household('ash', 1, { declines: ['tea'] })]), /declines tea/],
    ['a product twice', question([jam, jam], [household('ash', 1)]), /product jam is given twice/],
    ['a household twice', question([jam], [household('ash', 1), household('ash', 1)]), /household ash is given twice/],
    ['more than all by need', question([jam], [household('ash', 1)], { byNeedPercent: 101 }), /percentage/],
    ['no households', question([jam], []), /there is no household/],
    ['nobody to share by', question([jam], [household('ash', 0, { people: 0 })]), /no household has points/],
    ['more than can be counted', question([{ ...jam, worth: 2 ** 52 }], [household('ash', 1)]), /all worth together/],
  ])('%s', (_, asked, message) => {
    expect(() => shareOut(asked)).toThrow(RangeError)
    expect(() => shareOut(asked)).toThrow(message)
  })
})

function total(households: HouseholdShare[], of: (one: HouseholdShare) => number): number {
  return households.reduce((sum, one) => sum + of(one), 0)
}

/** The furthest that a household is from what is due, in the division where that is least: by trying them all. */
function leastFurthest(due: number[], products: readonly SharedProduct[]): number {
  const [product, ...others] = products
  if (product === undefined) return Math.max(...due.map(Math.abs))
  return Math.min(
    ...waysToSplit(product.units, due.length).map((jars) =>
      leastFurthest(
        due.map((cents, index) => cents - (jars[index] ?? 0) * product.worth),
        others,
      ),
    ),
  )
}

function waysToSplit(units: number, among: number): number[][] {
  if (among === 1) return [[units]]
  return Array.from({ length: units + 1 }, (_, first) => first).flatMap((first) =>
    waysToSplit(units - first, among - 1).map((rest) => [first, ...rest]),
  )
}
