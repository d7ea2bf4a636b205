import { expect, it } from 'vitest'
import {
  type AllocationProblem,
  checkProblem,
  ProblemRefused,
  solveAllocation,
} from '../../../src/core/allocation/index.ts'
import { larkriseWeekend } from './larkrise.ts'

type Spoil = (problem: AllocationProblem) => Partial<AllocationProblem>

const first = <T>(list: T[], change: (thing: T) => Partial<T>): T[] =>
  list.map((thing, i) => (i === 0 ? { ...thing, ...change(thing) } : thing))

const refused: [what: string, spoil: Spoil, says: RegExp][] = [
  ['no days', () => ({ days: [] }), /days: there are none/],
  ['days in the wrong order', () => ({ days: ['2026-09-05', '2026-09-04'] }), /not after the day before/],
  ['a day that is none', () => ({ days: ['2026-09-04', 'Saturday'] }), /is not a date/],
  ['a negative weight', (p) => ({ items: first(p.items, () => ({ grams: -1 })) }), /grams: is negative/],
  ['half a gram', (p) => ({ items: first(p.items, () => ({ grams: 0.5 })) }), /not a whole number/],
  [
    'a worth that is no number',
    (p) => ({ products: first(p.products, ({ wish }) => ({ wish: { ...wish, worth: Number.NaN } })) }),
    /worth: is not a number/,
  ],
  ['a budget without end', () => ({ budget: Number.POSITIVE_INFINITY }), /budget: is not a number/],
  [
    'a row of classes that is too short',
    (p) => ({ items: first(p.items, () => ({ classByDay: ['ripe'] })) }),
    /1 entries for 2 days/,
  ],
  ['the same item twice', (p) => ({ items: [...p.items, ...p.items.slice(0, 1)] }), /given twice/],
  ['a supply nobody has', (p) => ({ products: first(p.products, () => ({ supplies: { lids: 1 } })) }), /names lids/],
  [
    'a machine nobody has',
    (p) => ({ products: first(p.products, () => ({ machineMinutesPerUnit: { press: 1 } })) }),
    /names press/,
  ],
  [
    'a material nobody makes',
    (p) => ({ outlets: first(p.outlets, () => ({ takesMaterials: ['pomace'] })) }),
    /names pomace/,
  ],
  ['a day out of range', (p) => ({ products: first(p.products, () => ({ onDays: [2] })) }), /names day 2/],
  [
    'shares above the whole',
    (p) => ({
      products: first(p.products, ({ inputs }) => ({
        inputs: [...inputs, ...inputs.map((i) => ({ ...i, from: { crop: 'apples' } }))],
      })),
    }),
    /need more than the whole/,
  ],
  [
    'shares below the whole',
    (p) => ({
      products: first(p.products, ({ inputs }) => ({ inputs: first(inputs, () => ({ share: { min: 0, max: 0.9 } })) })),
    }),
    /do not come to the whole/,
  ],
  [
    'a share with its ends exchanged',
    (p) => ({
      products: first(p.products, ({ inputs }) => ({ inputs: first(inputs, () => ({ share: { min: 1, max: 0.5 } })) })),
    }),
    /least above its most/,
  ],
  [
    'two inputs of the same crop',
    (p) => ({ products: first(p.products, ({ inputs }) => ({ inputs: [...inputs, ...inputs] })) }),
    /same thing by two inputs/,
  ],
  ['nothing to make it of', (p) => ({ products: first(p.products, () => ({ inputs: [] })) }), /made of nothing/],
  [
    'more out than in',
    (p) => ({ products: first(p.products, () => ({ makes: [{ materialId: 'juice', gramsPerUnit: 700 }] })) }),
    /more as trim and material/,
  ],
  [
    'an intermediate product as trim',
    (p) => ({
      products: first(p.products, ({ inputs }) => ({
        inputs: first(inputs, () => ({ trim: [{ materialId: 'juice', share: 0.1 }] })),
      })),
    }),
    /belongs in what the product makes/,
  ],
  [
    'a wish with its ends exchanged',
    (p) => ({ products: first(p.products, ({ wish }) => ({ wish: { ...wish, about: 50 } })) }),
    /about above its most/,
  ],
  [
    'a worth that rises',
    (p) => ({ products: first(p.products, ({ wish }) => ({ wish: { ...wish, worthBeyond: 900 } })) }),
    /above the worth up to about/,
  ],
  ['outlets whose worth rises', (p) => ({ outlets: [...p.outlets].reverse() }), /comes before it in use/],
  [
    'a material that never keeps until it is ready',
    (p) => ({ materials: first(p.materials, () => ({ keepsDays: 0 })) }),
    /no longer keeps/,
  ],
  ['empty packs', (p) => ({ supplies: first(p.supplies, () => ({ packSize: 0 })) }), /pack size: is zero/],
  [
    'a material that needs itself',
    (p) => ({
      materials: first(p.materials, () => ({ readyAfterDays: 0 })),
      products: p.products.map((product) =>
        product.id === 'jelly' ? { ...product, makes: [{ materialId: 'juice', gramsPerUnit: 100 }] } : product,
      ),
    }),
    /needs itself on the same day \(juice > juice\)/,
  ],
]

it('accepts the weekend as it is', () => {
  expect(checkProblem(larkriseWeekend())).toEqual([])
})

it.each(refused)('refuses %s', async (_what, spoil, says) => {
  const problem = larkriseWeekend()
  const spoiled = { ...problem, ...spoil(problem) }
  expect(
    checkProblem(spoiled)
      .map(({ where, detail }) => `${where}: ${detail}`)
      .join('\n'),
  ).toMatch(says)
  await expect(solveAllocation(spoiled)).rejects.toBeInstanceOf(ProblemRefused)
})

it('refuses more kinds of work than can be counted', () => {
  const problem = larkriseWeekend()
  const many = Object.fromEntries(Array.from({ length: 13 }, (_, i) => [`work-${i}`, 1]))
  const spoiled = { ...problem, products: first(problem.products, () => ({ workPerUnit: many })) }
  expect(
    checkProblem(spoiled)
      .map(({ detail }) => detail)
      .join(),
  ).toMatch(/kinds; at most 12/)
})
