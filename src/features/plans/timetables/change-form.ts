import { faultOfProgress, type RefusedChange, refusedEdits } from '../../../core/agreement/changed.ts'
import type { Edit } from '../../../core/day/index.ts'
import type { ProgressFault } from '../../../core/day/replan.ts'
import { parseTimeOfDay } from '../../../core/day/time-of-day.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'
import { fieldReader } from '../../../web/field-reader.ts'
import { choice, many, type ReadForm, read, refusedForm, type Typed, wholeNumber } from '../../../web/forms.ts'
import type { ChangeWords } from './change-words.ts'
import type { TimetableQuestion } from './documents.ts'

/** What a change goes on from: the timetable as it is, and the plan without anything settled by hand. */
export type ChangeBase = { worked: WorkedOut; question: TimetableQuestion; root: WorkedOut }

/** Everything that is to hold. */
export type ReadChange = { edits: Edit[] }

/**
 * Reads the form that settles parts of a timetable: what is taken back, and one more of each kind, each of which may be
 * left empty. What cannot be done is refused in words at its field, so that nothing is saved that would be left out.
 */
export function readChange(base: ChangeBase, words: ChangeWords, typed: Typed): ReadForm<ReadChange> {
  const { question, worked } = base
  const fields = fieldReader(typed)
  const numbers = question.edits.map((_, place) => String(place))
  const back = fields.get('back', many(numbers, 'Choose from what is shown'), [])
  const fresh = readFresh(worked, fields)
  const form = { ok: false as const, typed, errors: fields.errors }
  if (Object.keys(fields.errors).length > 0) return form
  if (fresh.length === 0 && back.length === 0)
    return refusedForm(form, { '': 'Settle something, or tick what is to be taken back' })
  const kept = question.edits.filter((one, place) => !back.includes(String(place)) && !isReplaced(one, fresh))
  const edits = [...kept, ...fresh]
  const errors = refusedWords(base, words, edits, fresh)
  if (Object.keys(errors).length > 0) return refusedForm(form, errors)
  return { ok: true, typed, errors: {}, values: { edits } }
}

type Fields = ReturnType<typeof fieldReader>

function readFresh({ plan }: WorkedOut, fields: Fields): Edit[] {
  const tasks = plan.activities.map(({ activity }) => activity.id)
  const helpers = plan.kitchen.helpers.map(({ id }) => id)
  const task = (name: string) => fields.get(name, choice(tasks, 'Choose a task'), '')
  const helper = (name: string) => fields.get(name, choice(helpers, 'Choose who it is'), '')
  const midnight = (name: string) => {
    const id = fields.get(
      name,
      choice(
        plan.kitchen.days.map((day) => day.id),
        'Choose a day',
      ),
      '',
    )
    return plan.kitchen.days.find((day) => day.id === id)?.midnight ?? 0
  }
  const time = (name: string) => fields.get(name, timeOfDay, 0)
  const span = (prefix: string) => {
    const day = midnight(`${prefix}.day`)
    const [from, to] = [time(`${prefix}.from`), time(`${prefix}.to`)]
    if (to <= from && !fields.errors[`${prefix}.from`]) fields.errors[`${prefix}.to`] ??= 'Enter a time after the first'
    return { from: day + from, to: day + to }
  }
  const edits: Edit[] = []
  if (!fields.isBlank('at.'))
    edits.push({ kind: 'at', activity: task('at.task'), minute: midnight('at.day') + time('at.time') })
  if (!fields.isBlank('by.')) edits.push({ kind: 'by', activity: task('by.task'), helper: helper('by.helper') })
  if (!fields.isBlank('before.')) {
    const batches = plan.batches.map(({ batch }) => batch.id)
    const batch = fields.get('before.batch', choice(batches, 'Choose a batch'), '')
    edits.push({ kind: 'not-before', batch, minute: midnight('before.day') + time('before.time') })
  }
  if (!fields.isBlank('away.')) edits.push({ kind: 'break', helper: helper('away.helper'), ...span('away') })
  if (!fields.isBlank('out.')) {
    const kinds = plan.kitchen.machines.map(({ kind }) => kind)
    const machine = fields.get<(typeof kinds)[number] | null>('out.machine', choice(kinds, 'Choose what is out'), null)
    const most = Math.max(1, ...(plan.kitchen.machines.find(({ kind }) => kind === machine)?.countByDay ?? []))
    const problem = most === 1 ? 'Enter 1: there is one' : `Enter how many, from 1 to ${most}`
    const count = fields.get('out.count', wholeNumber(problem, 1, most), 1)
    const stretch = span('out')
    if (machine !== null) edits.push({ kind: 'out', machine, count, ...stretch })
  }
  return edits
}

