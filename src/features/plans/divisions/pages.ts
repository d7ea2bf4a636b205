import { changesBetween, type Question } from '../../../core/division/index.ts'
import type { KitchenPlace } from '../../../core/recipes/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { formModel } from '../../../web/fields.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { blankForm, type TypedForm } from '../../../web/forms.ts'
import { likelyWords } from '../../yields/index.ts'
import { outletsTyped, type WishRow, wishesTyped } from '../forms.ts'
import { packsOf } from '../headline.ts'
import { limitFields, type PlanView } from '../pages.ts'
import {
  comparePath,
  divisionPath,
  divisionSheetPath,
  divisionsPath,
  makeTimetablePath,
  planPath,
  planWishesPath,
  stopDivisionPath,
  timetablePath,
} from '../paths.ts'
import type { TimetableLine } from '../timetables/queries.ts'
import { wishRowModels } from '../wish-rows.ts'
import { changeWords, listed, provedWords, sentence } from '../words.ts'
import {
  dayRows,
  leadSentences,
  leftoverRows,
  linkRows,
  lotRows,
  productRows,
  shopping,
  shortfallSentences,
  stepSentences,
  trimRows,
} from './parts.ts'
import { processLines } from './process-lines.ts'
import type { Division } from './queries.ts'
import { type AnsweredView, divisionBeam, divisionFlow, nodeName } from './view.ts'

const place = 'plans' as const

/** While it is worked out: how far it is, and the button that stops it. */
export function workingPage(division: Division, now: Date, solveSeconds: number, coop: CoopWays) {
  const format = formatFor(coop)
  const { planId, number, objective, bound, startedAt, stopAsked, state } = division
  const seconds = Math.max(0, Math.round((now.getTime() - startedAt.getTime()) / 1000))
  return {
    ...heading(division),
    again: divisionPath(planId, number),
    waits: state === 'waiting',
    seconds: format.count(seconds, 'second'),
    // The last twentieth is never filled by time alone: it is done when it is done.
    bar: { value: Math.min(seconds, solveSeconds * 0.95), max: solveSeconds },
    best: objective === null ? '' : format.money(Math.round(objective)),
    bound: bound === null ? '' : format.money(Math.round(bound)),
    gap:
      objective === null || bound === null
        ? ''
        : format.percent(Math.ceil(Math.max(0, (bound - objective) / Math.max(1, Math.abs(objective))) * 1000) / 1000),
    stopAsked,
    stop: stopDivisionPath(planId, number),
  }
}

export function failedPage(division: Division) {
  return {
    ...heading(division),
    failure: division.failure ?? 'It could not be worked out.',
    action: divisionsPath(division.planId),
    version: String(division.planVersionNow),
  }
}

/** The whole division, from its sentence to the means to change it. `form` is the refused change, where there is one. */
export function divisionPage(
  view: AnsweredView,
  plan: PlanView,
  others: { newest: number; now: Date; timetables: readonly TimetableLine[] },
  coop: CoopWays,
  form: TypedForm | null = null,
) {
  const format = formatFor(coop)
  const { division, answer, summary } = view
  const { planId, number } = division
  const likely = (productId: string, units: number) => likelyWords(units, plan.kitchen.beliefs.get(productId), format)
  const pending = answer.steps === null && secondsSince(division.finishedAt, others.now) < 30
  return {
    ...heading(division),
    sentences: leadSentences(view),
    proved: provedWords(format, answer.result),
    shortfalls: shortfallSentences(view),
    since: sinceWords(division, plan.question, format),
    beam: divisionBeam(view, 'beam', true),
    flow: divisionFlow(view),
    links: linkRows(summary, (node) => nodeName(view, node), format.weight),
    products: productRows(view, processLines(division.question, plan.kitchen.place, coop), likely),
    lots: lotRows(view),
    leftovers: leftoverRows(view),
    trim: trimRows(view),
    shopping: shopping(view),
    steps: stepSentences(view),
    stepsPending: pending,
    again: divisionPath(planId, number),
    sheet: divisionSheetPath(planId, number),
    timetables: timetableLinks(planId, number, others.timetables),
    makeTimetable: makeTimetablePath(planId, number),
    compare: comparesWith(planId, number, others.newest),
    asked: `Asked by ${division.askedBy}, ${format.instant(division.startedAt)}.`,
    ...changeForm(view, plan, coop, form),
  }
}

