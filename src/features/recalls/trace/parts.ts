import { dateIn } from '../../../clock.ts'
import type { Formatter } from '../../../web/format.ts'
import { batchPath } from '../../batches/paths.ts'
import { lotTitle, sourceWords } from '../../lots/index.ts'
import { lotPath } from '../../lots/paths.ts'
import { jarBatchPath } from '../../shelf/paths.ts'
import { traceBatchPath, traceLotPath } from '../paths.ts'
import type { Gone, Leaving, Standing, TracedBatch, TracedLot } from './queries.ts'

// The tables that the pages of tracing and of recalls have in common, as text.

/** How people read figures, and the zone in which a day begins. */
export type Reading = { format: Formatter; timeZone: string }

const leavingWords: Record<Leaving, string> = {
  take: 'taken',
  give: 'given away outside the co-op',
  share: 'shared out',
  break: 'broken or thrown out',
  use: 'used in another batch',
  count: 'missing at a stock-take',
}

type Named = { code: string; product: string; variety: string | null }

/** "Damson jam 7KQ4M" */
export function batchName({ code, product }: Pick<Named, 'code' | 'product'>): string {
  return `${product} ${code}`
}

export function batchRow(batch: TracedBatch, { format }: Reading) {
  return {
    href: batchPath(batch.id),
    trace: traceBatchPath(batch.id),
    name: batchName(batch),
    variety: batch.variety ?? '',
    madeOn: format.date(batch.madeOn),
    units: format.count(batch.units, batch.unit, batch.unitsName),
    of: batch.inputs.map((input) =>
      input.kind === 'lot'
        ? {
            href: traceLotPath(input.lot.id),
            text: `${format.weight(input.grams)} of ${lotTitle(input.lot)} of ${format.date(input.lot.arrivedOn)}`,
          }
        : {
            href: traceBatchPath(input.batchId),
            text: `${format.number(input.units)} of ${batchName(input)}, ${format.weight(input.grams)}`,
          },
    ),
    recalled: batch.recalled,
  }
}

export function lotRow(lot: TracedLot, { format }: Reading) {
  return {
    href: lotPath(lot.id),
    trace: traceLotPath(lot.id),
    name: lotTitle(lot),
    broughtBy: lot.household === null ? lot.broughtBy : `${lot.broughtBy} (${lot.household})`,
    arrivedOn: format.date(lot.arrivedOn),
    weight: format.weight(lot.weightGrams),
    source: sourceWords[lot.source],
  }
}

export function standingRows(standing: readonly Standing[], batches: readonly TracedBatch[], { format }: Reading) {
  return standing.flatMap((row) => {
    const batch = batches.find(({ id }) => id === row.batchId)
    if (batch === undefined) return []
    return [
      {
        href: jarBatchPath(row.jarBatchId),
        batch: batchName(batch),
        place: row.place,
        whose: row.household ?? 'shared',
        units: format.count(row.units, batch.unit, batch.unitsName),
      },
    ]
  })
}

export function goneRows(gone: readonly Gone[], batches: readonly TracedBatch[], reading: Reading) {
  return gone.flatMap((row) => {
    const batch = batches.find(({ id }) => id === row.batchId)
    if (batch === undefined) return []
    const found = row.kind === 'count' && row.units < 0
    return [
      {
        batch: batchName(batch),
        href: batchPath(batch.id),
        who: row.household ?? '',
        how: found ? 'found more at a stock-take' : leavingWords[row.kind],
        note: row.note ?? '',
        units: reading.format.count(Math.abs(row.units), batch.unit, batch.unitsName),
        when: daysBetween(row.first, row.last, reading),
      },
    ]
  })
}

/** "Sat 12 Sep 2026", or from one to another. */
export function daysBetween(first: Date, last: Date, { format, timeZone }: Reading): string {
  const [from, to] = [dateIn(first, timeZone), dateIn(last, timeZone)]
  return from === to ? format.date(from) : `${format.date(from)} to ${format.date(to)}`
}

/** How many stand and how many left, in whole units of all sizes together. */
export function totals(standing: readonly Standing[], gone: readonly Gone[]): { stand: number; left: number } {
  return {
    stand: standing.reduce((sum, { units }) => sum + units, 0),
    left: gone.reduce((sum, { units }) => sum + units, 0),
  }
}
