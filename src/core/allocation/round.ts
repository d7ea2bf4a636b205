import { add, at } from './arrays.ts'
import { type Draft, emptyDraft, madeBy, slot, stockSlot, stocksOf } from './draft.ts'
import { type FlowNetwork, flowNetwork } from './flow.ts'
import type { Kitchen } from './kitchen.ts'

/** What a solver says, in fractions: whole units, kilograms by draw and by use. */
export type Fractional = { units: number[]; drawKg: number[]; useKg: number[] }

/** Solver noise in grams that counts as none. */
const noiseGrams = 0.002

/** Costs of the flow are whole numbers from 0 to this. */
const costSteps = 1_000_000

/**
 * Keeps the units and finds whole grams next to the solver's fractions so that every balance holds exactly: an integral
 * flow from pools and stocks through inputs to batches, each arc between the whole grams below and above.
 * Null if no whole grams fit these units (a material that is used to the last gram can fall short by one).
 */
export function roundGrams(kitchen: Kitchen, fractional: Fractional): Draft | null {
  const stockLess = Array.from({ length: kitchen.problem.materials.length * kitchen.dayCount }, () => 0)
  for (const slack of [0, 0, 0, 1, 2, 5, 50, Number.POSITIVE_INFINITY]) {
    const draft = tryRounding(kitchen, fractional, slack, stockLess)
    if (!draft) continue
    const missing = missingStocks(kitchen, draft)
    if (missing.every((grams) => grams <= 0)) return draft
    for (const [stock, grams] of missing.entries()) if (grams > 0) add(stockLess, stock, grams)
  }
  return null
}

/** Grams by which each stock is overdrawn (negative: what is left of it). */
export function missingStocks(kitchen: Kitchen, draft: Draft): number[] {
  const missing = stocksOf(kitchen, madeBy(kitchen, draft)).map((grams) => -grams)
  for (const [u, use] of kitchen.uses.entries()) {
    add(missing, stockSlot(kitchen, use.material, use.madeOn), at(draft.uses, u))
  }
  return missing
}

/** The grams of an input that are within a gram of its share: from, to. */
export function shareGrams(share: { min: number; max: number }, batchGrams: number): { from: number; to: number } {
  return { from: Math.floor(share.min * batchGrams + 1e-6), to: Math.ceil(share.max * batchGrams - 1e-6) }
}

function tryRounding(kitchen: Kitchen, fractional: Fractional, slack: number, stockLess: number[]): Draft | null {
  const { makings, dayCount, pools, draws, uses } = kitchen
  const draft = emptyDraft(kitchen)
  draft.units = [...fractional.units]
  const stocks = expectedStocks(kitchen, fractional)
  const inputBase: number[] = []
  let nodes = 2 + pools.length + stocks.length
  for (const making of makings) {
    inputBase.push(nodes)
    nodes += dayCount * (making.inputs.length + 1)
  }
  const batchNode = (m: number, day: number) => at(inputBase, m) + day * (at(makings, m).inputs.length + 1)
  const network = flowNetwork(nodes)
  const poolLeft = pools.map((pool) => pool.grams)
  const stockLeft = stocks.map((grams, stock) => Math.floor(grams + noiseGrams) - at(stockLess, stock))
  const inputGrams = new Map<number, number>()
  const arcs: { arc: number; into: number[]; index: number }[] = []

  const lacking = draws.map((_, d) => lackingPerGram(kitchen, d))
  const most = Math.max(1e-9, ...lacking)
  const lackingCost = (draw: number) => Math.round((at(lacking, draw) / most) * costSteps)

  const connect = (
    kg: number,
    cost: number,
    index: number,
    into: number[],
    from: number,
    left: number[],
    leftAt: number,
    to: number,
  ) => {
    const grams = kg * 1000
    const low = Math.max(0, Math.floor(grams + noiseGrams) - slack)
    const high = Math.max(low, Math.ceil(grams - noiseGrams) + slack)
    const base = low
    into[index] = base
    add(left, leftAt, -base)
    inputGrams.set(to, (inputGrams.get(to) ?? 0) + base)
    if (high > base) arcs.push({ arc: network.arc(from, to, Math.min(high - base, 1e9), cost), into, index })
  }
  for (const [d, draw] of draws.entries()) {
    if (at(draft.units, slot(kitchen, draw.making, draw.day)) === 0) continue
    const to = batchNode(draw.making, draw.day) + 1 + draw.input
    connect(at(fractional.drawKg, d), lackingCost(d), d, draft.draws, 2 + draw.pool, poolLeft, draw.pool, to)
  }
  for (const [u, use] of uses.entries()) {
    if (at(draft.units, slot(kitchen, use.making, use.day)) === 0) continue
    const stock = stockSlot(kitchen, use.material, use.madeOn)
    const to = batchNode(use.making, use.day) + 1 + use.input
    connect(at(fractional.useKg, u), 0, u, draft.uses, 2 + pools.length + stock, stockLeft, stock, to)
  }
  if ([...poolLeft, ...stockLeft].some((grams) => grams < 0)) return null
  for (const [i, grams] of [...poolLeft, ...stockLeft].entries()) network.arc(0, 2 + i, grams)
  let wanted = 0
  for (const [m, making] of makings.entries()) {
    for (let day = 0; day < dayCount; day++) {
      const grams = at(draft.units, slot(kitchen, m, day)) * making.gramsPerUnit
      if (grams === 0) continue
      const batch = batchNode(m, day)
      const missing = connectInputs(network, making.inputs, grams, batch, inputGrams)
      if (missing === null) return null
      network.arc(batch, 1, missing)
      wanted += missing
    }
  }
  if (network.send(0, 1) < wanted) return null
  for (const { arc, into, index } of arcs) add(into, index, network.flow(arc))
  return sharesHold(kitchen, draft) ? draft : null
}

