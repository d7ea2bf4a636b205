import { fold } from '../../../core/units/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import type { Writing } from '../../changes/index.ts'
import { listHouseholds } from '../../helpers/queries.ts'
import { lockedShort, type NewEntry, writeEntries } from '../../shelf/index.ts'
import { listOpenPlaces } from '../../shelf/places/queries.ts'
import type { Line } from './lines.ts'
import { batchesByCode, type CodedBatch, knownEntries } from './queries.ts'
import { byName, fault, type Step, type Steps } from './step.ts'

type Take = { jarBatchId: string; units: number; householdId: string; note: string }

/**
 * What each line of a table of the ledger would do: a household takes units of a batch from a place, as from a list that
 * hung beside the shelf; nothing where the column "entry" names one that is here. Several lines may take of the same jars.
 */
export async function takeSteps(prisma: TransactionClient, asking: Asking, lines: readonly Line[]): Promise<Steps> {
  const households = byName(await listHouseholds(prisma, asking), ({ name }) => [name])
  const places = byName(await listOpenPlaces(prisma, asking), ({ name }) => [name])
  const cellsOf = (name: string) => lines.flatMap(({ cells }) => (cells[name] ? [cells[name]] : []))
  const batches = await batchesByCode(
    prisma,
    asking,
    cellsOf('code').map((code) => code.toUpperCase()),
  )
  const known = await knownEntries(prisma, asking, cellsOf('entry'))
  const format = formatFor(asking.coop)
  const left = new Map<string, number>()
  const takes: Take[] = []
  const steps = lines.map(({ line, cells }): Step => {
    const cell = (name: string) => cells[name] ?? ''
    if (known.has(cell('entry'))) return { line, kind: 'none', says: 'This entry is here already and stays as it is.' }
    if (!['', 'take'].includes(cell('what').toLowerCase()))
      return fault(line, `Only what was taken comes in by this table, no “${cell('what')}”.`)
    const household = households.get(fold(cell('household')))
    if (household === undefined)
      return fault(
        line,
        cell('household') === ''
          ? 'Name the household that took them.'
          : `No household here is called “${cell('household')}”.`,
      )
    const batch = batches.get(cell('code').toUpperCase())
    if (batch === undefined) return fault(line, `No batch here has the code “${cell('code')}”.`)
    if (batch.recalled) return fault(line, `${batch.product} ${batch.code} is recalled: nobody takes it.`)
    const place = places.get(fold(cell('place')))
    if (place === undefined) return fault(line, `No place in use is called “${cell('place')}”.`)
    const owner = households.get(fold(cell('owner')))
    if (owner === undefined && !['', 'shared'].includes(fold(cell('owner'))))
      return fault(line, `No household here is called “${cell('owner')}”: leave the owner empty for what is shared.`)
    const units = /^-?[1-9]\d{0,5}$/.test(cell('units')) ? Math.abs(Number(cell('units'))) : 0
    if (units === 0) return fault(line, `“${cell('units')}” is no number of units: enter a whole number above 0.`)
    const own = batch.lines.find((one) => one.placeId === place.id && one.householdId === (owner?.id ?? null))
    const there = own === undefined ? 0 : (left.get(own.id) ?? own.stock)
    if (own === undefined || units > there)
      return fault(
        line,
        `${sayUnits(format, there, batch)} of ${batch.product} ${batch.code} ${there === 1 ? 'is' : 'are'} left there, ${owner === undefined ? 'shared' : `of ${owner.name}`}.`,
      )
    left.set(own.id, there - units)
    takes.push({ jarBatchId: own.id, units, householdId: household.id, note: cell('note') || 'from a table' })
    return {
      line,
      kind: 'change',
      says: `${household.name} takes ${sayUnits(format, units, batch)} of ${batch.product} ${batch.code} from ${place.name}.`,
    }
  })
  return { steps, write: (writing) => writeTakes(writing, takes) }
}

function sayUnits(format: Formatter, units: number, { unit, unitsName }: CodedBatch): string {
  return format.count(units, unit, unitsName)
}

async function writeTakes(writing: Writing, takes: readonly Take[]): Promise<void> {
  const needed = new Map<string, number>()
  for (const { jarBatchId, units } of takes) needed.set(jarBatchId, (needed.get(jarBatchId) ?? 0) + units)
  const short = await lockedShort(
    writing,
    [...needed].map(([jarBatchId, units]) => ({ jarBatchId, units })),
  )
  if (short.length > 0) throw conflict('Look at it again: somebody took of these jars since it was shown.')
  await writeEntries(
    writing,
    takes.map(({ units, ...take }): NewEntry => ({ ...take, kind: 'take', units: -units })),
  )
}
