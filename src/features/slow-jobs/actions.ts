import { dateAfter, daysBetween } from '../../core/produce/dates.ts'
import { movingWith, ownStagesFrom, type SlowMeasure, stagesFor, ways } from '../../core/slow/index.ts'
import { dateColumn } from '../../db/stored.ts'
import { conflict, refused } from '../../errors.ts'
import { noteChange, type Writing } from '../changes/index.ts'
import { batchToGoOn, findSlowJob, type SlowJob, stageOf } from './queries.ts'

export type NewSlowJob = {
  way: string
  /** '': as the way is called */
  name: string
  place: string | null
  startedOn: string
  /** degrees Celsius where it stands; null: not known */
  temperatureC: number | null
  batchId: string | null
  note: string | null
}
export type Done = { doneOn: string; found: string | null; note: string | null }
export type OwnStage = { says: string; dueOn: string; measure: SlowMeasure | null }

/** Begins a job with the stages of its way. Refused at a temperature at which it may not stand, and for an unknown batch. */
export async function addSlowJob(writing: Writing, values: NewSlowJob): Promise<SlowJob> {
  const { transaction, asking, newId } = writing
  const { coopId } = asking
  const way = ways.find(({ id }) => id === values.way)
  if (way === undefined) throw refused('Choose what it is', { way: 'Choose what it is' })
  const found = stagesFor(way.id, values)
  if (!found.ok) throw refused(found.says, { temperatureC: found.says })
  if (values.batchId !== null) await batchToGoOn(transaction, asking, values.batchId)
  const id = newId()
  const { place, batchId, note } = values
  const name = values.name || way.name
  const data = { coopId, id, kind: way.kind, name, place, batchId, note, startedOn: dateColumn(values.startedOn) }
  await transaction.slowJob.create({ data })
  await transaction.slowStage.createMany({
    data: found.stages.map(({ number, says, dueOn, measure }) => ({
      coopId,
      jobId: id,
      number,
      says,
      measure,
      dueOn: dateColumn(dueOn),
    })),
  })
  await noteChange(writing, 'slow-jobs', id, `${name} begun`)
  return findSlowJob(transaction, asking, id)
}

/**
 * Notes that an open stage was done. Late, the open stages that are counted from it move by as many days; those counted
 * from the start stay. A conflict where it is done already, or the job ended.
 */
export async function doStage(writing: Writing, jobId: string, number: number, done: Done): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockOpenJob(writing, jobId)
  const job = await findSlowJob(transaction, asking, jobId)
  const stage = stageOf(job, number)
  if (stage.doneOn !== null) throw conflict('Somebody noted this stage as done already. Look at what they found.')
  await transaction.slowStage.update({
    where: stageKey(writing, jobId, number),
    data: { ...done, doneOn: dateColumn(done.doneOn), doneBy: asking.name },
  })
  const late = daysBetween(stage.dueOn, done.doneOn)
  const moved = late > 0 ? await moveStages(writing, job, number, late) : 0
  const after = moved > 0 ? `, ${late} ${late === 1 ? 'day' : 'days'} late: what is counted from it moves` : ''
  await noteChange(writing, 'slow-jobs', jobId, `${job.name}, done: ${stage.says}${after}`)
  return findSlowJob(transaction, asking, jobId)
}

/** Opens a stage that was noted as done by mistake; what moved with it moves back. A conflict where it is open. */
export async function undoStage(writing: Writing, jobId: string, number: number): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockOpenJob(writing, jobId)
  const job = await findSlowJob(transaction, asking, jobId)
  const stage = stageOf(job, number)
  if (stage.doneOn === null) throw conflict('This stage is open already.')
  await transaction.slowStage.update({
    where: stageKey(writing, jobId, number),
    data: { doneOn: null, doneBy: null, found: null, note: null },
  })
  const late = daysBetween(stage.dueOn, stage.doneOn)
  if (late > 0) await moveStages(writing, job, number, -late)
  const found = stage.found === null ? '' : ` (found: ${stage.found})`
  await noteChange(writing, 'slow-jobs', jobId, `${job.name}, not done after all: ${stage.says}${found}`)
  return findSlowJob(transaction, asking, jobId)
}

