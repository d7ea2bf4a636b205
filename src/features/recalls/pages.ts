import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { batchPath } from '../batches/paths.ts'
import { shelfPath } from '../shelf/paths.ts'
import { liftRecallPath, newRecallPath, recallNoticePath, recallPath, recallsPath } from './paths.ts'
import { RECALLS_PER_PAGE, type Recall } from './queries.ts'
import { botulismCaution, healthAuthority } from './texts.ts'
import { batchName, batchRow, daysBetween, goneRows, type Reading, standingRows } from './trace/parts.ts'
import type { TracedBatch } from './trace/queries.ts'
import { type HouseholdHas, households, type RecallView } from './view.ts'

export function recallsPage(recalls: Recall[], page: number, coop: CoopWays) {
  const format = formatFor(coop)
  const shown = recalls.slice(0, RECALLS_PER_PAGE)
  const standing = shown.filter(({ liftedAt }) => liftedAt === null).length
  return {
    title: 'Recalls',
    place: 'shelf' as const,
    sentence:
      shown.length === 0
        ? 'Nothing was ever recalled.'
        : standing === 0
          ? 'No recall stands.'
          : `${format.count(standing, 'recall stands', 'recalls stand')}.`,
    rows: shown.map((recall) => ({
      href: recallPath(recall.id),
      what: recall.batches.map(batchName).join(', '),
      reason: recall.reason,
      at: format.instant(recall.at),
      by: recall.by,
      lifted: recall.liftedAt === null ? '' : format.instant(recall.liftedAt),
    })),
    before: page > 1 ? `${recallsPath()}?page=${page - 1}` : '',
    after: recalls.length > RECALLS_PER_PAGE ? `${recallsPath()}?page=${page + 1}` : '',
    add: newRecallPath(),
    back: shelfPath(),
  }
}

export function recallPage({ recall, batches, where, madeOf }: RecallView, coop: CoopWays) {
  const reading: Reading = { format: formatFor(coop), timeZone: coop.timeZone }
  const tell = households(where)
  const outside = where.gone.filter(({ kind, householdId }) => kind === 'give' && householdId === null)
  return {
    title: `Recall of ${recall.batches.map(batchName).join(', ')}`,
    place: 'shelf' as const,
    standing: recall.liftedAt === null,
    state: stateOf(recall, reading.format),
    reason: recall.reason,
    todo: recall.todo.split('\n'),
    cautions: cautionsOf(recall),
    tell: tell.map((one) => ({ name: one.household, has: hasLines(one, batches, reading) })),
    outside: goneRows(outside, batches, reading),
    standingRows: standingRows(where.standing, batches, reading),
    gone: goneRows(where.gone, batches, reading),
    batches: batches.map((batch) => batchRow(batch, reading)),
    madeOf: madeOf.map((batch) => ({ ...batchRow(batch, reading), recall: newRecallPath({ batchId: batch.id }) })),
    notice: recallNoticePath(recall.id),
    lift: liftRecallPath(recall.id),
    back: recallsPath(),
  }
}

/** The notice on paper: big, for a wall or a door, and the list of households below. */
export function noticePage({ recall, batches, where }: RecallView, coop: CoopWays) {
  const reading: Reading = { format: formatFor(coop), timeZone: coop.timeZone }
  return {
    title: recall.liftedAt === null ? 'Recalled: do not eat' : 'This recall was lifted',
    place: 'shelf' as const,
    standing: recall.liftedAt === null,
    state: stateOf(recall, reading.format),
    batches: batches.map((batch) => ({
      product: batch.product,
      code: batch.code,
      says: `${batch.variety === null ? '' : `${batch.variety}, `}${batch.unitsName}, made on ${reading.format.date(batch.madeOn)}`,
    })),
    reason: recall.reason,
    todo: recall.todo.split('\n'),
    cautions: cautionsOf(recall),
    tell: households(where).map((one) => ({ name: one.household, has: hasLines(one, batches, reading) })),
    outside: goneRows(
      where.gone.filter(({ kind, householdId }) => kind === 'give' && householdId === null),
      batches,
      reading,
    ),
    back: recallPath(recall.id),
  }
}

/** The first lines of Today: what is recalled, and where to read on. */
export function recallLines(recalls: readonly Recall[]): { href: string; text: string }[] {
  return recalls.map((recall) => ({
    href: recallPath(recall.id),
    text: `Recalled, do not eat: ${recall.batches.map(batchName).join(', ')}. ${recall.reason}`,
  }))
}

function cautionsOf({ batches }: Recall): string[] {
  return [botulismCaution(batches), healthAuthority].filter((text) => text !== '')
}

function stateOf({ at, by, liftedAt, liftedBy }: Recall, format: Formatter): string {
  const begun = `Recalled by ${by}, ${format.instant(at)}.`
  return liftedAt === null ? begun : `${begun} Lifted by ${liftedBy ?? 'somebody'}, ${format.instant(liftedAt)}.`
}

/** "3 half-pint jars of Damson jam 7KQ4M, taken Sat 12 Sep 2026" */
function hasLines({ took, owns }: HouseholdHas, batches: readonly TracedBatch[], reading: Reading) {
  const line = (batchId: string, units: number, how: string) => {
    const batch = batches.find(({ id }) => id === batchId)
    if (batch === undefined) return []
    return [
      {
        href: batchPath(batch.id),
        text: `${reading.format.count(units, batch.unit, batch.unitsName)} of ${batchName(batch)}, ${how}`,
      },
    ]
  }
  return [
    ...took.flatMap(({ batchId, units, first, last }) =>
      line(batchId, units, `taken ${daysBetween(first, last, reading)}`),
    ),
    ...owns.flatMap(({ batchId, units, place }) => line(batchId, units, `theirs, in ${place}`)),
  ]
}
