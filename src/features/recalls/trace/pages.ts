import type { CoopWays } from '../../../web/asking.ts'
import { formatFor } from '../../../web/format.ts'
import { processRows } from '../../batches/index.ts'
import { batchPath, batchRecordPath } from '../../batches/paths.ts'
import type { Batch } from '../../batches/queries.ts'
import { lotTitle } from '../../lots/index.ts'
import { lotPath } from '../../lots/paths.ts'
import { recipeVersionPath } from '../../recipes/paths.ts'
import { newRecallPath } from '../paths.ts'
import type { BatchTrace, LotTrace, Whereabouts } from './load.ts'
import { batchName, batchRow, goneRows, lotRow, type Reading, standingRows, totals } from './parts.ts'
import type { TracedBatch, TracedLot } from './queries.ts'

/** From a lot to every jar that was made of it. */
export function lotTracePage({ lot, batches, ...where }: LotTrace, coop: CoopWays) {
  const reading = readingOf(coop)
  const { format } = reading
  return {
    title: `Trace of ${lotTitle(lot)} of ${format.date(lot.arrivedOn)}`,
    place: 'shelf' as const,
    sentence:
      batches.length === 0
        ? 'Nothing was made of this lot yet.'
        : `Went into ${format.count(batches.length, 'batch', 'batches')}. ${jarsSentence(where, reading)}`,
    lots: [lotRow(lot, reading)],
    batches: batches.map((batch) => batchRow(batch, reading)),
    ...whereRows(where, batches, reading),
    recall: batches.length === 0 ? '' : newRecallPath({ lotId: lot.id }),
    back: { href: lotPath(lot.id), text: 'Back to the lot' },
  }
}

/** From a batch back to its lots and forward to every jar of it and of what was made of it. */
export function batchTracePage({ batch, behind, ahead, ...where }: BatchTrace, made: Batch, coop: CoopWays) {
  const reading = readingOf(coop)
  const { format } = reading
  const lots = lotsOf([batch, ...behind])
  return {
    title: `Trace of ${batchName(batch)}`,
    place: 'shelf' as const,
    recalled: batch.recalled,
    sentence: `Made on ${format.date(batch.madeOn)} of ${
      lots.length === 0 ? 'no lot that was noted' : format.count(lots.length, 'lot')
    }. ${jarsSentence(where, reading)}`,
    lots: lots.map((lot) => lotRow(lot, reading)),
    itself: [batchRow(batch, reading)],
    behind: behind.map((one) => batchRow(one, reading)),
    ahead: ahead.map((one) => batchRow(one, reading)),
    facts: makingFacts(made, reading),
    differs: made.process?.problems.map(({ says }) => says) ?? [],
    record: batchRecordPath(batch.id),
    ...whereRows(where, [batch, ...ahead], reading),
    recall: newRecallPath({ batchId: batch.id }),
    back: { href: batchPath(batch.id), text: 'Back to the batch' },
  }
}

/** The lots that went into any of these batches, each once, in the order of their arrival. */
export function lotsOf(batches: readonly TracedBatch[]): TracedLot[] {
  const lots = new Map<string, TracedLot>()
  for (const { inputs } of batches)
    for (const input of inputs) if (input.kind === 'lot') lots.set(input.lot.id, input.lot)
  return [...lots.values()].sort((a, b) => a.arrivedOn.localeCompare(b.arrivedOn) || a.id.localeCompare(b.id))
}

function makingFacts(made: Batch, { format }: Reading) {
  const { recipeId, recipeVersion, product, process, helpers, finishedBy } = made
  return [
    {
      name: 'Recipe',
      says: `${product}, version ${format.number(recipeVersion)}`,
      href: recipeVersionPath(recipeId, recipeVersion),
    },
    {
      name: 'Made by',
      says: helpers.length === 0 ? 'nobody was noted' : helpers.map(({ name }) => name).join(', '),
      href: '',
    },
    { name: 'Written down by', says: finishedBy, href: '' },
    ...(process === null
      ? [{ name: 'Process', says: 'none was noted', href: '' }]
      : processRows(made, format).map((row) => ({ ...row, href: '' }))),
  ]
}

function whereRows({ standing, gone }: Whereabouts, batches: readonly TracedBatch[], reading: Reading) {
  return { standing: standingRows(standing, batches, reading), gone: goneRows(gone, batches, reading) }
}

function jarsSentence({ standing, gone }: Whereabouts, { format }: Reading): string {
  const { stand, left } = totals(standing, gone)
  return `${format.count(stand, 'jar, bag or crock', 'jars, bags and crocks')} of it stand somewhere, ${format.number(left)} left the shelf.`
}

function readingOf(coop: CoopWays): Reading {
  return { format: formatFor(coop), timeZone: coop.timeZone }
}