const timeOfDay = read((typed) => {
  const minute = parseTimeOfDay(typed)
  return minute === null ? { problem: 'Enter a time like 10:15' } : { value: minute }
}, 20)

/** A task has one beginning, and a batch one time before which nothing of it begins: the newest holds. */
function isReplaced(old: Edit, fresh: readonly Edit[]): boolean {
  return fresh.some(
    (one) =>
      (one.kind === 'at' && old.kind === 'at' && one.activity === old.activity) ||
      (one.kind === 'not-before' && old.kind === 'not-before' && one.batch === old.batch),
  )
}

/** Why edits cannot be made, by the field of the form; '' for what was settled before. */
function refusedWords(
  { root, worked, question: { progress } }: ChangeBase,
  words: ChangeWords,
  edits: readonly Edit[],
  fresh: readonly Edit[],
): Record<string, string> {
  const errors: Record<string, string> = {}
  const refused = refusedEdits(root.plan, edits, fresh, progress)
  for (const one of refused) {
    const [field, text] = refusalWords(one, root, words)
    if (fresh.includes(one.edit)) errors[field] ??= text
    else errors[''] ??= `${words.edit(one.edit)}: ${text}`
  }
  if (refused.length > 0) return errors
  const fault = faultOfProgress({ plan: root.plan, schedule: worked.schedule, edits, progress })
  if (!fault) return {}
  const field = fault.because === 'machine-out' ? 'out.machine' : ''
  return { [field]: `${words.task(fault.activity)}: ${progressWords[fault.because]}` }
}

/** Why a day cannot have got so far. */
export const progressWords: Record<ProgressFault['because'], string> = {
  'no-such-task': 'there is no such task in this timetable.',
  twice: 'it is told twice.',
  'not-yet': 'it cannot have been begun, or be over, at a time that is still to come, nor before the first work day.',
  'process-cut':
    'this is less than its tested minutes, which may not be cut short. Jars that were not kept for all of them are not safe on the shelf; the local extension service or food authority says what can be done with them.',
  'at-once': 'it needs a person or a machine that something else that was begun has at the same time.',
  'machine-out':
    'it was begun with machines that would be out before it is over. What was not kept for its tested minutes is not safe on the shelf.',
}

/** The field that an edit is refused at, and why. */
export function refusalWords(
  { edit, because }: RefusedChange,
  { plan }: Pick<WorkedOut, 'plan'>,
  words: ChangeWords,
): [field: string, text: string] {
  switch (because) {
    case 'no-such-task':
      return [edit.kind === 'by' ? 'by.task' : 'at.task', 'There is no such task in this timetable']
    case 'no-such-batch':
      return ['before.batch', 'There is no such batch in this timetable']
    case 'no-such-helper':
      return [edit.kind === 'by' ? 'by.helper' : 'away.helper', 'There is no such helper in this timetable']
    case 'no-such-machine':
      return ['out.machine', 'There is no such machine in this timetable']
    case 'not-allowed': {
      const who = edit.kind === 'by' ? words.helper(edit.helper) : ''
      return [
        'by.helper',
        `${who} may not do this: hot work and knives depend on age, and all work on what somebody can do`,
      ]
    }
    case 'places-taken':
      return ['by.helper', 'As many as this task takes are named for it already: take one of them back first']
    case 'nobody-in-it':
      return ['by.task', 'Nobody is needed in this task: it runs by itself']
    case 'begun':
      return [edit.kind === 'by' ? 'by.task' : 'at.task', 'This was begun already']
    case 'passed':
      return ['at.time', 'This time has passed']
    case 'outside-hours':
      return [outsideField(edit), outsideWords(edit, plan, words)]
  }
}

function outsideField({ kind }: Edit): string {
  if (kind === 'at') return 'at.time'
  if (kind === 'not-before') return 'before.time'
  return kind === 'break' ? 'away.from' : 'out.from'
}

function outsideWords(edit: Edit, { kitchen }: WorkedOut['plan'], words: ChangeWords): string {
  if (edit.kind === 'out') return 'They cannot be used then anyway'
  const minute = 'minute' in edit ? edit.minute : 'from' in edit ? edit.from : 0
  const day = kitchen.days.find(({ midnight }) => midnight <= minute && minute < midnight + 1440)
  return day ? `The kitchen is open ${words.opening(day)} on that day` : 'The kitchen is closed on that day'
}
