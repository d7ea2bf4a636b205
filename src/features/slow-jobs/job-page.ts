import { type Judgement, judge, type SlowMeasure, slowMeasures, templateOf, wayOf } from '../../core/slow/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { dateField, formModel, selectField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { blankForm, type TypedForm } from '../../web/forms.ts'
import { batchPath } from '../batches/paths.ts'
import { fermentsPath } from '../handbook/paths.ts'
import { sourceText } from '../processes/index.ts'
import {
  endSlowJobPath,
  slowJobPath,
  slowJobsPath,
  slowStageDatePath,
  slowStagePath,
  slowStagesPath,
  slowStageUndoPath,
  undoSlowJobEndPath,
} from './paths.ts'
import type { SlowJob, SlowStage } from './queries.ts'
import { dueWords, foundHints, kindWords, measureWords, targetWords } from './words.ts'

/** One job: what is next, all its stages, what was found. @param own the form of a stage of one's own */
export function slowJobPage(job: SlowJob, own: TypedForm, today: string, coop: CoopWays) {
  const format = formatFor(coop)
  const way = wayOf(
    job.kind,
    job.stages.map(({ number }) => number),
  )
  const next = job.endedOn === null ? job.stages.find(({ doneOn }) => doneOn === null) : undefined
  return {
    title: job.name,
    place: 'shelf' as const,
    sentence: sentenceOf(job, way?.name ?? kindWords[job.kind], format),
    note: job.note ?? '',
    batch:
      job.batch === null
        ? null
        : { href: batchPath(job.batch.id), name: `batch ${job.batch.code}, ${job.batch.product}` },
    recalled: job.batch?.recalled ?? false,
    standing: standingOf(job),
    cautions: way?.cautions ?? [],
    ended: job.endedOn !== null,
    undoEnd: undoSlowJobEndPath(job.id),
    next: next === undefined ? null : openPart(job, next, blankForm({ doneOn: today }), today, format),
    rows: job.stages.map((stage) => rowOf(job, stage, today, format)),
    own: slowStagesPath(job.id),
    form: formModel(
      {
        says: textField(own, { name: 'says', label: 'What to do' }),
        dueOn: dateField(own, { name: 'dueOn', label: 'On' }),
        measure: selectField(own, {
          name: 'measure',
          label: 'What is measured',
          options: [
            { value: '', text: 'Nothing' },
            ...slowMeasures.map((value) => ({ value, text: measureWords[value] })),
          ],
        }),
      },
      own,
    ),
    end: endSlowJobPath(job.id),
    handbook: job.kind === 'ferment' || job.kind === 'vinegar' ? fermentsPath() : '',
    back: slowJobsPath(),
  }
}

export type StageForms = { done: TypedForm; due: TypedForm }

/** One stage: to be done or done, with what was found and what that means. */
export function slowStagePage(job: SlowJob, stage: SlowStage, forms: StageForms, today: string, coop: CoopWays) {
  const format = formatFor(coop)
  const template = templateOf(job.kind, stage.number)
  const open = stage.doneOn === null && job.endedOn === null
  const dueForm = formModel({ dueOn: dateField(forms.due, { name: 'dueOn', label: 'Due on' }) }, forms.due)
  const part = open ? openPart(job, stage, forms.done, today, format) : null
  const judged = judgedOf(job, stage)
  return {
    title: stage.says,
    place: 'shelf' as const,
    job: { href: slowJobPath(job.id), name: job.name },
    recalled: job.batch?.recalled ?? false,
    due: open ? dueWords(stage.dueOn, today, format) : `Was due ${format.date(stage.dueOn)}.`,
    target: targetWords(template?.target ?? null, format),
    source: template === null ? '' : sourceText(template.source),
    open: part,
    date: { action: slowStageDatePath(job.id, stage.number), form: dueForm },
    form: { problems: [...(part?.form.problems ?? []), ...dueForm.problems] },
    done:
      stage.doneOn === null
        ? null
        : {
            sentence: `Done ${format.date(stage.doneOn)} by ${stage.doneBy ?? 'somebody'}.`,
            found: foundWords(stage),
            note: stage.note ?? '',
            judged: judged?.says ?? '',
            judgedSource: judged?.source ? sourceText(judged.source) : '',
            undo: job.endedOn === null ? slowStageUndoPath(job.id, stage.number) : '',
          },
  }
}