/** The division on paper. */
export function sheetPage(view: AnsweredView, place: KitchenPlace, coop: CoopWays) {
  const format = formatFor(coop)
  const processes = processLines(view.division.question, place, coop)
  return {
    ...heading(view.division),
    title: `${view.division.planName}: sheets for the wall, division ${view.division.number}`,
    sentences: leadSentences(view),
    proved: provedWords(format, view.answer.result),
    beam: divisionBeam(view, 'beam', false),
    days: dayRows(view, processes).filter(({ batches }) => batches.length > 0),
    shopping: shopping(view),
    leftovers: leftoverRows(view),
    trim: trimRows(view),
    cautions: cautionsOf(view),
    back: divisionPath(view.division.planId, view.division.number),
  }
}

function heading(division: Division) {
  return {
    title: `${division.planName}: division ${division.number}`,
    place,
    plan: { name: division.planName, href: planPath(division.planId) },
    number: String(division.number),
  }
}

/** What is different by now from what was asked; empty: nothing. */
function sinceWords(division: Division, now: Question, format: Formatter): string[] {
  const words = changesBetween(division.question, now).map((change) => sentence(`${changeWords(format, change)}.`))
  if (words.length > 0) return words
  return division.answer?.planMoved ? ['The plan was changed while this was worked out, and changed back.'] : []
}

/** The timetables of this division, newest first. */
function timetableLinks(planId: string, division: number, timetables: readonly TimetableLine[]) {
  return timetables
    .filter(({ divisionNumber }) => divisionNumber === division)
    .map(({ number }) => ({ href: timetablePath(planId, number), text: `Timetable ${number}` }))
}

function comparesWith(planId: string, number: number, newest: number) {
  const links: { href: string; text: string }[] = []
  if (number > 1) {
    links.push({ href: comparePath(planId, number - 1, number), text: `Compare with division ${number - 1}` })
  }
  if (newest > number) {
    links.push({ href: comparePath(planId, number, newest), text: `Compare with division ${newest}, the newest` })
  }
  return links
}

/** The rows that a division can be changed by: what it was asked for. */
export function changeRows(question: Question): WishRow[] {
  return packsOf(question)
}

function changeForm({ division }: AnsweredView, plan: PlanView, coop: CoopWays, form: TypedForm | null) {
  const rows = changeRows(division.question)
  const open = plan.kitchen.outlets.filter((outlet) => outlet.open)
  const filled = form ?? blankForm({ ...wishesTyped(rows, plan.plan.wishes), ...outletsTyped(plan.plan, open) })
  const models = wishRowModels(filled, rows, formatFor(coop))
  const limits = limitFields(filled, plan, coop)
  return {
    action: divisionsPath(division.planId),
    version: String(plan.version),
    rows: models.rows,
    moreWishes: planWishesPath(division.planId),
    changing: form !== null,
    form: formModel({ ...limits, ...models.fields }, filled),
  }
}

/** Each caution once, with the recipes it belongs to. */
function cautionsOf({ division, summary }: AnsweredView): string[] {
  const by = new Map<string, string[]>()
  for (const { recipe, pack } of packsOf(division.question)) {
    const made = summary.products.find(({ productId }) => productId === `${recipe.id}:${pack.key}`)
    if (!made || made.units === 0) continue
    for (const caution of recipe.definition.cautions) by.set(caution, [...(by.get(caution) ?? []), recipe.name])
  }
  return [...by].map(([caution, recipes]) => `${listed([...new Set(recipes)])}: ${caution}`)
}

function secondsSince(at: Date | null, now: Date): number {
  return at === null ? Number.POSITIVE_INFINITY : (now.getTime() - at.getTime()) / 1000
}
