import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { kitchenPath } from '../kitchen/paths.ts'
import { type LotToday, lotRow, lotsSentence, totalBeam } from '../lots/index.ts'
import { lotsPath, newLotPath } from '../lots/paths.ts'
import { newPlanPath, planPath, plansPath } from '../plans/paths.ts'
import { recallLines } from '../recalls/index.ts'
import type { Recall } from '../recalls/queries.ts'
import { type listFirst, lowLines, type ProductUse, shelfLine } from '../shelf/index.ts'
import { type DueStage, dueWords } from '../slow-jobs/index.ts'
import { slowJobPath, slowJobsPath } from '../slow-jobs/paths.ts'
import { type Supply, suppliesPath, usedUp } from '../supplies/index.ts'
import { workDayPath, workDaysPath } from '../work-days/paths.ts'
import type { NextWorkDay, OpenPlan } from './queries.ts'

/** So many lots are named; the others are one link away. */
const lotsNamed = 3
/** So many stages of slow jobs that are due are named. */
export const slowJobsNamed = 5
/** So many products that run low are named, and so many supplies that are used up. */
const lowNamed = 5

export type TodayFacts = {
  today: string
  /** Those that stand. */
  recalls: readonly Recall[]
  lots: readonly LotToday[]
  workDay: NextWorkDay | null
  plans: OpenPlan[]
  /** What of the shelf to eat first. */
  first: Awaited<ReturnType<typeof listFirst>>
  /** How fast the shelf's products are used. */
  use: readonly ProductUse[]
  supplies: readonly Supply[]
  slowJobs: { stages: DueStage[]; all: number }
}

/**
 * What needs us now: what is recalled, what spoils first, what to eat first, what runs low, slow jobs that are due, the next
 * work day and who is in it, open plans.
 */
export function todayPage(facts: TodayFacts, coop: CoopWays) {
  const { today, recalls, lots, workDay, plans, first, use, supplies, slowJobs } = facts
  const format = formatFor(coop)
  return {
    title: `Today, ${format.day(today)}`,
    place: 'today' as const,
    recalls: recallLines(recalls),
    sentence: lotsSentence(lots, format),
    beam: totalBeam(
      lots.map(({ standing }) => standing),
      format,
    ),
    rows: lots.slice(0, lotsNamed).map(({ lot, standing }) => lotRow(lot, standing, format)),
    more: lots.length > lotsNamed ? `All ${format.count(lots.length, 'lot')}` : 'All produce',
    shelf: shelfLine(first, today, coop),
    low: lowLines(use, lowNamed, coop),
    usedUp: usedUpLine(supplies, format),
    workDay: workDay === null ? null : workDayOf(workDay, today, format),
    plans: plans.map(({ id, name, state }) => ({ href: planPath(id), name, state: stateWords(state) })),
    slowJobs: slowJobs.stages.map(({ jobId, jobName, says, dueOn }) => ({
      href: slowJobPath(jobId),
      name: jobName,
      says: `${says} (${dueWords(dueOn, today, format)})`,
    })),
    slowJobsMore:
      slowJobs.all > slowJobs.stages.length ? `All ${format.number(slowJobs.all)} that are due` : 'All slow jobs',
    paths: {
      supplies: suppliesPath(),
      slowJobs: slowJobsPath(),
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
    kitchen: date === today ? kitchenPath() : '',
    helpers: helpers.map(({ name, fromMinute, toMinute }) => ({
      name,
      hours: `${format.minuteOfDay(fromMinute)} to ${format.minuteOfDay(toMinute)}`,
    })),
  }
}

/** "Used up: Wide lids, Bags and 3 more"; '' where some of each supply is on hand. */
function usedUpLine(supplies: readonly Supply[], format: Formatter): string {
  const gone = usedUp(supplies)
  if (gone.length === 0) return ''
  const more = gone.length > lowNamed ? ` and ${format.number(gone.length - lowNamed)} more` : ''
  return `Used up: ${gone.slice(0, lowNamed).join(', ')}${more}`
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