/** What is to be done at an open stage, and the form in which it is noted. */
function openPart(job: SlowJob, stage: SlowStage, form: TypedForm, today: string, format: Formatter) {
  const { measure } = stage
  return {
    says: stage.says,
    due: dueWords(stage.dueOn, today, format),
    late: stage.dueOn < today,
    target: targetWords(templateOf(job.kind, stage.number)?.target ?? null, format),
    action: slowStagePath(job.id, stage.number),
    form: formModel(
      {
        doneOn: dateField(form, { name: 'doneOn', label: 'Done on' }),
        found: textField(form, {
          name: 'found',
          label: measure === null ? 'What was found' : measureWords[measure],
          hint: measure === null ? 'In words' : foundHints[measure],
          optional: true,
        }),
        note: textField(form, { name: 'note', label: 'Note', optional: true }),
      },
      form,
    ),
  }
}

function rowOf(job: SlowJob, stage: SlowStage, today: string, format: Formatter) {
  const judged = judgedOf(job, stage)
  const open = stage.doneOn === null && job.endedOn === null
  return {
    href: slowStagePath(job.id, stage.number),
    says: stage.says,
    due: open ? dueWords(stage.dueOn, today, format) : format.date(stage.dueOn),
    late: open && stage.dueOn < today,
    target: targetWords(templateOf(job.kind, stage.number)?.target ?? null, format),
    done: stage.doneOn === null ? 'open' : `${format.date(stage.doneOn)}, ${stage.doneBy ?? 'somebody'}`,
    found: [stage.doneOn === null ? '' : foundWords(stage), stage.note ?? ''].filter((one) => one !== '').join('; '),
    wrong: judged?.verdict === 'not-yet' ? judged.says : '',
  }
}

function foundWords({ measure, found }: SlowStage): string {
  if (found === null) return measure === null || measure === 'taste' ? '' : 'not measured'
  return measure === null || measure === 'taste' ? found : `${measureWords[measure]}: ${found}`
}

/** What was found at a stage that is done, held against what it should be; null where nothing is measured. */
function judgedOf(job: SlowJob, stage: SlowStage): Judgement | null {
  if (stage.measure === null || stage.doneOn === null) return null
  return judge(job.kind, stage.measure, stage.found ?? '', templateOf(job.kind, stage.number)?.target ?? null)
}

/** What decides what may become of it: vinegar by the last acidity that was measured, a ferment by the last pH. */
function standingOf(job: SlowJob): { says: string; source: string } | null {
  const decisive: SlowMeasure | null = job.kind === 'vinegar' ? 'acidity' : job.kind === 'ferment' ? 'ph' : null
  if (decisive === null) return null
  const measured = job.stages
    .filter(({ measure, doneOn, found }) => measure === decisive && doneOn !== null && found !== null)
    .sort((a, b) => ((a.doneOn ?? '') < (b.doneOn ?? '') ? -1 : 1))
    .at(-1)
  const { says, source } = judge(job.kind, decisive, measured?.found ?? '')
  return { says, source: source === null ? '' : sourceText(source) }
}

function sentenceOf(job: SlowJob, way: string, format: Formatter): string {
  const { name, place, startedOn, endedOn, ended } = job
  const parts = [name === way ? '' : way, place ?? '', `since ${format.date(startedOn)}`].filter((one) => one !== '')
  const line = parts.join(', ')
  const begun = `${line.charAt(0).toUpperCase()}${line.slice(1)}.`
  return endedOn === null ? begun : `${begun} Ended ${format.date(endedOn)}: ${ended ?? ''}`
}
