import { conflict } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'
import { kitchenPath } from './paths.ts'
import { addTicks, findDayTimetable, removeTicks } from './queries.ts'
import { pieceNamed } from './tasks.ts'

export type TickAsked = { timetableId: string; task: string; helperId: string | null }

/**
 * Ticks a task off or takes that back. Told with a conflict where the timetable has no such task.
 *
 * @param act done: by the member who asks; by a kitchen screen's name, and the helper's whose tasks it shows
 */
export async function tick(writing: Writing, asked: TickAsked, act: 'done' | 'back'): Promise<void> {
  const { transaction, asking, now } = writing
  const timetable = await findDayTimetable(transaction, asking, asked.timetableId)
  const piece = pieceNamed(timetable, asked.helperId, asked.task)
  if (piece === null) {
    throw conflict('The timetable has no such task any more.', {
      href: kitchenPath(),
      text: 'See the day as it is now',
    })
  }
  if (act === 'back') return removeTicks(transaction, asking, timetable, piece.keys)
  const helper = timetable.worked.plan.kitchen.helpers.find(({ id }) => id === asked.helperId)
  await addTicks(transaction, asking, timetable, { tasks: piece.keys, by: whoTicks(asking, helper?.name), doneAt: now })
}

function whoTicks({ memberId, name }: Asking, helper: string | undefined): string {
  return memberId !== null || helper === undefined ? name : `${helper} at ${name}`
}
