import { add, at } from '../arrays.ts'
import { slot, stockSlot } from '../draft.ts'
import type { Terms } from './builder.ts'
import type { Building } from './formulate.ts'

/** Every pool ends in products, in outlets that take it, kept, or lost. */
export function addPoolEndings(building: Building): void {
  const { kitchen, builder, columns, worth } = building
  const terms: Terms[] = kitchen.pools.map(() => [])
  for (const [d, draw] of kitchen.draws.entries()) {
    const column = at(columns.draws, d)
    if (column >= 0) at(terms, draw.pool).push([column, 1])
  }
  for (const [p, pool] of kitchen.pools.entries()) {
    const kg = pool.grams / 1000
    const all = at(terms, p)
    for (const [o, outlet] of kitchen.problem.outlets.entries()) {
      if (!pool.outlets[o] || outlet.capacityGrams === 0) continue
      const column = builder.column(worth(outlet.worthPerKg), 0, kg)
      at(building.outletTerms, o).push([column, 1])
      all.push([column, 1])
    }
    if (pool.keepWorthPerKg !== null) all.push([builder.column(worth(pool.keepWorthPerKg), 0, kg), 1])
    else all.push([builder.column(worth(-kitchen.problem.spoilagePerKg), 0, kg), 1])
    builder.row(kg, kg, all, `pool ${p}`)
  }
}

/** What comes out of batches as material goes into other batches, into outlets, or is lost. */
export function addMaterialEndings(building: Building): void {
  const { kitchen, builder, columns, worth } = building
  const { materials, outlets, spoilagePerKg } = kitchen.problem
  const stocks = materials.length * kitchen.dayCount
  const made: Map<number, number>[] = Array.from({ length: stocks }, () => new Map<number, number>())
  const gone: Terms[] = Array.from({ length: stocks }, () => [])
  const wanted = new Float64Array(stocks)
  const note = (stock: number, column: number, amount: number) =>
    at(made, stock).set(column, (at(made, stock).get(column) ?? 0) - amount)
  for (const [d, { day, trim }] of kitchen.draws.entries()) {
    const column = at(columns.draws, d)
    if (column < 0) continue
    for (const { material, share } of trim) note(stockSlot(kitchen, material, day), column, share)
  }
  for (const [u, { day, trim, material, madeOn }] of kitchen.uses.entries()) {
    const column = at(columns.uses, u)
    if (column < 0) continue
    for (const given of trim) note(stockSlot(kitchen, given.material, day), column, given.share)
    at(gone, stockSlot(kitchen, material, madeOn)).push([column, 1])
    add(wanted, stockSlot(kitchen, material, madeOn), 1)
  }
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const units = at(columns.units, slot(kitchen, m, day))
      if (units < 0) continue
      for (const { material, grams } of making.makes) note(stockSlot(kitchen, material, day), units, grams / 1000)
    }
  }
  for (let stock = 0; stock < stocks; stock++) {
    const material = at(materials, Math.floor(stock / kitchen.dayCount))
    const takers = outlets.flatMap((outlet, o) =>
      outlet.capacityGrams !== 0 && outlet.takesMaterials.includes(material.id) ? [o] : [],
    )
    const lostCost = material.kind === 'intermediate' ? spoilagePerKg : 0
    if (takers.length === 0 && lostCost === 0 && at(wanted, stock) === 0) continue
    const terms = [...at(gone, stock), ...at(made, stock)]
    if (terms.length === 0) continue
    for (const o of takers) {
      const column = builder.column(worth(at(outlets, o).worthPerKg), 0, Number.POSITIVE_INFINITY)
      at(building.outletTerms, o).push([column, 1])
      terms.push([column, 1])
    }
    terms.push([builder.column(worth(-lostCost), 0, Number.POSITIVE_INFINITY), 1])
    builder.row(0, 0, terms, `stock ${stock}`)
  }
}
