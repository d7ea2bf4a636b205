import { type SlowKind, type SlowMeasure, slowKinds, slowMeasures } from '../../core/slow/index.ts'
import { dateColumn, storedAs, storedDate } from '../../db/stored.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { notFound } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'

export type SlowStage = {
  /** Of its template, or from 1000 on one of the co-op's own. */
  number: number
  says: string
  dueOn: string
  measure: SlowMeasure | null
  /** null while it is open */
  doneOn: string | null
  doneBy: string | null
  /** As it was typed; null: nothing was noted. */
  found: string | null
  note: string | null
}
export type SlowJobHead = {
  id: string
  kind: SlowKind
  name: string
  place: string | null
  startedOn: string
  /** null while it goes on */
  endedOn: string | null
  ended: string | null
}
/** A job with all its stages, by the day on which they are due. */
export type SlowJob = SlowJobHead & {
  note: string | null
  batch: { id: string; code: string; product: string; recalled: boolean } | null
  version: number
  stages: SlowStage[]
}
/** A job that goes on, and the first of its stages that are open; null: none is. */
export type OpenSlowJob = SlowJobHead & { next: { number: number; says: string; dueOn: string } | null }
/** An open stage of a job that goes on. */
export type DueStage = { jobId: string; jobName: string; number: number; says: string; dueOn: string }

/** All jobs that go on, those first whose next stage is due first. */
export async function listOpenSlowJobs(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
): Promise<OpenSlowJob[]> {
  const rows = await prisma.slowJob.findMany({
    where: { coopId, endedOn: null },
    include: { stages: { where: { doneOn: null }, orderBy: inOrder, take: 1 } },
    orderBy: [{ startedOn: 'asc' }, { id: 'asc' }],
  })
  return rows
    .map((row) => ({ ...headOf(row), next: row.stages.map(openStage)[0] ?? null }))
    .sort((a, b) => compare(a.next?.dueOn ?? '9', b.next?.dueOn ?? '9') || compare(a.startedOn, b.startedOn))
}

/** So many ended jobs stand on a page. */
export const ENDED_PER_PAGE = 30

/** Jobs that ended, the newest first. @param page from 1 */
export async function listEndedSlowJobs(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  page: number,
): Promise<{ jobs: SlowJobHead[]; more: boolean }> {
  const rows = await prisma.slowJob.findMany({
    where: { coopId, endedOn: { not: null } },
    orderBy: [{ endedOn: 'desc' }, { id: 'asc' }],
    skip: (page - 1) * ENDED_PER_PAGE,
    take: ENDED_PER_PAGE + 1,
  })
  return { jobs: rows.slice(0, ENDED_PER_PAGE).map(headOf), more: rows.length > ENDED_PER_PAGE }
}

export async function findSlowJob(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  id: string,
): Promise<SlowJob> {
  const row = await prisma.slowJob.findUnique({
    where: { coopId_id: { coopId, id } },
    include: {
      stages: { orderBy: inOrder },
      batch: { select: { id: true, code: true, product: true, recalledAt: true } },
    },
  })
  if (row === null) throw notFound('such slow job')
  return {
    ...headOf(row),
    note: row.note,
    batch: row.batch === null ? null : withRecalled(row.batch),
    version: row.version,
    stages: row.stages.map((stage) => ({
      ...openStage(stage),
      measure: stage.measure === null ? null : storedAs(slowMeasures, stage.measure),
      doneOn: stage.doneOn === null ? null : storedDate(stage.doneOn),
      doneBy: stage.doneBy,
      found: stage.found,
      note: stage.note,
    })),
  }
}

/** A job's stage; throws not-found where the job has none of that number. */
export function stageOf(job: SlowJob, number: number): SlowStage {
  const stage = job.stages.find((one) => one.number === number)
  if (stage === undefined) throw notFound('such stage')
  return stage
}

/** The stages that are due on a day or were before, the longest due first: so many of them, and how many there are. */
export async function dueSlowStages(
  prisma: TransactionClient,
  { coopId }: Pick<Asking, 'coopId'>,
  today: string,
  most: number,
): Promise<{ stages: DueStage[]; all: number }> {
  const where = { coopId, doneOn: null, dueOn: { lte: dateColumn(today) }, job: { endedOn: null } }
  const rows = await prisma.slowStage.findMany({
    where,
    include: { job: { select: { name: true } } },
    orderBy: [...inOrder, { jobId: 'asc' }],
    take: most,
  })
  const stages = rows.map((row) => ({ jobId: row.jobId, jobName: row.job.name, ...openStage(row) }))
  return { stages, all: rows.length < most ? rows.length : await prisma.slowStage.count({ where }) }
}

/** Open stages of jobs that go on, as calendars show them: with the job, and when it was last changed. */
export async function calendarStages(prisma: TransactionClient, coopId: string) {
  const rows = await prisma.slowStage.findMany({
    where: { coopId, doneOn: null, job: { endedOn: null } },
    include: { job: true },
    orderBy: [...inOrder, { jobId: 'asc' }],
  })
  const changes = await prisma.change.groupBy({
    by: ['nounId'],
    where: { coopId, noun: 'slow-jobs', nounId: { in: [...new Set(rows.map(({ jobId }) => jobId))] } },
    _max: { at: true },
  })
  const changedAt = new Map(changes.map(({ nounId, _max }) => [nounId, _max.at]))
  return rows.map((row) => ({
    ...openStage(row),
    job: { ...headOf(row.job), version: row.job.version },
    changedAt: changedAt.get(row.jobId) ?? row.job.startedOn,
  }))
}

/** What a new job takes over from a finished batch; throws not-found for a batch of nobody here. */
export async function batchToGoOn(prisma: TransactionClient, { coopId }: Pick<Asking, 'coopId'>, id: string) {
  const row = await prisma.batch.findUnique({
    where: { coopId_id: { coopId, id } },
    select: { id: true, code: true, product: true, madeOn: true },
  })
  if (row === null) throw notFound('such batch')
  return { ...row, madeOn: storedDate(row.madeOn) }
}

function withRecalled({
  recalledAt,
  ...batch
}: {
  id: string
  code: string
  product: string
  recalledAt: Date | null
}) {
  return { ...batch, recalled: recalledAt !== null }
}

const inOrder: [{ dueOn: 'asc' }, { number: 'asc' }] = [{ dueOn: 'asc' }, { number: 'asc' }]

type HeadRow = Omit<SlowJobHead, 'kind' | 'startedOn' | 'endedOn'> & {
  kind: string
  startedOn: Date
  endedOn: Date | null
}

function headOf({ id, kind, name, place, startedOn, endedOn, ended }: HeadRow): SlowJobHead {
  return {
    id,
    kind: storedAs(slowKinds, kind),
    name,
    place,
    startedOn: storedDate(startedOn),
    endedOn: endedOn === null ? null : storedDate(endedOn),
    ended,
  }
}

function openStage({ number, says, dueOn }: { number: number; says: string; dueOn: Date }) {
  return { number, says, dueOn: storedDate(dueOn) }
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
