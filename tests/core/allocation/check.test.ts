import { beforeAll, describe, expect, it } from 'vitest'
import { type CheckRule, checkRules } from '../../../src/core/allocation/check.ts'
import {
  type AllocationProblem,
  type AllocationResult,
  checkAllocation,
  solveAllocation,
} from '../../../src/core/allocation/index.ts'
import { larkriseWeekend } from './larkrise.ts'

// The checker against damaged divisions: one weekend with everything in it, and for every rule at least one damage.

let problem: AllocationProblem
let sound: AllocationResult

beforeAll(async () => {
  problem = larkriseWeekend()
  sound = await solveAllocation(problem)
})

type Damage = [rule: CheckRule, what: string, damage: (result: AllocationResult, problem: AllocationProblem) => void]

const damages: Damage[] = [
  [
    'id',
    'an item nobody brought',
    (r) => {
      first(r.allocations).itemId = 'pears'
    },
  ],
  [
    'id',
    'a day that is not there',
    (r) => {
      first(r.batches).day = 7
    },
  ],
  [
    'id',
    'an outlet that is not there',
    (r) => {
      leftoverTo(r, 'goats').to = { outletId: 'pigs' }
    },
  ],
  [
    'whole',
    'half a gram',
    (r) => {
      first(r.allocations).grams += 0.5
    },
  ],
  [
    'whole',
    'fewer than no units',
    (r) => {
      first(r.batches).units = -1
    },
  ],
  ['whole', 'a batch listed twice', (r) => void r.batches.push({ ...first(r.batches) })],
  [
    'item-balance',
    'a gram that vanishes',
    (r) => {
      leftoverTo(r, 'kept').grams -= 1
    },
  ],
  [
    'item-balance',
    'a gram too many',
    (r) => {
      first(r.allocations).grams += 1
    },
  ],
  [
    'material-balance',
    'a gram of peels that vanishes',
    (r) => {
      materialLeftover(r).grams -= 1
    },
  ],
  [
    'material-balance',
    'juice that nobody pressed',
    (r) => {
      first(r.materialUses).grams += 1
    },
  ],
  [
    'made',
    'a gram of trim too few',
    (r) => {
      made(r, 'peels').grams -= 1
    },
  ],
  [
    'made',
    'a gram of juice too many',
    (r) => {
      made(r, 'juice').grams += 1
    },
  ],
  [
    'batch-grams',
    'a batch that does not weigh its units',
    (r) => {
      first(r.batches).grams += 1
    },
  ],
  [
    'batch-grams',
    'one jar more out of the same',
    (r) => {
      first(r.batches).units += 1
    },
  ],
  ['batch-grams', 'produce for a batch that is not made', (r) => void r.batches.splice(0, 1)],
  [
    'share',
    'apple butter with two grams of damsons too few',
    (r) => {
      const use = (itemId: string) =>
        found(r.allocations.find((u) => u.productId === 'butter' && u.itemId.startsWith(itemId)))
      const move = use('damsons').grams - Math.floor(0.2 * (use('damsons').grams + use('apples').grams)) + 2
      use('damsons').grams -= move
      use('apples').grams += move
    },
  ],
  [
    'class',
    'damsons on the day they are lost',
    (r) => {
      found(r.allocations.find(({ day }) => day === 1)).itemId = 'damsons-soft'
    },
  ],
  [
    'day',
    'apple butter on a day it may not be made',
    (r) => {
      batch(r, 'butter').day = 0
    },
  ],
  [
    'timing',
    'juice on the day it is pressed',
    (r) => {
      first(r.materialUses).madeOn = 1
    },
  ],
  [
    'runs',
    'a pot too few',
    (r) => {
      batch(r, 'jam').runs[0] = (batch(r, 'jam').runs[0] ?? 0) - 1
    },
  ],
  [
    'runs',
    'a pot that nothing is in',
    (r) => {
      batch(r, 'jam').runs[0] = (batch(r, 'jam').runs[0] ?? 0) + 1
    },
  ],
  [
    'runs',
    'no word of the pots',
    (r) => {
      batch(r, 'jam').runs = []
    },
  ],
  ['fill', 'a last pot with one jar', (r) => Object.assign(batch(r, 'jam'), { units: 13, runs: [3] })],
  [
    'machine',
    'an hour less at the burner',
    (_, p) => {
      first(p.machines).minutesByDay = [60, 60]
    },
  ],
  [
    'hands',
    'Ada stays at home',
    (_, p) => {
      first(p.workers).minutesByDay = [0, 0]
    },
  ],
  [
    'hands',
    'nobody else may stand at the stove',
    (_, p) => {
      first(p.workers).skills = ['cut', 'wash']
    },
  ],
  [
    'room',
    'a smaller freezer',
    (_, p) => {
      first(p.rooms).ml = 5000
    },
  ],
  [
    'supply',
    'a pack too few',
    (r) => {
      first(r.purchases).packs -= 1
    },
  ],
  [
    'supply',
    'a pack too many',
    (r) => {
      first(r.purchases).packs += 1
    },
  ],
  [
    'supply',
    'packs at another price',
    (r) => {
      first(r.purchases).cost -= 1
    },
  ],
  [
    'supply',
    'more packs than there are',
    (_, p) => {
      first(p.supplies).packsAtMost = 1
    },
  ],
  [
    'budget',
    'less money',
    (_, p) => {
      p.budget = 1700
    },
  ],
  [
    'wish',
    'more than at most',
    (_, p) => {
      Object.assign(productOf(p, 'jam').wish, { atMost: 12 })
    },
  ],
  [
    'wish',
    'a shortfall not told',
    (r) => {
      r.shortfalls = []
    },
  ],
  ['wish', 'a shortfall that is none', (r) => void r.shortfalls.push({ productId: 'butter', units: 1 })],
  [
    'outlet',
    'damsons for the goats',
    (r) => {
      leftoverOf(r, 'damsons-ripe').to = { outletId: 'goats' }
    },
  ],
  [
    'outlet-capacity',
    'goats that eat less',
    (_, p) => {
      outlet(p, 'goats').capacityGrams = 1000
    },
  ],
  [
    'cascade',
    'goats that could eat more',
    (_, p) => {
      outlet(p, 'goats').capacityGrams = 9000
    },
  ],
  [
    'cascade',
    'soft damsons thrown away beside the heap',
    (r) => {
      leftoverTo(r, 'heap').to = 'lost'
    },
  ],
  [
    'cascade',
    'apples thrown away that keep',
    (r) => {
      leftoverTo(r, 'kept').to = 'lost'
    },
  ],
  [
    'kept',
    'damsons kept that do not keep',
    (r) => {
      leftoverOf(r, 'damsons-ripe').to = 'kept'
    },
  ],
  [
    'act-by',
    'another date',
    (r) => {
      first(r.leftovers).actBy = '2026-12-24'
    },
  ],
  [
    'objective',
    'a little more worth',
    (r) => {
      r.objective += 1
    },
  ],
  [
    'objective',
    'worth that is no number',
    (r) => {
      r.objective = Number.NaN
    },
  ],
  [
    'bound',
    'a bound below the worth',
    (r) => {
      r.bound = r.objective - 1
    },
  ],
  [
    'bound',
    'a bound that is no number',
    (r) => {
      r.bound = Number.NaN
    },
  ],
  [
    'gap',
    'a smaller gap than there is',
    (r) => Object.assign(r, { bound: r.objective + 500, gap: 0, status: 'limit' }),
  ],
  [
    'at-most-by-day',
    'more on a day than may be made there',
    (r, p) => {
      const { productId, day, units } = first(r.batches)
      productOf(p, productId).atMostByDay = p.days.map((_, d) => (d === day ? units - 1 : null))
    },
  ],
  [
    'status',
    'proved with a gap',
    (r) =>
      Object.assign(r, { bound: r.objective + 500, gap: 500 / Math.max(1, Math.abs(r.objective)), status: 'proved' }),
  ],
  [
    'status',
    'proved without a bound',
    (r) => Object.assign(r, { bound: Number.POSITIVE_INFINITY, gap: Number.POSITIVE_INFINITY }),
  ],
]

