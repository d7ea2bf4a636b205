import type { ModelData } from 'highs'
import { at } from '../arrays.ts'

/** Column numbers with their coefficients. */
export type Terms = [column: number, coefficient: number][]

/** A mixed-integer programme that grows column by column and row by row. Maximised. */
export type ModelBuilder = {
  column(cost: number, lower: number, upper: number, whole?: boolean): number
  /** `name` is for reading duals back: rows with a name can be found again. */
  row(lower: number, upper: number, terms: Terms, name?: string): number
  finish(): BuiltModel
}

export type BuiltModel = {
  columns: number
  rows: number
  nonzeros: number
  cost: Float64Array
  lower: Float64Array
  upper: Float64Array
  whole: Int32Array
  rowLower: Float64Array
  rowUpper: Float64Array
  starts: Int32Array
  indices: Int32Array
  values: Float64Array
  rowNames: Map<string, number>
}

export function modelBuilder(): ModelBuilder {
  const cost: number[] = []
  const lower: number[] = []
  const upper: number[] = []
  const whole: number[] = []
  const rowLower: number[] = []
  const rowUpper: number[] = []
  const starts: number[] = [0]
  const indices: number[] = []
  const values: number[] = []
  const rowNames = new Map<string, number>()
  return {
    column(costOf, lowerOf, upperOf, isWhole = false) {
      cost.push(costOf)
      lower.push(lowerOf)
      upper.push(upperOf)
      whole.push(isWhole ? 1 : 0)
      return cost.length - 1
    },
    row(lowerOf, upperOf, terms, name) {
      for (const [column, coefficient] of terms) {
        if (coefficient === 0) continue
        indices.push(column)
        values.push(coefficient)
      }
      starts.push(indices.length)
      rowLower.push(lowerOf)
      rowUpper.push(upperOf)
      if (name !== undefined) rowNames.set(name, rowLower.length - 1)
      return rowLower.length - 1
    },
    finish: () => ({
      columns: cost.length,
      rows: rowLower.length,
      nonzeros: indices.length,
      cost: Float64Array.from(cost),
      lower: Float64Array.from(lower),
      upper: Float64Array.from(upper),
      whole: Int32Array.from(whole),
      rowLower: Float64Array.from(rowLower),
      rowUpper: Float64Array.from(rowUpper),
      starts: Int32Array.from(starts),
      indices: Int32Array.from(indices),
      values: Float64Array.from(values),
      rowNames,
    }),
  }
}

/** The model as HiGHS takes it (rows packed one after the other). */
export function modelData(model: BuiltModel, sense: NonNullable<ModelData['sense']>): ModelData {
  return {
    numCols: model.columns,
    numRows: model.rows,
    sense,
    colCost: model.cost,
    colLower: model.lower,
    colUpper: model.upper,
    rowLower: model.rowLower,
    rowUpper: model.rowUpper,
    matrix: {
      format: 'csr',
      numRows: model.rows,
      numCols: model.columns,
      starts: model.starts,
      indices: model.indices,
      values: model.values,
    },
    integrality: model.whole,
  }
}

/** Worth of a point, in the model's own scale. */
export function worthAt(model: BuiltModel, point: ArrayLike<number>): number {
  let value = 0
  for (let c = 0; c < model.columns; c++) value += at(model.cost, c) * at(point, c)
  return value
}
