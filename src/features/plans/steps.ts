import type { Question } from '../../core/division/index.ts'
import type { Formatter } from '../../web/format.ts'
import { planDaysPath, planLotsPath, planOutletsPath, planWishesPath } from './paths.ts'
import type { Plan } from './queries.ts'

export const stepKeys = ['lots', 'days', 'wishes', 'outlets'] as const
export type StepKey = (typeof stepKeys)[number]

/** One of the four steps as the bar of steps shows it. `says` is what has been entered; `word` tells where it stands. */
export type Step = { number: number; text: string; href: string; current: boolean; says: string; word: string }

/** The four steps of a plan. `current` is the one that is open; null on the plan's own page. */
export function stepsOf(plan: Plan, question: Question, format: Formatter, current: StepKey | null): Step[] {
  const grams = question.lots.reduce((sum, { grams: of }) => sum + of.firm + of.ripe + of.soft + of.damaged, 0)
  const closed = plan.closedOutletIds.length
  const says: Record<StepKey, string> = {
    lots: question.lots.length === 0 ? '' : `${format.count(question.lots.length, 'lot')}, ${format.weight(grams)}`,
    days: question.days.map((day) => format.day(day.date)).join('; '),
    wishes: question.wishes.length === 0 ? '' : format.count(question.wishes.length, 'product'),
    outlets: [
      plan.budgetMinor === null ? 'no limit to spending' : `${format.money(plan.budgetMinor)} to spend`,
      closed === 0 ? 'all outlets open' : `${format.count(closed, 'outlet')} closed`,
    ].join(', '),
  }
  const done: Record<StepKey, boolean> = {
    lots: says.lots !== '',
    days: says.days !== '',
    wishes: says.wishes !== '',
    outlets: true,
  }
  return stepKeys.map((key, i) => ({
    number: i + 1,
    text: texts[key],
    href: paths[key](plan.id),
    current: key === current,
    says: says[key],
    word: key === current ? 'now' : key === 'outlets' ? '' : done[key] ? 'done' : 'to do',
  }))
}

/** The bar for a plan that is not saved yet. */
export function firstSteps(): Step[] {
  return stepKeys.map((key, i) => ({
    number: i + 1,
    text: texts[key],
    href: '',
    current: i === 0,
    says: '',
    word: i === 0 ? 'now' : '',
  }))
}

const texts: Record<StepKey, string> = {
  lots: 'What',
  days: 'When and with whom',
  wishes: 'What we would like',
  outlets: 'Work it out',
}

const paths: Record<StepKey, (id: string) => string> = {
  lots: planLotsPath,
  days: planDaysPath,
  wishes: planWishesPath,
  outlets: planOutletsPath,
}
