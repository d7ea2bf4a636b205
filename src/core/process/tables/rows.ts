import type { Citation } from '../sources.ts'
import type { AcidChoice, Band, JarSize, PackStyle, ProcessRow } from '../types.ts'

/** "half-pint and pint" as the tables' "Pints", by Guide 1 p. 1-23: half-pints take the pint's time. */
export const pints: readonly JarSize[] = ['half-pint', 'pint']
/** "Quarts" of the tables: a pint and a half takes the quart's time (Guide 1 p. 1-23). */
export const quarts: readonly JarSize[] = ['1.5-pint', 'quart']
export const pintsAndQuarts: readonly JarSize[] = [...pints, ...quarts]
export const halfPints: readonly JarSize[] = ['half-pint']
export const halfGallons: readonly JarSize[] = ['half-gallon']

/** What all rows of one product share; `rows` are the lines of its table. */
export type BoilingWaterTable = {
  product: string
  form: string
  headspaceIn: number | null
  acidity?: 'acid' | 'acidified'
  acid?: readonly AcidChoice[]
  sterileJars?: boolean
  asPublished?: boolean
  notes?: readonly string[]
  source: Citation
  /** Minutes in the printed bands: four numbers for 1,000, 3,000, 6,000 ft and above; three for 1,000, 6,000 and above. */
  rows: readonly {
    pack: PackStyle
    jars: readonly JarSize[]
    minutes: readonly number[]
    sterileJars?: boolean
    source?: Citation
  }[]
}

/** The rows of a boiling-water table. @throws RangeError for anything but three or four bands: a slip of the hand. */
export function boilingWater(table: BoilingWaterTable): ProcessRow[] {
  return table.rows.map(({ pack, jars, minutes, sterileJars, source }) => ({
    id: `boiling-water/${table.product}/${table.form}/${pack}/${jars.at(-1)}`,
    product: table.product,
    form: table.form,
    method: 'boiling-water',
    pack,
    jars,
    bands: boilingWaterBands(minutes),
    headspaceIn: table.headspaceIn,
    acidity: table.acidity ?? 'acid',
    acid: table.acid ?? [],
    sterileJars: sterileJars ?? table.sterileJars ?? false,
    asPublished: table.asPublished ?? false,
    notes: table.notes ?? [],
    source: source ?? table.source,
  }))
}

/** What all rows of one product under pressure share. */
export type PressureTable = {
  product: string
  form: string
  headspaceIn: number | null
  acidity: ProcessRow['acidity']
  acid?: readonly AcidChoice[]
  asPublished?: boolean
  notes?: readonly string[]
  /** Where the dial table and the weighted one are printed. */
  source: { dial: Citation; weighted: Citation }
  rows: readonly {
    pack: PackStyle
    jars: readonly JarSize[]
    minutes: number
    /** Pressure in the printed bands; null: the table says "not recommended"; absent: this gauge has no such line. */
    dial?: readonly [number, number, number, number]
    weighted?: readonly [number, number | null]
    source?: { dial?: Citation; weighted?: Citation }
  }[]
}

/** Low-acid food: 11 to 14 psi on a dial by 2,000 ft; 10 and above 1,000 ft 15 on a weight. */
export const lowAcidPressure = { dial: [11, 12, 13, 14], weighted: [10, 15] } as const
/** Acid fruit: 6 to 9 psi on a dial; 5 and above 1,000 ft 10 on a weight. */
export const acidPressure = { dial: [6, 7, 8, 9], weighted: [5, 10] } as const

/** The rows of a dial-gauge and a weighted-gauge table. */
export function underPressure(table: PressureTable): ProcessRow[] {
  return table.rows.flatMap(({ pack, jars, minutes, dial, weighted, source }) => {
    const common = {
      product: table.product,
      form: table.form,
      pack,
      jars,
      headspaceIn: table.headspaceIn,
      acidity: table.acidity,
      acid: table.acid ?? [],
      sterileJars: false,
      asPublished: table.asPublished ?? false,
      notes: table.notes ?? [],
    }
    const rows: ProcessRow[] = []
    const place = (gauge: string, psi: number) =>
      `${gauge}/${table.product}/${table.form}/${pack}/${jars.at(-1)}/${psi}-psi`
    if (dial) {
      rows.push({
        ...common,
        id: place('dial-gauge', dial[0]),
        method: 'dial-gauge',
        bands: dialBands(dial, minutes),
        source: source?.dial ?? table.source.dial,
      })
    }
    if (weighted) {
      rows.push({
        ...common,
        id: place('weighted-gauge', weighted[0]),
        method: 'weighted-gauge',
        bands: weightedBands(weighted, minutes),
        source: source?.weighted ?? table.source.weighted,
      })
    }
    return rows
  })
}

/** Tomatoes and what is made of them: bottled acid in every jar, pressure or not (Guide 3 p. 3-5). */
export const tomatoAcid: readonly AcidChoice[] = [
  { acid: 'bottled-lemon-juice', perPint: 1, perQuart: 2 },
  { acid: 'citric-acid', perPint: 0.25, perQuart: 0.5 },
  { acid: 'vinegar-5', perPint: 2, perQuart: 4 },
]
/** Figs (Guide 2 p. 2-14): the same without vinegar. */
export const figAcid: readonly AcidChoice[] = tomatoAcid.slice(0, 2)
/** Asian pears (Guide 2 p. 2-20): lemon juice only. */
export const asianPearAcid: readonly AcidChoice[] = tomatoAcid.slice(0, 1)

function boilingWaterBands(minutes: readonly number[]): Band[] {
  const edges = minutes.length === 4 ? [1000, 3000, 6000, null] : minutes.length === 3 ? [1000, 6000, null] : null
  if (edges === null) throw new RangeError(`a boiling-water table has three or four bands, not ${minutes.length}`)
  return minutes.map((many, number) => ({ ...edge(edges, number), minutes: many, psi: null }))
}

function dialBands(psi: readonly number[], minutes: number): Band[] {
  return psi.map((pressure, number) => ({ ...edge([2000, 4000, 6000, 8000], number), minutes, psi: pressure }))
}

function weightedBands([low, high]: readonly [number, number | null], minutes: number): Band[] {
  return [
    { fromFt: 0, toFt: 1000, minutes, psi: low },
    ...(high === null ? [] : [{ fromFt: 1001, toFt: null, minutes, psi: high }]),
  ]
}

function edge(edges: readonly (number | null)[], number: number): Pick<Band, 'fromFt' | 'toFt'> {
  const below = number === 0 ? null : (edges[number - 1] ?? null)
  return { fromFt: below === null ? 0 : below + 1, toFt: edges[number] ?? null }
}
