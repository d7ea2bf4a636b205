import type { CoopWays } from '../../../web/asking.ts'
import {
  type ChoiceField,
  checkboxesField,
  formModel,
  numberField,
  type OptionModel,
  selectField,
  type TextField,
  textField,
} from '../../../web/fields.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import type { TypedForm } from '../../../web/forms.ts'
import { changeTimetablePath, timetablePath } from '../paths.ts'
import type { ChangeBase } from './change-form.ts'
import { changeWords, type TaskGroup } from './change-words.ts'
import type { TimetableRow } from './queries.ts'

/** The form by which people settle parts of a timetable; whatever was typed is in it again. */
export function changePage(form: TypedForm, row: TimetableRow, { worked, question }: ChangeBase, coop: CoopWays) {
  const format = formatFor(coop)
  const words = changeWords(worked, format)
  const { kitchen } = worked.plan
  const tasks = words.groups()
  const helpers = kitchen.helpers.map(({ id, name }) => ({ value: id, text: name }))
  const batches = worked.plan.batches.map(({ batch }) => ({ value: batch.id, text: words.batch(batch.id) }))
  const machines = kitchen.machines.map(({ kind }) => ({ value: kind, text: words.machine(kind) }))
  const select = (name: string, label: string, options: { value: string; text: string }[]) =>
    selectField(form, { name, label, options: [nothing, ...options] })
  const day = (name: string) =>
    select(
      name,
      'Day',
      kitchen.days.map((one) => ({ value: one.id, text: `${format.day(one.date)}, open ${words.opening(one)}` })),
    )
  return {
    title: `${row.planName}: settle parts of timetable ${row.number}`,
    place: 'plans' as const,
    action: changeTimetablePath(row.planId, row.number),
    back: { text: `timetable ${row.number}`, href: timetablePath(row.planId, row.number) },
    settled: question.edits.length > 0,
    begun: begunWords(question, format, words.moment),
    form: formModel(
      {
        ...(question.edits.length === 0
          ? {}
          : {
              back: checkboxesField(form, {
                name: 'back',
                label: 'Settled so far: tick what is to be taken back',
                options: question.edits.map((one, place) => ({ value: String(place), text: words.edit(one) })),
              }),
            }),
        atTask: grouped(form, 'at.task', 'Task', tasks),
        atDay: day('at.day'),
        atTime: timeField(form, 'at.time', 'Begins at'),
        byTask: grouped(form, 'by.task', 'Task', tasks),
        byHelper: select('by.helper', 'Who', helpers),
        beforeBatch: select('before.batch', 'Batch', batches),
        beforeDay: day('before.day'),
        beforeTime: timeField(form, 'before.time', 'Nothing before'),
        awayHelper: select('away.helper', 'Who', helpers),
        awayDay: day('away.day'),
        awayFrom: timeField(form, 'away.from', 'From'),
        awayTo: timeField(form, 'away.to', 'Until'),
        outMachine: select('out.machine', 'What', machines),
        outCount: numberField(form, { name: 'out.count', label: 'How many' }),
        outDay: day('out.day'),
        outFrom: timeField(form, 'out.from', 'From'),
        outTo: timeField(form, 'out.to', 'Until'),
      },
      form,
    ),
  }
}

const nothing = { value: '', text: 'Leave as it is' }

function begunWords(
  { progress }: ChangeBase['question'],
  format: Formatter,
  moment: (minute: number) => string,
): string {
  if (progress === null) return ''
  const many = format.count(progress.begun.length, 'task')
  return `This timetable goes on from ${moment(progress.now)}, when ${many} had been begun: these stay as they are.`
}

type Group = { label: string; options: OptionModel[] }

/** A task to choose, under its batch. */
function grouped(
  form: TypedForm,
  name: string,
  label: string,
  tasks: readonly TaskGroup[],
): ChoiceField & { none: OptionModel[]; groups: Group[] } {
  const options = tasks.flatMap((group) => group.tasks.map(({ activity, text }) => ({ value: activity, text })))
  const field = selectField(form, { name, label, options: [nothing, ...options] })
  const byValue = new Map(field.options.map((one) => [one.value, one]))
  return {
    ...field,
    none: field.options.slice(0, 1),
    groups: tasks.map((group) => ({
      label: group.label,
      options: group.tasks.flatMap(({ activity }) => byValue.get(activity) ?? []),
    })),
  }
}

/** A time of the day in the co-op's zone. */
function timeField(form: TypedForm, name: string, label: string): TextField {
  return { ...textField(form, { name, label }), type: 'time' }
}
