import type { TransactionClient } from '../../../db/transaction.ts'
import { conflict, refused } from '../../../errors.ts'
import type { Asking } from '../../../web/asking.ts'
import type { Writing } from '../../changes/index.ts'
import type { TableIn } from '../columns.ts'
import { hashOf, plainText, readLines } from './lines.ts'
import { lotSteps } from './lots.ts'
import { broughtIn, lockImports, noteBroughtIn } from './queries.ts'
import { fault, type Step, type Steps } from './step.ts'
import { stockSteps } from './stock.ts'
import { takeSteps } from './takes.ts'

/** A table as it would be brought in now. */
export type Looked = Steps & {
  ignored: string[]
  faults: number
  changes: number
  /** When the same table was brought in before. */
  before: { at: Date; who: string } | null
  /** Tells this table and what it would do from any other: what is confirmed is what was shown. */
  seen: string
}

const stepsFor = { stock: stockSteps, ledger: takeSteps, lots: lotSteps }

/** What each line would do, and what is wrong with it. Writes nothing; as many queries whatever the table holds. */
export async function lookAt(
  prisma: TransactionClient,
  asking: Asking,
  { table, text, today }: { table: TableIn; text: string; today: string },
): Promise<Looked> {
  const plain = plainText(text)
  const read = readLines(table, plain)
  const { steps, write }: Steps = read.ok
    ? await stepsFor[table](prisma, asking, read.lines, today)
    : { steps: [fault(read.line, read.says)], write: async () => undefined }
  const many = (kind: Step['kind']) => steps.filter((step) => step.kind === kind).length
  return {
    steps,
    write,
    ignored: read.ok ? read.ignored : [],
    faults: many('fault'),
    changes: many('change'),
    before: await broughtIn(prisma, asking, hashOf(table, plain)),
    seen: hashOf(
      plain,
      steps.map(({ line, kind, says }) => [line, kind, says]),
    ),
  }
}

/**
 * Brings a table in, all of it or nothing.
 *
 * @param seen what `lookAt` gave when it was shown; a conflict where it would do something else by now
 * @returns how many lines changed something
 * @throws conflict for a table that was brought in before; refused where a line has a fault or none would change anything
 */
export async function bringIn(
  writing: Writing,
  { seen, ...given }: { table: TableIn; text: string; today: string; seen: string },
): Promise<number> {
  const { transaction, asking } = writing
  await lockImports(writing)
  const looked = await lookAt(transaction, asking, given)
  if (looked.before !== null) throw conflict('This table was brought in before, and counts once.')
  const wrong = looked.steps.find(({ kind }) => kind === 'fault')
  if (wrong !== undefined) throw refused(`Line ${wrong.line}: ${wrong.says}`)
  if (looked.seen !== seen) throw conflict('Look at it again: what is here has changed since it was shown.')
  if (looked.changes === 0) throw refused('All that it says is so already: nothing is to be brought in.')
  await looked.write(writing)
  const { table, text } = given
  const lines = `${looked.changes} ${looked.changes === 1 ? 'line' : 'lines'}`
  await noteBroughtIn(writing, table, hashOf(table, plainText(text)), `table of ${table} brought in, ${lines}`)
  return looked.changes
}
