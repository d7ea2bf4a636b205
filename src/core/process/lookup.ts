import { processTable } from './tables/index.ts'
import {
  gauges,
  type JarSize,
  jarSizes,
  type PackStyle,
  type ProcessAnswer,
  type ProcessMethod,
  type ProcessQuery,
  type ProcessRow,
  packStyles,
  type TestedProcess,
  type Unknown,
} from './types.ts'

const metresPerFoot = 0.3048
const kPaPerPsi = 6.894757
const mmPerInch = 25.4
/** A ten-thousandth of a foot: less than any altitude is known, more than metres lose in floating point. */
const slack = 1e-4

/**
 * The tested process for a product in a jar at an altitude, from the published tables alone: nothing between or beyond
 * their rows and bands is worked out. Altitudes are metres and may lie below the sea.
 */
export function lookUpProcess(query: ProcessQuery): ProcessAnswer {
  const method = methodOf(query)
  const jar = jarSizes.find((size) => size === query.jar)
  if (method === null || jar === undefined) return unknown('No table is known for that.')
  const rows = processTable().filter(
    (row) =>
      row.product === query.product &&
      row.method === method &&
      row.jars.includes(jar) &&
      (query.pack === undefined || row.pack === query.pack) &&
      (query.form === undefined || row.form === query.form),
  )
  const found = rows.flatMap((row) => atAltitude(row, method, jar, query.altitudeM))
  const [first, ...others] = found.sort((a, b) => b.minutes - a.minutes)
  return first === undefined ? unknown('No table is known for that.') : { ...first, others }
}

function methodOf({ method, gauge }: ProcessQuery): Exclude<ProcessMethod, 'steam'> | null {
  if (method === 'boiling-water' || method === 'water-bath-canned') return 'boiling-water'
  const kind = method === 'pressure-canned' ? gauges.find((one) => one === gauge) : method.replace(/-gauge$/, '')
  return kind === 'dial' ? 'dial-gauge' : kind === 'weighted' ? 'weighted-gauge' : null
}

function atAltitude(row: ProcessRow, method: ProcessMethod, jar: JarSize, altitudeM: number): TestedProcess[] {
  const feet = altitudeM / metresPerFoot - slack
  const band = row.bands.find(({ toFt }) => toFt === null || feet <= toFt)
  if (band === undefined || !Number.isFinite(altitudeM)) return []
  return [
    {
      answer: 'tested',
      row,
      band,
      method,
      pack: row.pack satisfies PackStyle,
      jar,
      minutes: band.minutes,
      psi: band.psi,
      kPa: band.psi === null ? null : band.psi * kPaPerPsi,
      headspaceIn: row.headspaceIn,
      headspaceMm: row.headspaceIn === null ? null : row.headspaceIn * mmPerInch,
      acid: [],
      sterileJars: row.sterileJars,
      notes: row.notes,
      source: row.source,
      others: [],
    },
  ]
}

function unknown(says: string): Unknown {
  return { answer: 'unknown', says, instead: [] }
}

export function isPackStyle(text: string): text is PackStyle {
  return packStyles.some((style) => style === text)
}
