import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { type AllocationProblem, type AllocationResult, solveAllocation } from '../../../src/core/allocation/index.ts'
import { askDivision, NotAccountedFor, type Question, summarise } from '../../../src/core/division/index.ts'
import { demonstrationQuestion } from '../../support/demonstration-question.ts'
import { smallQuestion } from './kitchen.ts'

let question: Question
let problem: AllocationProblem
let result: AllocationResult
beforeAll(async () => {
  question = demonstrationQuestion()
  problem = askDivision(question)
  // nodes, not seconds, so that the division is the same on every machine
  result = await solveAllocation(problem, { maxNodes: 1 })
})

const total = <T>(list: readonly T[], of: (one: T) => number) => list.reduce((sum, one) => sum + of(one), 0)

describe('the summary of a division', () => {
  it('accounts for every gram of the demonstration plan', () => {
    const summary = summarise(question, problem, result)
    // 38 + 65 + 42 + 24 + 8.5 + 9 kg came in
    expect(summary.cameInGrams).toBe(186_500)
    expect(summary.setAsideGrams).toBe(3_500)
    expect(summary.lostInSortingGrams).toBe(1_600)
    expect(summary.madeGrams).toBeGreaterThan(50_000)
    const ends = total(summary.ends, (end) => end.grams)
    expect(summary.madeGrams + ends + 3_500 + 1_600).toBe(186_500)
  })

  it('has links of which every node passes on what it gets', () => {
    const { links, lots } = summarise(question, problem, result)
    for (const lot of lots) {
      const out = total(links, (link) => (link.from === `lot:${lot.lotId}` ? link.grams : 0))
      expect(out, lot.lotId).toBe(lot.cameInGrams)
    }
    const passing = new Set(links.map(({ to }) => to).filter((node) => /^(product|material):/.test(node)))
    expect(passing.size).toBeGreaterThan(5)
    for (const node of passing) {
      expect(
        total(links, ({ from, grams }) => (from === node ? grams : 0)),
        node,
      ).toBe(total(links, ({ to, grams }) => (to === node ? grams : 0)))
    }
  })

  it('says of each lot what it becomes on which day, by class', () => {
    const summary = summarise(question, problem, result)
    const damsons = summary.lots.find((lot) => lot.lotId === 'damson')
    const used = total(damsons?.uses ?? [], (use) => use.grams)
    const left = total(damsons?.leftovers ?? [], (leftover) => leftover.grams)
    expect(used + left + 1_000 + 600).toBe(38_000)
    expect(damsons?.uses.map(({ day }) => day)).toEqual([...(damsons?.uses ?? [])].map(({ day }) => day).sort())
    for (const use of damsons?.uses ?? []) expect(['firm', 'ripe', 'soft', 'damaged']).toContain(use.ripeness)
  })

  it('counts units and raw weight by day as the batches do', () => {
    const summary = summarise(question, problem, result)
    expect(summary.products.map(({ productId }) => productId)).toEqual(problem.products.map(({ id }) => id))
    for (const product of summary.products) {
      expect(total(product.byDay, ({ units }) => units)).toBe(product.units)
      expect(product.rawGrams).toBe(product.netGrams + product.trimGrams + product.passedOnGrams)
    }
    expect(total(summary.products, ({ units }) => units)).toBe(total(result.batches, ({ units }) => units))
    expect(summary.spent).toBe(total(result.purchases, ({ cost }) => cost))
  })

  it('takes an answer in which nothing is made', async () => {
    const asked = smallQuestion({ wishes: [] })
    const small = askDivision(asked)
    const summary = summarise(asked, small, await solveAllocation(small, { maxNodes: 1 }))
    expect(summary.madeGrams).toBe(0)
    expect(summary.cameInGrams).toBe(10_750)
    expect(total(summary.ends, (end) => end.grams)).toBe(10_000)
  })

  it('refuses an answer from which any one entry loses or gains grams', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('allocations', 'leftovers', 'materialsMade', 'materialUses', 'batches'),
        fc.nat(),
        fc.integer({ min: -500, max: 500 }).filter((grams) => grams !== 0),
        (list, pick, grams) => {
          const entries = result[list]
          fc.pre(entries.length > 0)
          const number = pick % entries.length
          const damaged: AllocationResult = {
            ...result,
            [list]: entries.map((entry, i) => (i === number ? { ...entry, grams: entry.grams + grams } : entry)),
          }
          expect(() => summarise(question, problem, damaged)).toThrow(NotAccountedFor)
        },
      ),
      { seed: 20_260_918, numRuns: 120 },
    )
  })

  it('refuses an answer that uses produce on a day when it is lost', () => {
    const [first] = result.allocations
    const items = problem.items.map((item) =>
      item.id === first?.itemId ? { ...item, classByDay: item.classByDay.map(() => null) } : item,
    )
    expect(() => summarise(question, { ...problem, items }, result)).toThrow(RangeError)
  })
})