/** Another day for an open stage; no other moves with it. A conflict where it is done, or the job ended. */
export async function changeDue(writing: Writing, jobId: string, number: number, dueOn: string): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockOpenJob(writing, jobId)
  const job = await findSlowJob(transaction, asking, jobId)
  const stage = stageOf(job, number)
  if (stage.doneOn !== null) throw conflict('This stage is done: its day stays.')
  if (stage.dueOn === dueOn) return job
  await transaction.slowStage.update({
    where: stageKey(writing, jobId, number),
    data: { dueOn: dateColumn(dueOn) },
  })
  await noteChange(writing, 'slow-jobs', jobId, `${job.name}, due ${dueOn} instead of ${stage.dueOn}: ${stage.says}`)
  return findSlowJob(transaction, asking, jobId)
}

/** Adds a stage of the co-op's own, which moves with no other. */
export async function addStage(writing: Writing, jobId: string, { says, dueOn, measure }: OwnStage): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockOpenJob(writing, jobId)
  const job = await findSlowJob(transaction, asking, jobId)
  const number = Math.max(ownStagesFrom - 1, ...job.stages.map((stage) => stage.number)) + 1
  await transaction.slowStage.create({
    data: { coopId: asking.coopId, jobId, number, says, measure, dueOn: dateColumn(dueOn) },
  })
  await noteChange(writing, 'slow-jobs', jobId, `${job.name}, stage added: ${says}`)
  return findSlowJob(transaction, asking, jobId)
}

/** Ends a job: its open stages are due no more, and all of it stays to be read. A conflict where it ended already. */
export async function endSlowJob(
  writing: Writing,
  jobId: string,
  { endedOn, ended }: { endedOn: string; ended: string },
): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockOpenJob(writing, jobId)
  const { name } = await findSlowJob(transaction, asking, jobId)
  await transaction.slowJob.update({
    where: { coopId_id: { coopId: asking.coopId, id: jobId } },
    data: { endedOn: dateColumn(endedOn), ended },
  })
  await noteChange(writing, 'slow-jobs', jobId, `${name} ended: ${ended}`)
  return findSlowJob(transaction, asking, jobId)
}

/**
 * Takes up a job again that was ended by mistake: it is as it was before, its open stages due on their days. Ending makes no
 * batch and puts nothing on the shelf, so there is nothing else to go back; how it had ended stays in the history. A
 * conflict where it goes on.
 */
export async function undoSlowJobEnd(writing: Writing, jobId: string): Promise<SlowJob> {
  const { transaction, asking } = writing
  await lockEndedJob(writing, jobId)
  const { name, endedOn, ended } = await findSlowJob(transaction, asking, jobId)
  await transaction.slowJob.update({
    where: { coopId_id: { coopId: asking.coopId, id: jobId } },
    data: { endedOn: null, ended: null },
  })
  await noteChange(writing, 'slow-jobs', jobId, `${name} taken up again. It had ended ${endedOn}: ${ended ?? ''}`)
  return findSlowJob(transaction, asking, jobId)
}

/** Whoever else changes the job waits until this is done. Throws not-found for an unknown one, `conflict` for an ended one. */
async function lockOpenJob({ transaction, asking }: Writing, id: string): Promise<void> {
  const { count } = await transaction.slowJob.updateMany({
    where: { coopId: asking.coopId, id, endedOn: null },
    data: { version: { increment: 1 } },
  })
  if (count > 0) return
  const { name } = await findSlowJob(transaction, asking, id)
  throw conflict(`${name} has ended: nothing is changed in it any more. Ended by mistake? Take it up again first.`)
}

/** The same for a job that has ended; `conflict` for one that goes on. */
async function lockEndedJob({ transaction, asking }: Writing, id: string): Promise<void> {
  const { count } = await transaction.slowJob.updateMany({
    where: { coopId: asking.coopId, id, endedOn: { not: null } },
    data: { version: { increment: 1 } },
  })
  if (count > 0) return
  const { name } = await findSlowJob(transaction, asking, id)
  throw conflict(`${name} goes on: there is no end of it to take back. Somebody may have taken it up again already.`)
}

/** Moves what is open and counted from a stage, and says how many stages that were. */
async function moveStages(writing: Writing, job: SlowJob, number: number, days: number): Promise<number> {
  const open = job.stages.filter(({ doneOn }) => doneOn === null)
  const moving = movingWith(
    job.kind,
    number,
    open.map((stage) => stage.number),
  )
  for (const { number: one, dueOn } of open.filter((stage) => moving.includes(stage.number))) {
    await writing.transaction.slowStage.update({
      where: stageKey(writing, job.id, one),
      data: { dueOn: dateColumn(dateAfter(dueOn, days)) },
    })
  }
  return moving.length
}

function stageKey({ asking: { coopId } }: Writing, jobId: string, number: number) {
  return { coopId_jobId_number: { coopId, jobId, number } }
}
