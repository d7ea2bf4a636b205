import type { CoopWays } from '../../web/asking.ts'
import { checkboxesField, dateField, formModel, textareaField, textField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import {
  editWorkDayPath,
  newWorkDayPath,
  workDayEquipmentPath,
  workDayHoursPath,
  workDayPath,
  workDayRemovalPath,
  workDaysPath,
} from './paths.ts'
import type { FullWorkDay, WorkDay } from './queries.ts'

/** Whoever may be there and whatever may be out, by name. */
export type Named = { id: string; name: string; hint: string }

/** @param today ISO date in the co-op's zone: that day and those after it are coming */
export function workDaysPage(days: FullWorkDay[], today: string, coop: CoopWays) {
  const row = (day: FullWorkDay) => dayRow(day, coop)
  const coming = days.filter(({ date }) => date >= today)
  return {
    title: 'Work days',
    place: 'coop' as const,
    sentence: workDaysSentence(days, today, coop),
    add: newWorkDayPath(),
    coming: coming.map(row),
    past: days
      .filter(({ date }) => date < today)
      .reverse()
      .map(row),
  }
}

/** "3 work days ahead, the next Sat, 12 Sep, 8:00 to 18:00" */
export function workDaysSentence(days: readonly WorkDay[], today: string, coop: CoopWays): string {
  const coming = days.filter(({ date }) => date >= today)
  const next = coming[0]
  if (next === undefined) return 'No work day ahead'
  const format = formatFor(coop)
  const when = `${format.day(next.date)}, ${hoursText(next, coop)}`
  return coming.length === 1 ? `One work day ahead: ${when}` : `${coming.length} work days ahead, the next ${when}`
}

export function workDayPage(
  day: FullWorkDay,
  with_: { helpers: readonly Named[]; equipment: readonly Named[]; hours: TypedForm; out: TypedForm; version: number },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const hoursFields = with_.helpers.map(({ id, name, hint }) => ({
    name,
    hint,
    from: textField(with_.hours, { name: `hours.${id}.from`, label: `${name} from`, inputmode: 'text' }),
    to: textField(with_.hours, { name: `hours.${id}.to`, label: `${name} until`, inputmode: 'text' }),
  }))
  const out = checkboxesField(with_.out, {
    name: 'out',
    label: 'Cannot be used on this day',
    options: with_.equipment.map(({ id, name, hint }) => ({ value: id, text: name, hint })),
    optional: true,
  })
  const fields = Object.fromEntries(
    hoursFields.flatMap(({ from, to }) => [from, to]).map((field) => [field.name, field]),
  )
  const wrong = Object.keys(with_.out.errors).length > 0
  return {
    title: format.date(day.date),
    place: 'coop' as const,
    sentence: daySentence(day, coop),
    note: day.note ?? '',
    plans: day.plans.join(', '),
    version: String(with_.version),
    hours: { action: workDayHoursPath(day.id), rows: hoursFields },
    out: { action: workDayEquipmentPath(day.id), field: out },
    form: wrong ? formModel({ out }, with_.out) : formModel(fields, with_.hours),
    edit: editWorkDayPath(day.id),
    remove: workDayRemovalPath(day.id),
    back: workDaysPath(),
  }
}

/** The form for a new day (`of` null) and for a change. */
export function workDayFormPage(form: TypedForm, of: WorkDay | null, version: number, coop: CoopWays) {
  return {
    title: of === null ? 'Add a work day' : `Change ${formatFor(coop).date(of.date)}`,
    place: 'coop' as const,
    action: of === null ? workDaysPath() : workDayPath(of.id),
    button: of === null ? 'Add the day' : 'Save',
    version: String(version),
    back: of === null ? workDaysPath() : workDayPath(of.id),
    form: formModel(
      {
        date: dateField(form, { name: 'date', label: 'Date' }),
        opensMinute: textField(form, { name: 'opensMinute', label: 'The kitchen opens', hint: '8, 8:00 or 8 am' }),
        closesMinute: textField(form, { name: 'closesMinute', label: 'and closes', hint: '18:00 or 6 pm' }),
        note: textareaField(form, { name: 'note', label: 'Note', optional: true, rows: 2 }),
      },
      form,
    ),
  }
}

function dayRow(day: FullWorkDay, coop: CoopWays) {
  return {
    name: formatFor(coop).date(day.date),
    href: workDayPath(day.id),
    says: `${daySentence(day, coop)}${day.note === null ? '' : ` ${day.note}`}`,
  }
}

function daySentence(day: FullWorkDay, coop: CoopWays): string {
  const format = formatFor(coop)
  const minutes = day.hours.reduce((sum, span) => {
    const from = Math.max(span.fromMinute, day.opensMinute)
    return sum + Math.max(0, Math.min(span.toMinute, day.closesMinute) - from)
  }, 0)
  const who =
    day.hours.length === 0
      ? 'nobody has said yet that they come'
      : `${format.count(day.hours.length, 'helper')} for ${format.duration(minutes)} together`
  const out = day.equipmentOut.length === 0 ? '' : `; ${format.count(day.equipmentOut.length, 'machine')} out`
  return `${hoursText(day, coop)}; ${who}${out}.`
}

function hoursText({ opensMinute, closesMinute }: WorkDay, coop: CoopWays): string {
  const format = formatFor(coop)
  return `${format.minuteOfDay(opensMinute)} to ${format.minuteOfDay(closesMinute)}`
}
