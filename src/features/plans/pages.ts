import { fitRecipes, type Question } from '../../core/division/index.ts'
import { crop, equipmentKinds, ripenessClasses } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { checkboxesField, formModel, numberField, textField } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import type { Page } from '../../web/views.ts'
import { lotPath, lotsPath } from '../lots/paths.ts'
import { outletsPath } from '../outlets/paths.ts'
import { suppliesPath } from '../supplies/paths.ts'
import { workDaysPath } from '../work-days/paths.ts'
import { missingFor } from './actions.ts'
import { type WishRow, wishRows } from './forms.ts'
import type { Kitchen, KitchenLot } from './kitchen/queries.ts'
import { notForShelfRows } from './not-for-shelf.ts'
import { planDaysPath, planLotsPath, planOutletsPath, plansPath, planWishesPath, proposedWishesPath } from './paths.ts'
import { uncountedPutUp } from './put-up.ts'
import type { Plan } from './queries.ts'
import { firstSteps, stepsOf } from './steps.ts'
import { wishRowModels } from './wish-rows.ts'
import { listed } from './words.ts'

const place = 'plans' as const

/** What a plan's page is made of. */
export type PlanView = { plan: Plan; kitchen: Kitchen; question: Question; version: number }

/** The first step, of a new plan (`view` null) or one that is there. */
export function lotsPage(
  form: TypedForm,
  kitchen: Kitchen,
  view: PlanView | null,
  elsewhere: Map<string, { id: string; name: string }[]>,
  coop: CoopWays,
) {
  const format = formatFor(coop)
  const sorted = kitchen.lots.filter((lot) => lot.sorting !== null)
  return {
    title: view === null ? 'A new plan' : `${view.plan.name}: what`,
    heading: 'What do we divide?',
    place,
    steps: view === null ? firstSteps() : stepsOf(view.plan, view.question, format, 'lots'),
    action: view === null ? plansPath() : planLotsPath(view.plan.id),
    version: String(view?.version ?? 0),
    unsorted: kitchen.lots
      .filter((lot) => lot.sorting === null)
      .map((lot) => ({ text: `${lot.name}, ${format.weight(lot.weightGrams)}`, href: lotPath(lot.id) })),
    none: sorted.length === 0,
    intake: lotsPath(),
    form: formModel(
      {
        name: textField(form, { name: 'name', label: 'Name of the plan' }),
        lots: checkboxesField(form, {
          name: 'lots',
          label: 'Lots',
          options: sorted.map((lot) => ({
            value: lot.id,
            text: lot.name,
            hint: lotHint(
              lot,
              format,
              (elsewhere.get(lot.id) ?? []).filter(({ id }) => id !== view?.plan.id),
            ),
          })),
        }),
      },
      form,
    ),
  } satisfies Page & Record<string, unknown>
}

export function daysPage(form: TypedForm, view: PlanView, today: string, coop: CoopWays) {
  const format = formatFor(coop)
  const { plan, kitchen, version } = view
  const days = kitchen.days.filter((day) => day.date >= today)
  return {
    title: `${plan.name}: when and with whom`,
    heading: 'When do we work, and with whom?',
    place,
    steps: stepsOf(plan, view.question, format, 'days'),
    action: planDaysPath(plan.id),
    version: String(version),
    none: days.length === 0,
    add: workDaysPath(),
    form: formModel(
      {
        days: checkboxesField(form, {
          name: 'days',
          label: 'Work days',
          options: days.map((day) => ({
            value: day.id,
            text: `${format.day(day.date)}, ${format.minuteOfDay(day.opensMinute)} to ${format.minuteOfDay(day.closesMinute)}`,
            hint: dayHint(kitchen, day, format),
          })),
        }),
      },
      form,
    ),
  }
}

/** The rows that the wish step offers: every pack of a recipe that can be made, and those that are wished for already. */
export function offeredRows({ plan, kitchen, question }: PlanView): WishRow[] {
  const fits = fitRecipes(question.lots, kitchen.recipes).filter((fit) => fit.lacks.length === 0)
  const rows = wishRows(fits.map((fit) => fit.recipe))
  const wished = wishRows(kitchen.recipes).filter(({ recipe, pack }) =>
    plan.wishes.some((wish) => wish.recipeId === recipe.id && wish.pack === pack.key),
  )
  const others = wished.filter(
    ({ recipe, pack }) => !rows.some((row) => row.recipe.id === recipe.id && row.pack.key === pack.key),
  )
  return [...rows, ...others]
}

