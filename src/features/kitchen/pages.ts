import type { Asking } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { signOutPath } from '../accounts/paths.ts'
import { timetablePath } from '../plans/paths.ts'
import { looksOf, tableWords } from '../plans/timetables/index.ts'
import type { KitchenDay } from './load.ts'
import { kitchenPath, tickBackPath, tickPath } from './paths.ts'
import type { Task } from './tasks.ts'

/** The day as it hangs on the wall: what is now, what is next, what is done, each with its button. */
export function kitchenPage(kitchen: KitchenDay, chosen: string | null, asking: Asking) {
  const { date, today, dates, work } = kitchen
  const format = formatFor(asking.coop)
  const helper = work?.helper ?? null
  return {
    title: work === null && chosen === null ? 'In the kitchen' : `In the kitchen: ${format.day(date)}`,
    place: 'plans' as const,
    again: kitchenPath(chosen, helper?.id ?? null),
    // the day that is shown stays chosen, today does not: tomorrow the same page shows tomorrow
    chosen: chosen ?? '',
    helper: helper === null ? { id: '', name: '' } : helper,
    nothing: work === null ? nothingWords(kitchen, format) : '',
    days: dates
      .filter((one) => one !== date)
      .map((one) => ({
        href: kitchenPath(one === today ? null : one),
        text: one === today ? 'Today' : format.day(one),
      })),
    signOut: asking.role === 'screen' ? signOutPath() : '',
    work: work === null ? null : workView(kitchen, work, chosen, asking, format),
  }
}

function workView(
  { date, today }: KitchenDay,
  { timetable, helpers, helper, sorted, minute }: NonNullable<KitchenDay['work']>,
  chosen: string | null,
  { role, coop }: Asking,
  format: Formatter,
) {
  const { plan, holds } = timetable.worked
  const words = tableWords(plan, format)
  const looks = looksOf(plan)
  const isOver = date < today
  const row = (task: Task) => {
    const { piece, alone, done, partly, id } = task
    const isLate = sorted.late.includes(task)
    return {
      id,
      letter: looks(piece.batch).letter,
      when: words.span(piece.from, piece.to, date),
      what: words.what(piece),
      does: words.doing(piece),
      who: alone ? 'by itself' : words.who(piece.helpers),
      machines: words.machines(piece.machines),
      alone,
      late: isLate && !isOver ? `late: was to be done at ${words.time(piece.to, date)}` : '',
      partly: partly ? 'one of them is done with it' : '',
      done: done === null ? '' : `${done.by}, ${format.instant(done.at)}`,
      label: `${words.does(piece)}, ${words.what(piece)}, ${words.time(piece.from)}`,
    }
  }
  const late = sorted.late.length
  return {
    timetableId: timetable.id,
    tick: tickPath(),
    back: tickBackPath(),
    clock: date === today ? `It is ${words.time(minute)}.` : '',
    late:
      late === 0
        ? ''
        : isOver
          ? `${format.count(late, 'task')} ${late === 1 ? 'was' : 'were'} not ticked off.`
          : `${format.count(late, 'task')} ${late === 1 ? 'is' : 'are'} late.`,
    holds: holds ? '' : 'Not everything of this plan fits into its days: the timetable says what does not.',
    views: [{ id: null, name: 'Everybody' }, ...helpers].map(({ id, name }) => ({
      text: name,
      href: kitchenPath(chosen, id),
      current: id === (helper?.id ?? null),
    })),
    now: {
      title: isOver ? 'Not ticked off' : 'Now',
      rows: sorted.now.map(row),
      none: isOver ? 'All of it was ticked off.' : 'Nothing just now.',
    },
    next: sorted.next.map(row),
    done: sorted.done.map(row),
    doneTitle: `Done, ${format.count(sorted.done.length, 'task')}`,
    from: {
      text: `${timetable.planName}: timetable ${timetable.number}`,
      href: role === 'screen' ? '' : timetablePath(timetable.planId, timetable.number),
    },
    zone: coop.timeZone,
  }
}

function nothingWords({ date, today, dates }: KitchenDay, format: Formatter): string {
  const next = dates.find((one) => one > today)
  const begin = date === today ? 'No timetable for today.' : `No timetable for ${format.day(date)}.`
  return next === undefined ? begin : `${begin} The next work day with one is ${format.day(next)}.`
}
