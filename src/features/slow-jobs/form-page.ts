import { ways } from '../../core/slow/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { dateField, formModel, selectField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { slowJobPath, slowJobsPath } from './paths.ts'
import type { SlowJob } from './queries.ts'
import { kindWords } from './words.ts'

/** The form of a new job. @param batch of which it is begun; null: of none */
export function newJobPage(form: TypedForm, batch: { id: string; code: string; product: string } | null) {
  const way = selectField(form, {
    name: 'way',
    label: 'What it is',
    options: [{ value: '', text: 'Choose' }, ...ways.map(({ id, name }) => ({ value: id, text: name }))],
  })
  const grouped = {
    ...way,
    none: way.options.slice(0, 1),
    groups: Object.entries(kindWords).map(([kind, label]) => ({
      label,
      options: way.options.filter(({ value }) => ways.some((one) => one.id === value && one.kind === kind)),
    })),
  }
  return {
    title: 'Begin a slow job',
    place: 'shelf' as const,
    action: slowJobsPath(),
    batch,
    back: slowJobsPath(),
    form: formModel(
      {
        way: grouped,
        name: textField(form, {
          name: 'name',
          label: 'Name',
          hint: 'Like “cider vinegar from the old trees”; empty: as above',
          optional: true,
        }),
        place: textField(form, { name: 'place', label: 'Where it stands', hint: 'Cellar, top shelf', optional: true }),
        startedOn: dateField(form, { name: 'startedOn', label: 'Started on' }),
        temperatureC: textField(form, {
          name: 'temperatureC',
          label: 'How warm it is there',
          hint: `The weeks of these depend on it: ${ways
            .filter(({ asksTemperature }) => asksTemperature)
            .map(({ name }) => name.toLowerCase())
            .join(', ')}. Like “21 °C” or “70 °F”`,
          optional: true,
        }),
        note: textField(form, { name: 'note', label: 'Note', optional: true }),
      },
      form,
    ),
  }
}

/** The form in which a job ends. */
export function endPage(form: TypedForm, job: SlowJob, action: string, coop: CoopWays) {
  const format = formatFor(coop)
  const open = job.stages.filter(({ doneOn }) => doneOn === null).length
  return {
    title: `End ${job.name}`,
    place: 'shelf' as const,
    open: open === 0 ? '' : `${format.count(open, 'stage is', 'stages are')} open and will no longer be due.`,
    action,
    back: slowJobPath(job.id),
    form: formModel(
      {
        endedOn: dateField(form, { name: 'endedOn', label: 'Ended on' }),
        ended: textField(form, {
          name: 'ended',
          label: 'How it ended',
          hint: 'Like “6 bottles, sour and clear” or “mouldy, thrown away”',
        }),
      },
      form,
    ),
  }
}
