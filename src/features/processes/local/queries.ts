import { dateIn } from '../../../clock.ts'
import { jarSizes, type LocalProcess, packStyles, processMethods } from '../../../core/process/index.ts'
import { dateColumn, storedAs, storedDate, storedList } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { notFound } from '../../../errors.ts'
import { changedMeanwhile } from '../../../web/answers.ts'
import type { Asking, CoopWays } from '../../../web/asking.ts'
import { noteChange, type Writing } from '../../changes/index.ts'

export type KeptLocalProcess = LocalProcess & { version: number }
/** What a steward types in; who noted it and when is added. */
export type LocalProcessValues = Omit<LocalProcess, 'id' | 'notedBy' | 'notedOn' | 'withdrawn'>

/** All processes that the co-op noted, by product and method, withdrawn ones among them. */
export async function listLocalProcesses(
  prisma: TransactionClient,
  asking: { coopId: string; coop: Pick<CoopWays, 'locale'> },
): Promise<KeptLocalProcess[]> {
  const rows = await prisma.localProcess.findMany({ where: { coopId: asking.coopId } })
  return rows
    .map(fromRow)
    .sort(
      (a, b) =>
        a.product.localeCompare(b.product, asking.coop.locale) ||
        processMethods.indexOf(a.method) - processMethods.indexOf(b.method) ||
        a.fromM - b.fromM ||
        a.id.localeCompare(b.id),
    )
}

export async function findLocalProcess(
  prisma: TransactionClient,
  asking: Asking,
  id: string,
): Promise<KeptLocalProcess> {
  const row = await prisma.localProcess.findUnique({ where: { coopId_id: { coopId: asking.coopId, id } } })
  if (row === null) throw notFound('such local process')
  return fromRow(row)
}

export async function addLocalProcess(writing: Writing, values: LocalProcessValues): Promise<KeptLocalProcess> {
  const { transaction, asking, newId } = writing
  const id = newId()
  await transaction.localProcess.create({ data: { coopId: asking.coopId, id, ...columns(writing, values) } })
  await noteChange(writing, 'local-processes', id, `Process for ${values.product} noted`)
  return findLocalProcess(transaction, asking, id)
}

/** Whoever changes it has noted it anew. Refuses with `conflict` when the version that was read is not the newest. */
export async function changeLocalProcess(
  writing: Writing,
  id: string,
  version: number,
  values: LocalProcessValues,
): Promise<KeptLocalProcess> {
  const { transaction, asking } = writing
  const { count } = await transaction.localProcess.updateMany({
    where: { coopId: asking.coopId, id, version },
    data: { ...columns(writing, values), version: { increment: 1 } },
  })
  const now = await findLocalProcess(transaction, asking, id)
  if (count === 0) throw changedMeanwhile('this process')
  await noteChange(writing, 'local-processes', id, `Process for ${values.product} changed`)
  return now
}

/** Takes it out of reliance, or back: it is never removed, since batches may have been made by it. */
export async function withdrawLocalProcess(
  writing: Writing,
  id: string,
  withdrawn: boolean,
): Promise<KeptLocalProcess> {
  const { transaction, asking } = writing
  const before = await findLocalProcess(transaction, asking, id)
  if (before.withdrawn === withdrawn) return before
  await transaction.localProcess.update({
    where: { coopId_id: { coopId: asking.coopId, id } },
    data: { withdrawn, version: { increment: 1 } },
  })
  const what = withdrawn ? 'withdrawn' : 'relied on again'
  await noteChange(writing, 'local-processes', id, `Process for ${before.product} ${what}`)
  return findLocalProcess(transaction, asking, id)
}

function columns({ asking, now }: Writing, { jars, ...values }: LocalProcessValues) {
  return {
    ...values,
    jars: [...jars],
    notedBy: asking.name,
    notedOn: dateColumn(dateIn(now, asking.coop.timeZone)),
  }
}

type Row = Omit<LocalProcess, 'method' | 'pack' | 'jars' | 'notedOn'> & {
  method: string
  pack: string
  jars: string[]
  notedOn: Date
  version: number
}

function fromRow(row: Row): KeptLocalProcess {
  const { id, product, fromM, toM, minutes, kPa, headspaceMm, acid, source, notedBy, withdrawn, version } = row
  return {
    id,
    product,
    method: storedAs(processMethods, row.method),
    pack: storedAs(packStyles, row.pack),
    jars: storedList(jarSizes, row.jars),
    fromM,
    toM,
    minutes,
    kPa,
    headspaceMm,
    acid,
    source,
    notedBy,
    notedOn: storedDate(row.notedOn),
    withdrawn,
    version,
  }
}
