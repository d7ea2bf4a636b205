import { conflict } from '../../../errors.ts'
import { noteChange, type Writing } from '../../changes/index.ts'
import { lockedShort, type Needed } from '../../shelf/index.ts'
import { findShareOut, lockShares, type ShareOut } from '../proposals/queries.ts'
import { owedNow } from '../standing/queries.ts'
import { linesFor, type SharedEntry, writeCounterEntries, writeHandings } from './movements.ts'
import { sharedEntries } from './queries.ts'

/**
 * Hands a proposal out: every jar of the picking lists goes to its household's own line in the same place, and what is
 * owed then is written down. All of it or nothing, once.
 *
 * @throws conflict in words where it is no proposal any more, jars are gone or recalled since it was made, or what is
 * owed has changed
 */
export async function handOut(writing: Writing, id: string): Promise<ShareOut> {
  const { transaction, asking, now, newId } = writing
  const { coopId } = asking
  await lockShares(writing)
  const found = await findShareOut(transaction, asking, id)
  const { name, state, answer } = found
  if (state === 'handed-out') throw conflict(`${name} was handed out already.`)
  if (state === 'dropped') throw conflict(`${name} was dropped: make a new proposal.`)
  const due = answer.picks.flatMap(({ householdId, picks }) => picks.map((pick) => ({ ...pick, householdId })))
  const handings = await linesFor(writing, due)
  const toIds = handings.map(({ toId }) => toId)
  await refuseOtherStock(writing, found, toIds)
  await refuseOtherDebts(writing, found)
  await writeHandings(writing, handings, id)
  await transaction.owedEntry.createMany({
    data: answer.households.map(({ id: householdId, entitled, received }) => ({
      ...{ coopId, householdId, shareOutId: id, at: now },
      id: newId(),
      worthMinor: entitled - received,
    })),
  })
  await transaction.shareOut.update({
    where: { coopId_id: { coopId, id } },
    data: { state: 'handed-out', handedOutAt: now, version: { increment: 1 } },
  })
  const jars = due.reduce((sum, { units }) => sum + units, 0)
  await noteChange(writing, 'shares', id, `${name} handed out, ${jars} ${jars === 1 ? 'jar' : 'jars'}`)
  return findShareOut(transaction, asking, id)
}

/**
 * Takes a hand-out back: counter-entries of all its movements, and what was owed before. It is a proposal again then.
 *
 * @throws conflict in words where it is not handed out, or some of the jars are no longer there
 */
export async function undoHandOut(writing: Writing, id: string): Promise<ShareOut> {
  const { transaction, asking } = writing
  const { coopId } = asking
  await lockShares(writing)
  const { name, state } = await findShareOut(transaction, asking, id)
  if (state !== 'handed-out') throw conflict(`${name} is not handed out: there is nothing to take back.`)
  const entries = await sharedEntries(transaction, asking, id)
  await refuseGone(writing, entries)
  await writeCounterEntries(writing, entries)
  await transaction.owedEntry.deleteMany({ where: { coopId, shareOutId: id } })
  await transaction.shareOut.update({
    where: { coopId_id: { coopId, id } },
    data: { state: 'proposed', handedOutAt: null, version: { increment: 1 } },
  })
  await noteChange(writing, 'shares', id, `the hand-out of ${name} taken back`)
  return findShareOut(transaction, asking, id)
}

/** Takes one lock for all lines, those of the households too: whoever writes there waits, and nobody waits in a circle. */
async function refuseOtherStock(
  writing: Writing,
  { question, answer }: ShareOut,
  toIds: readonly string[],
): Promise<void> {
  const picks = answer.picks.flatMap((list) => list.picks)
  const short = await lockedShort(writing, byLine(picks), toIds)
  if (short.length === 0) return
  const names = new Map(question.products.map(({ id, name }) => [id, name]))
  const troubles = short.map(({ jarBatchId, needed, stock, recalled }) => {
    const { productId = '', code = '', place = '' } = picks.find((pick) => pick.jarBatchId === jarBatchId) ?? {}
    const what = `${names.get(productId) ?? 'jars'} ${code} in ${place}`
    return recalled
      ? `${what} is recalled`
      : `of ${what} there ${are(stock)} only ${stock}, and ${needed} ${are(needed)} to be handed out`
  })
  throw conflict(
    `The shelf has changed since this was worked out: ${listed(troubles)}. Nothing was handed out. Work it out anew.`,
  )
}

async function refuseOtherDebts({ transaction, asking }: Writing, { answer }: ShareOut): Promise<void> {
  const owed = await owedNow(transaction, asking)
  if (answer.households.every(({ id, owedBefore }) => owedBefore === (owed.get(id) ?? 0))) return
  throw conflict(
    'What households are owed has changed since this was worked out: another sharing was handed out or taken back. Nothing was handed out. Work it out anew.',
  )
}

async function refuseGone(writing: Writing, entries: readonly SharedEntry[]): Promise<void> {
  const brought = byLine(entries.filter(({ units }) => units > 0))
  const others = entries.filter(({ units }) => units <= 0).map(({ jarBatchId }) => jarBatchId)
  // what is recalled may go back
  const gone = (await lockedShort(writing, brought, others)).flatMap(({ household, stock, needed, product, code }) =>
    stock < needed
      ? [`${household ?? 'a household'} has ${stock} of ${needed} of ${product ?? 'these jars'} ${code ?? ''}`]
      : [],
  )
  if (gone.length > 0)
    throw conflict(
      `Some of what was handed out is no longer there: ${listed(gone)}. A hand-out can be taken back only while all of it is there.`,
    )
}

/** All units of each line together, in the order in which lines come first. */
function byLine(parts: readonly Needed[]): Needed[] {
  const units = new Map<string, number>()
  for (const part of parts) units.set(part.jarBatchId, part.units + (units.get(part.jarBatchId) ?? 0))
  return [...units].map(([jarBatchId, all]) => ({ jarBatchId, units: all }))
}

const are = (many: number): string => (many === 1 ? 'is' : 'are')

/** The first few, and how many more. */
function listed(all: readonly string[]): string {
  const shown = all.slice(0, 3).join('; ')
  return all.length > 3 ? `${shown}; and ${all.length - 3} more` : shown
}