describe('the checker', () => {
  it('passes the division as it was found', () => {
    expect(checkAllocation(problem, sound)).toEqual([])
    expect(sound.status).toBe('proved')
  })

  it.each(damages)('says %s for %s', (rule, _what, damage) => {
    const result = structuredClone(sound)
    const changedProblem = structuredClone(problem)
    damage(result, changedProblem)
    expect(checkAllocation(changedProblem, result).map((violation) => violation.rule)).toContain(rule)
  })

  it('has every rule tried', () => {
    expect(new Set(damages.map(([rule]) => rule))).toEqual(new Set(checkRules))
  })
})

function found<T>(thing: T | undefined): T {
  if (thing === undefined) throw new Error('the weekend no longer has what this damage needs')
  return thing
}

function first<T>(list: T[]): T {
  return found(list[0])
}

function batch(result: AllocationResult, productId: string) {
  return found(result.batches.find((b) => b.productId === productId))
}

function made(result: AllocationResult, materialId: string) {
  return found(result.materialsMade.find((m) => m.materialId === materialId))
}

function materialLeftover(result: AllocationResult) {
  return found(result.leftovers.find(({ from }) => 'materialId' in from))
}

function leftoverOf(result: AllocationResult, itemId: string) {
  return found(result.leftovers.find(({ from }) => 'itemId' in from && from.itemId === itemId))
}

function leftoverTo(result: AllocationResult, place: string) {
  return found(
    result.leftovers.find(({ to, from }) => 'itemId' in from && (typeof to === 'string' ? to : to.outletId) === place),
  )
}

function productOf(from: AllocationProblem, id: string) {
  return found(from.products.find((p) => p.id === id))
}

function outlet(from: AllocationProblem, id: string) {
  return found(from.outlets.find((o) => o.id === id))
}
