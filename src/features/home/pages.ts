import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { type LotToday, lotRow, lotsSentence, totalBeam } from '../lots/index.ts'
import { lotsPath, newLotPath } from '../lots/paths.ts'
import { newPlanPath, planPath, plansPath } from '../plans/paths.ts'
import { workDayPath, workDaysPath } from '../work-days/paths.ts'
import type { NextWorkDay, OpenPlan } from './queries.ts'

/** So many lots are named; the others are one link away. */
const lotsNamed = 3

export type TodayFacts = { today: string; lots: readonly LotToday[]; workDay: NextWorkDay | null; plans: OpenPlan[] }

/** What needs us now: what spoils first, the next work day and who is in it, open plans. */
export function todayPage({ today, lots, workDay, plans }: TodayFacts, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: `Today, ${format.day(today)}`,
    place: 'today' as const,
    sentence: lotsSentence(lots, format),
    beam: totalBeam(
      lots.map(({ standing }) => standing),
      format,
    ),
    rows: lots.slice(0, lotsNamed).map(({ lot, standing }) => lotRow(lot, standing, format)),
    more: lots.length > lotsNamed ? `All ${format.count(lots.length, 'lot')}` : 'All produce',
    workDay: workDay === null ? null : workDayOf(workDay, today, format),
    plans: plans.map(({ id, name, state }) => ({ href: planPath(id), name, state: stateWords(state) })),
    paths: {
      lots: lotsPath(),
      takeIn: newLotPath(),
      workDays: workDaysPath(),
      plans: plansPath(),
      newPlan: newPlanPath(),
    },
  }
}

function workDayOf(
  { id, date, opensMinute, closesMinute, note, helpers }: NextWorkDay,
  today: string,
  format: Formatter,
) {
  const hours = `${format.minuteOfDay(opensMinute)} to ${format.minuteOfDay(closesMinute)}`
  return {
    href: workDayPath(id),
    sentence: `${date === today ? 'Today' : format.day(date)}, ${hours}, ${
      helpers.length === 0 ? 'and nobody is in it yet' : `with ${format.count(helpers.length, 'helper')}`
    }.`,
    note: note ?? '',
    helpers: helpers.map(({ name, fromMinute, toMinute }) => ({
      name,
      hours: `${format.minuteOfDay(fromMinute)} to ${format.minuteOfDay(toMinute)}`,
    })),
  }
}

function stateWords(state: string | null): string {
  switch (state) {
    case null:
      return 'not worked out yet'
    case 'done':
      return 'worked out'
    case 'failed':
      return 'could not be worked out'
    default:
      return 'being worked out'
  }
}
