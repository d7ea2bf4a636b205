import type { CoopWays } from '../../web/asking.ts'
import { formModel } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { blankForm, type TypedForm } from '../../web/forms.ts'
import { newBatchPath } from '../batches/paths.ts'
import { missingFor } from './actions.ts'
import type { DivisionLine } from './divisions/queries.ts'
import type { Headline } from './documents.ts'
import type { Kitchen } from './kitchen/queries.ts'
import { notForShelfRows, wishedInVain } from './not-for-shelf.ts'
import type { PlanView } from './pages.ts'
import { comparePath, divisionPath, divisionsPath, newPlanPath, planPath, plansPath } from './paths.ts'
import type { Plan } from './queries.ts'
import { stepsOf } from './steps.ts'
import { listed } from './words.ts'

const place = 'plans' as const

/** "186 kg give 94 jars and 14 bags; 12 kg are left over." */
export function headlineWords(format: Formatter, { cameInGrams, counts, leftOverGrams }: Headline): string {
  const made = listed(counts.map(({ many, unit, units }) => format.count(many, unit, units)))
  const left = leftOverGrams > 0 ? `${format.weight(leftOverGrams)} are left over` : 'nothing is left over'
  return `${format.weight(cameInGrams)} give ${made === '' ? 'nothing' : made}; ${left}.`
}

export function plansPage(
  plans: Plan[],
  divisions: DivisionLine[],
  kitchen: Kitchen,
  pages: { page: number; more: boolean },
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const days = new Map(kitchen.days.map((day) => [day.id, day.date]))
  return {
    title: 'Plans',
    place,
    add: newPlanPath(),
    rows: plans.map((plan) => {
      const ofPlan = divisions.filter((division) => division.planId === plan.id)
      const newest = ofPlan[0]
      const told = ofPlan.find((division) => division.headline !== null)
      const dates = plan.dayIds.flatMap((id) => days.get(id) ?? []).sort()
      return {
        name: plan.name,
        href: planPath(plan.id),
        lots: format.count(plan.lotIds.length, 'lot'),
        days:
          dates.length > 0
            ? dates.map((date) => format.day(date)).join('; ')
            : format.count(plan.dayIds.length, 'work day'),
        sentence: told?.headline ? headlineWords(format, told.headline) : '',
        state: newest ? stateWords[newest.state] : 'not worked out yet',
      }
    }),
    newer: pages.page > 1 ? `${plansPath()}?page=${pages.page - 1}` : '',
    older: pages.more ? `${plansPath()}?page=${pages.page + 1}` : '',
  }
}

export const stateWords: Record<DivisionLine['state'], string> = {
  waiting: 'waits for its turn',
  solving: 'is being worked out',
  done: 'worked out',
  failed: 'could not be worked out',
}

/** The plan's own page: its steps, its divisions, and the button. `form` carries what kept it from being worked out. */
export function planPage(view: PlanView, divisions: DivisionLine[], coop: CoopWays, form: TypedForm = blankForm()) {
  const format = formatFor(coop)
  const { plan, question, version } = view
  const missing = Object.values(missingFor(question))
  const [newest] = divisions
  const lines = divisions.map(({ number, state, headline, askedBy, startedAt }) => ({
    name: `Division ${number}`,
    href: divisionPath(plan.id, number),
    state: stateWords[state],
    sentence: headline ? headlineWords(format, headline) : '',
    asked: `${askedBy}, ${format.instant(startedAt)}`,
  }))
  return {
    title: plan.name,
    place,
    steps: stepsOf(plan, question, format, null),
    sentence: lines.find((line) => line.sentence !== '')?.sentence ?? '',
    missing: missing.map((words) => `${words}.`),
    leftOut: notForShelfRows(wishedInVain(view)),
    ready: missing.length === 0,
    button: newest ? 'Work it out again' : 'Work it out',
    action: divisionsPath(plan.id),
    version: String(version),
    divisions: lines,
    compare:
      newest && newest.number > 1
        ? { href: comparePath(plan.id, newest.number - 1, newest.number), text: 'Compare the last two' }
        : null,
    finish: divisions.some(({ state }) => state === 'done') ? newBatchPath(plan.id) : '',
    back: plansPath(),
    form: formModel({}, form),
  }
}