export function wishesPage(form: TypedForm, view: PlanView, proposed: boolean, coop: CoopWays) {
  const format = formatFor(coop)
  const { plan, kitchen, question, version } = view
  const { rows, fields } = wishRowModels(form, offeredRows(view), format)
  return {
    title: `${plan.name}: what we would like`,
    heading: 'What would we like?',
    place,
    steps: stepsOf(plan, question, format, 'wishes'),
    action: planWishesPath(plan.id),
    version: String(version),
    propose: proposedWishesPath(plan.id),
    proposed,
    rows,
    lacking: fitRecipes(question.lots, kitchen.recipes)
      .filter((fit) => fit.lacks.length > 0)
      .map(({ recipe, lacks }) => `${recipe.name}: needs ${listed(lacks.map(lackWords))}`),
    notForShelf: notForShelfRows(kitchen.notForShelf),
    lotsHref: planLotsPath(plan.id),
    form: formModel(fields, form),
  }
}

export function outletsPage(form: TypedForm, view: PlanView, solveSeconds: number, coop: CoopWays) {
  const format = formatFor(coop)
  const { plan, kitchen, question, version } = view
  return {
    title: `${plan.name}: work it out`,
    heading: 'Work it out',
    place,
    steps: stepsOf(plan, question, format, 'outlets'),
    action: planOutletsPath(plan.id),
    version: String(version),
    missing: Object.values(missingFor(question)).map((words) => `${words}.`),
    uncounted: listed(uncountedPutUp(question)),
    suppliesHref: suppliesPath(),
    noOutlets: !kitchen.outlets.some(({ open }) => open),
    outletsHref: outletsPath(),
    takes: `This takes up to ${format.count(solveSeconds, 'second')}. You can leave the page meanwhile.`,
    form: formModel(limitFields(form, view, coop), form),
  }
}

/** Budget and outlets: the last step, and the form with which a division is changed. */
export function limitFields(form: TypedForm, { kitchen }: Pick<PlanView, 'kitchen'>, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    budget: numberField(form, {
      name: 'budget',
      label: `May be spent, in ${coop.currency}`,
      hint: 'On jars, lids, sugar and the like. Left empty: no limit.',
      optional: true,
    }),
    outlets: checkboxesField(form, {
      name: 'outlets',
      label: 'Outlets that may be used, the best use first',
      options: kitchen.outlets
        .filter((outlet) => outlet.open)
        .map((outlet) => ({
          value: outlet.id,
          text: outlet.name,
          hint: outlet.capacityGrams === null ? 'takes any amount' : `takes ${format.weight(outlet.capacityGrams)}`,
        })),
    }),
  }
}

function lackWords(lack: { crop: string } | { material: string }): string {
  return 'crop' in lack ? (crop(lack.crop)?.plural ?? lack.crop) : lack.material.replaceAll('-', ' ')
}

/** "38 kg: 12 kg firm, 20 kg ripe; sorted Fri 18 Sep; also in The damson week" */
function lotHint(lot: KitchenLot, format: Formatter, elsewhere: { name: string }[]): string {
  const { sorting } = lot
  if (sorting === null) return ''
  const classes = ripenessClasses
    .filter((ripeness) => sorting.grams[ripeness] > 0)
    .map((ripeness) => `${format.weight(sorting.grams[ripeness])} ${ripeness}`)
  const also = elsewhere.length === 0 ? '' : `; also in ${listed(elsewhere.map(({ name }) => name))}`
  return `${classes.length > 0 ? classes.join(', ') : 'nothing left to divide'}; sorted ${format.day(sorting.sortedOn)}${also}`
}

/** "Mara Fenwick 8:00 to 18:00, ...; 2 boiling-water canners, ...; without the oven" */
function dayHint({ helpers, equipment }: Kitchen, day: Kitchen['days'][number], format: Formatter): string {
  const there = helpers.flatMap(({ name, hours }) =>
    hours
      .filter((span) => span.dayId === day.id)
      .map((span) => `${name} ${format.minuteOfDay(span.fromMinute)} to ${format.minuteOfDay(span.toMinute)}`),
  )
  const kinds = (machine: Kitchen['equipment'][number]) => equipmentKinds.indexOf(machine.kind)
  const has = equipment.filter(({ outOn }) => !outOn.includes(day.id)).sort((a, b) => kinds(a) - kinds(b))
  const lacks = equipment.filter(({ outOn }) => outOn.includes(day.id))
  return [
    there.length > 0 ? there.join(', ') : 'nobody has said yet that they come',
    has.map(({ name, count }) => (count === 1 ? name : `${format.number(count)} × ${name}`)).join(', '),
    lacks.length > 0 ? `without ${listed(lacks.map(({ name }) => name))}` : '',
    day.note ?? '',
  ]
    .filter((part) => part !== '')
    .join('. ')
}