/** What a gram of this draw takes off a unit's worth, because the produce suits only partly. */
function lackingPerGram(kitchen: Kitchen, draw: number): number {
  const { suit, making } = at(kitchen.draws, draw)
  const { wish, gramsPerUnit } = at(kitchen.makings, making)
  return ((1 - suit) * wish.worth) / gramsPerUnit
}

/** Arcs from the inputs of a batch to the batch; returns the grams it still needs, null if it has too many already. */
function connectInputs(
  network: FlowNetwork,
  inputs: { share: { min: number; max: number } }[],
  grams: number,
  batch: number,
  inputGrams: Map<number, number>,
): number | null {
  let has = 0
  for (const [i, input] of inputs.entries()) {
    const node = batch + 1 + i
    const already = inputGrams.get(node) ?? 0
    has += already
    const { from, to } = shareGrams(input.share, grams)
    if (already > to) return null
    const must = Math.max(0, from - already)
    // What an input must have goes first: its arc pays more than any way can cost.
    if (must > 0) network.arc(node, batch, must, -1000 * costSteps)
    network.arc(node, batch, to - already - must)
  }
  return has > grams ? null : grams - has
}

function sharesHold(kitchen: Kitchen, draft: Draft): boolean {
  const grams = new Map<string, number>()
  const note = (making: number, day: number, input: number, amount: number) => {
    const key = `${making}/${day}/${input}`
    grams.set(key, (grams.get(key) ?? 0) + amount)
  }
  for (const [d, draw] of kitchen.draws.entries()) note(draw.making, draw.day, draw.input, at(draft.draws, d))
  for (const [u, use] of kitchen.uses.entries()) note(use.making, use.day, use.input, at(draft.uses, u))
  return kitchen.makings.every((making, m) =>
    kitchen.calendar.every((_, day) => {
      const batch = at(draft.units, slot(kitchen, m, day)) * making.gramsPerUnit
      return making.inputs.every((input, i) => {
        const { from, to } = shareGrams(input.share, batch)
        const has = grams.get(`${m}/${day}/${i}`) ?? 0
        return has >= from && has <= to
      })
    }),
  )
}

function expectedStocks(kitchen: Kitchen, fractional: Fractional): number[] {
  const stocks = Array.from({ length: kitchen.problem.materials.length * kitchen.dayCount }, () => 0)
  for (const [d, draw] of kitchen.draws.entries()) {
    for (const { material, share } of draw.trim) {
      add(stocks, stockSlot(kitchen, material, draw.day), at(fractional.drawKg, d) * 1000 * share)
    }
  }
  for (const [u, use] of kitchen.uses.entries()) {
    for (const { material, share } of use.trim) {
      add(stocks, stockSlot(kitchen, material, use.day), at(fractional.useKg, u) * 1000 * share)
    }
  }
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const units = at(fractional.units, slot(kitchen, m, day))
      for (const { material, grams } of making.makes) add(stocks, stockSlot(kitchen, material, day), units * grams)
    }
  }
  return stocks
}
