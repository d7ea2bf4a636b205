import { describe, expect, it } from 'vitest'
import {
  type AcidChoice,
  type JarSize,
  jarSizes,
  lookUpProcess,
  type ProcessRow,
  processTable,
  type TestedProcess,
} from '../../../src/core/process/index.ts'

// Every row of the table, asked for by its own names, must answer itself at both edges of each of its bands and no
// further. The figures are the row's; what is checked is that nothing is lost or moved on the way to the answer.

const metres = (feet: number) => feet * 0.3048
/** A hundredth of a foot: 3 mm, and still the next band. */
const justBeyond = 0.01
const rows = processTable()

function ask(row: ProcessRow, jar: JarSize, feet: number): TestedProcess | string {
  const { product, form, pack, method } = row
  const answer = lookUpProcess({ product, form, pack, jar, method, altitudeM: metres(feet) })
  if (answer.answer !== 'tested') return answer.answer === 'refused' ? answer.reason : answer.says
  const own = [answer, ...answer.others].find((one) => one.row === row)
  return own ?? 'another row'
}

/** By the guide: a half-pint takes half of a pint's, sizes between two the larger one's. */
function acidByHand({ perPint, perQuart }: AcidChoice, jar: JarSize): number {
  const byJar: Record<JarSize, number | null> = {
    'half-pint': perPint === null ? null : perPint / 2,
    '12-ounce': perPint,
    pint: perPint,
    '1.5-pint': perQuart,
    quart: perQuart,
    'half-gallon': 2 * perQuart,
  }
  return byJar[jar] ?? perQuart
}

describe.each(rows.map((row) => [row.id, row] as const))('%s', (_, row) => {
  it('answers itself at the lower and the upper edge of each band, and the next just beyond', () => {
    for (const jar of row.jars) {
      row.bands.forEach((band, number) => {
        const below = row.bands[number - 1]?.toFt
        const lower = below === undefined || below === null ? -100 : below + justBeyond
        for (const feet of [lower, band.fromFt, band.toFt ?? 12_000]) {
          expect(ask(row, jar, feet), `${jar} at ${feet} ft`).toMatchObject({
            band,
            minutes: band.minutes,
            psi: band.psi,
            headspaceIn: row.headspaceIn,
            pack: row.pack,
            method: row.method,
            jar,
            sterileJars: row.sterileJars,
            source: row.source,
          })
        }
        if (band.toFt !== null) {
          const next = row.bands[number + 1]
          const beyond = ask(row, jar, band.toFt + justBeyond)
          if (next !== undefined) expect(beyond).toMatchObject({ band: next })
          else expect(['above-the-table', 'another row']).toContain(beyond)
        }
      })
    }
  })

  it('gives the acid of the table for each of its jars', () => {
    for (const jar of row.jars) {
      const answer = ask(row, jar, 0)
      expect(typeof answer).toBe('object')
      if (typeof answer === 'object') {
        expect(answer.acid.map(({ amount }) => amount)).toEqual(row.acid.map((choice) => acidByHand(choice, jar)))
      }
    }
  })

  it('answers in no jar that it does not list', () => {
    for (const jar of jarSizes.filter((size) => !row.jars.includes(size))) {
      expect(typeof ask(row, jar, 0), jar).toBe('string')
    }
  })
})

describe('the table as a whole', () => {
  it('has rows, each with an id of its own', () => {
    expect(rows.length).toBeGreaterThan(0)
    expect(new Set(rows.map(({ id }) => id)).size).toBe(rows.length)
  })

  it('has bands that rise without gaps, and times and pressures that never fall with altitude', () => {
    for (const { id, bands } of rows) {
      bands.slice(1).forEach((band, number) => {
        const below = bands[number]
        expect(band.fromFt, id).toBe((below?.toFt ?? Number.NaN) + 1)
        expect(band.minutes, id).toBeGreaterThanOrEqual(below?.minutes ?? Number.NaN)
        expect(band.psi ?? 0, id).toBeGreaterThanOrEqual(below?.psi ?? 0)
      })
    }
  })

  it('has low-acid food under pressure only, at 10 psi or more', () => {
    for (const row of rows.filter(({ acidity }) => acidity === 'low-acid')) {
      expect(row.method, row.id).not.toBe('boiling-water')
      for (const { psi } of row.bands) expect(psi ?? 0, row.id).toBeGreaterThanOrEqual(10)
    }
  })

  it('has no pressure above 15 psi (Guide 1 p. 1-10)', () => {
    for (const { id, bands } of rows) for (const { psi } of bands) expect(psi ?? 0, id).toBeLessThanOrEqual(15)
  })
})
