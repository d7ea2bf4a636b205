import type { FastifyInstance } from 'fastify'
import { todayIn } from '../../clock.ts'
import { dateAfter } from '../../core/produce/dates.ts'
import type { Asking } from '../../web/asking.ts'
import { instantsOf } from '../plans/timetables/index.ts'
import { type DayTimetable, datesWithTimetable, ticksOf, timetableOn } from './queries.ts'
import { type DayTasks, dayHelpers, dayPieces, sorted, type Task, tasksOf } from './tasks.ts'

/** So many days back can be looked at and ticked off after the fact, and so many days are offered. Our choice. */
const daysBack = 7
const daysOffered = 14

/** A day in the kitchen at this moment, for one who looks at it. */
export type KitchenDay = {
  date: string
  today: string
  /** Others that have a timetable. */
  dates: string[]
  /** null: the day has none */
  work: {
    timetable: DayTimetable
    /** Its place among the timetable's work days. */
    day: number
    helpers: { id: string; name: string }[]
    /** null: everybody's */
    helper: { id: string; name: string } | null
    tasks: Task[]
    sorted: DayTasks
    /** Now, on the axis of the kitchen's minutes. */
    minute: number
  } | null
}

/**
 * @param chosen the day asked for (YYYY-MM-DD); null: today in the co-op's zone
 * @param helperId whose tasks; a helper who has none on that day counts as nobody chosen
 */
export async function loadDay(
  { prisma, clock }: Pick<FastifyInstance, 'prisma' | 'clock'>,
  asking: Asking,
  chosen: string | null,
  helperId: string | null,
): Promise<KitchenDay> {
  const { timeZone } = asking.coop
  const today = todayIn(clock, timeZone)
  const date = chosen ?? today
  const dates = await datesWithTimetable(prisma, asking, dateAfter(today, -daysBack), daysOffered)
  const timetable = await timetableOn(prisma, asking, date)
  if (timetable === null) return { date, today, dates, work: null }
  const { kitchen } = timetable.worked.plan
  const day = kitchen.days.findIndex((one) => one.date === date)
  const helpers = dayHelpers(timetable, day)
  const helper = helpers.find(({ id }) => id === helperId) ?? null
  const tasks = tasksOf(dayPieces(timetable, day, helper?.id ?? null), await ticksOf(prisma, asking, timetable))
  // before the first work day there is no minute yet: nothing has begun
  const minute = instantsOf(kitchen, timeZone).minuteOf(clock.now().toISOString()) ?? -1
  return { date, today, dates, work: { timetable, day, helpers, helper, tasks, sorted: sorted(tasks, minute), minute } }
}
