import { type Keeping, keepings, keepsIn } from '../../../core/shelf/index.ts'
import { fold } from '../../../core/units/index.ts'
import { storedAs } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import type { Writing } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { countStocks, jarBatchesFor, writeEntries } from '../../shelf/index.ts'
import { listOpenPlaces, type Place } from '../../shelf/places/queries.ts'
import type { Line } from './lines.ts'
import { insertOpenings, type Opening, openingReader } from './opening.ts'
import { batchesByCode, type CodedBatch } from './queries.ts'
import { byName, fault, type Step, type Steps, type Stood } from './step.ts'

/** No line counts more. */
const MOST_UNITS = 100_000

/**
 * What each line of a table of stock would do. With a code it is a stock-take: so many of that batch stand in that
 * place. Without one it is stock from before the shelf was kept here, and becomes a batch of its own.
 */
export async function stockSteps(
  prisma: TransactionClient,
  asking: Asking,
  lines: readonly Line[],
  today: string,
): Promise<Steps> {
  const households = byName(await listHouseholds(prisma, asking), ({ name }) => [name])
  const places = byName(await listOpenPlaces(prisma, asking), ({ name }) => [name])
  const codes = lines.flatMap(({ cells }) => (cells['code'] ? [cells['code'].toUpperCase()] : []))
  const batches = await batchesByCode(prisma, asking, codes)
  const readOpening = await openingReader(prisma, asking, lines.length > codes.length, today)
  const format = formatFor(asking.coop)
  const seen = new Map<string, number>()
  const openings: OpeningStood[] = []
  const counts: CountStood[] = []
  const steps = lines.map((row): Step => {
    const stood = whereItStands(row, places, households)
    if ('says' in stood) return fault(row.line, stood.says)
    const code = (row.cells['code'] ?? '').toUpperCase()
    if (code === '') {
      const { step, opening } = readOpening(row, stood)
      if (opening !== null) openings.push({ opening, stood })
      return step
    }
    const batch = batches.get(code)
    if (batch === undefined) return fault(row.line, `No batch here has the code “${code}”.`)
    const key = [batch.id, stood.place.id, stood.household?.id].join(' ')
    const before = seen.get(key)
    seen.set(key, row.line)
    if (before !== undefined) return fault(row.line, `Line ${before} counts the same jars: leave one of the two out.`)
    const own = batch.lines.find(
      (one) => one.placeId === stood.place.id && one.householdId === (stood.household?.id ?? null),
    )
    const step = countStep(stood, batch, own?.stock ?? 0, format)
    if (step.kind === 'change') counts.push({ stood, batchId: batch.id, own })
    return step
  })
  return { steps, write: (writing) => writeStock(writing, openings, counts) }
}

type OpeningStood = { opening: Opening; stood: Stood }
/** `own`: the line as it was shown; undefined where there is none yet. */
type CountStood = { stood: Stood; batchId: string; own: CodedBatch['lines'][number] | undefined }

/** Stock from before as batches of their own with their jars, and what was counted. */
async function writeStock(
  writing: Writing,
  openings: readonly OpeningStood[],
  counts: readonly CountStood[],
): Promise<void> {
  const batchIds = await insertOpenings(writing, openings)
  const anew = counts.filter(({ own }) => own === undefined)
  const lineIds = await jarBatchesFor(writing, [
    ...openings.map(({ stood }, at) => keyOf(batchIds[at] ?? '', stood)),
    ...anew.map(({ batchId, stood }) => keyOf(batchId, stood)),
  ])
  await writeEntries(
    writing,
    openings.map(({ stood: { units } }, at) => {
      const jarBatchId = lineIds[at] ?? ''
      return { jarBatchId, kind: 'put', units, note: 'brought in from a table' }
    }),
  )
  const madeIds = new Map(anew.map((count, at) => [count, lineIds[openings.length + at]]))
  await countStocks(
    writing,
    counts.map((count) => ({
      jarBatchId: count.own?.id ?? madeIds.get(count) ?? '',
      shown: count.own?.stock ?? 0,
      counted: count.stood.units,
    })),
  )
}

function keyOf(batchId: string, { place, household }: Stood) {
  return { batchId, placeId: place.id, householdId: household?.id ?? null }
}

function whereItStands(
  { line, cells }: Line,
  places: ReadonlyMap<string, Place>,
  households: ReadonlyMap<string, { id: string; name: string }>,
): Stood | { says: string } {
  const [where = '', whose = '', many = ''] = [cells['place'], cells['household'], cells['units']]
  const place = places.get(fold(where))
  if (place === undefined)
    return { says: where === '' ? 'Name the place where it stands.' : `No place in use is called “${where}”.` }
  const household = households.get(fold(whose)) ?? null
  if (household === null && whose !== '' && fold(whose) !== 'shared')
    return { says: `No household here is called “${whose}”: leave it empty for what is shared.` }
  const units = /^\d{1,6}$/.test(many) ? Number(many) : Number.NaN
  if (!(units <= MOST_UNITS)) return { says: `“${many}” is no number of units: enter a whole number, 0 for none.` }
  return { line, units, place, household }
}

function countStep(
  { line, units, place, household }: Stood,
  batch: CodedBatch,
  stock: number,
  format: Formatter,
): Step {
  const name = `${batch.product} ${batch.code}`
  const of = `${name} in ${place.name}, ${household === null ? 'shared' : `of ${household.name}`}`
  if (stock === units)
    return { line, kind: 'none', says: `${format.count(units, batch.unit, batch.unitsName)} of ${of}: so it is.` }
  const keeping: Keeping = storedAs(keepings, batch.keeping)
  if (units > stock && !keepsIn(keeping, place.kind))
    return fault(line, `${name} cannot be kept in ${place.name}: look where it stands.`)
  return {
    line,
    kind: 'change',
    says: `Counts ${format.count(units, batch.unit, batch.unitsName)} of ${of}; ${format.number(stock)} ${stock === 1 ? 'is' : 'are'} noted now.`,
  }
}
