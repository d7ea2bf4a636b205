import type { z } from 'zod'
import type { Edit } from '../../../core/day/index.ts'
import { timetableOf } from '../../../core/day/timetable.ts'
import type { ToldEdit, timetableAnswer } from './api-schemas.ts'
import { type Instants, instantsOf } from './instants.ts'
import type { TimetableRow } from './queries.ts'

/** A timetable as its call answers it. */
export function timetableTold(row: TimetableRow, timeZone: string): z.input<typeof timetableAnswer> {
  const { worked, question, startedAt } = row
  const { id, planId, number, divisionNumber, state, askedBy, stopAsked, progress, failure } = row
  const line = { id, planId, number, divisionNumber, state, askedBy, stopAsked, progress, failure, from: question.from }
  const base = { ...line, startedAt: startedAt.toISOString() }
  if (worked === null) return { ...base, edits: null, answer: null }
  const { plan } = worked
  const table = timetableOf(plan, worked.schedule)
  const instants = instantsOf(plan.kitchen, timeZone)
  const names = new Map(plan.kitchen.helpers.map((one) => [one.id, one.name]))
  return {
    ...base,
    edits: question.edits.map((one) => editTold(one, instants)),
    answer: {
      holds: worked.holds,
      moved: worked.moved ?? null,
      batches: plan.batches.map(({ batch }) => ({
        id: batch.id,
        recipeId: batch.recipeId,
        name: batch.name,
        pack: batch.pack,
        units: batch.units,
      })),
      entries: table.entries.map(({ activity, step: _, from, to, ...rest }) => ({
        ...rest,
        task: activity,
        from: instants.of(from),
        to: instants.of(to),
        fromMinute: from,
        toMinute: to,
      })),
      helpers: table.helpers.map(({ helper, days }) => ({
        id: helper,
        name: names.get(helper) ?? helper,
        workedMinutes: days.reduce((sum, { workedMinutes }) => sum + workedMinutes, 0),
      })),
      machines: table.machines.map(({ kind, number: which, busyMinutes }) => ({ kind, number: which, busyMinutes })),
      waits: table.waits.map(({ batch, step, units, from, ready }) => ({
        batch,
        says: plan.batches.find((one) => one.batch.id === batch)?.steps[step]?.step.says ?? '',
        units,
        from: instants.of(from),
        ready: instants.of(ready),
      })),
      late: table.late.map(({ activity, batch, due, end, minutes }) => ({
        task: activity,
        batch,
        due: instants.of(due),
        end: end === null ? null : instants.of(end),
        minutes,
      })),
      short: table.short,
      impossible: table.impossible.map(({ batch, lacks }) => ({ batch, lacks })),
    },
  }
}

function editTold(edit: Edit, instants: Instants): ToldEdit {
  switch (edit.kind) {
    case 'at':
      return { kind: 'at', task: edit.activity, at: instants.of(edit.minute) }
    case 'not-before':
      return { kind: 'not-before', batch: edit.batch, at: instants.of(edit.minute) }
    case 'by':
      return { kind: 'by', task: edit.activity, helper: edit.helper }
    case 'break':
      return { kind: 'break', helper: edit.helper, from: instants.of(edit.from), to: instants.of(edit.to) }
    case 'out': {
      const { kind, machine, count, from, to } = edit
      return { kind, machine, count, from: instants.of(from), to: instants.of(to) }
    }
  }
}

/** An edit as it was told; an instant before the first work day is a minute that no edit can have. */
export function editOf(told: ToldEdit, instants: Instants): Edit {
  const minute = (instant: string) => instants.minuteOf(instant) ?? -1
  switch (told.kind) {
    case 'at':
      return { kind: 'at', activity: told.task, minute: minute(told.at) }
    case 'not-before':
      return { kind: 'not-before', batch: told.batch, minute: minute(told.at) }
    case 'by':
      return { kind: 'by', activity: told.task, helper: told.helper }
    case 'break':
      return { kind: 'break', helper: told.helper, from: minute(told.from), to: minute(told.to) }
    case 'out': {
      const { kind, machine, count, from, to } = told
      return { kind, machine, count, from: minute(from), to: minute(to) }
    }
  }
}
