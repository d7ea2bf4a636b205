import type { Question } from '../../core/division/index.ts'
import type { Kitchen } from './kitchen/queries.ts'
import type { Plan } from './queries.ts'

/**
 * The question of a plan in the kitchen as it is now: lots that were sorted, work days that are not over, outlets that are open
 * here and in the plan, recipes that may be wished for. Wishes of recipes that are gone are left out.
 */
export function questionOf(plan: Plan, kitchen: Kitchen, today: string): Question {
  const days = kitchen.days.filter((day) => plan.dayIds.includes(day.id) && day.date >= today)
  const dayIds = new Set(days.map((day) => day.id))
  return {
    askedOn: today,
    lots: kitchen.lots.flatMap(({ id, name, crop, storage, arrivedOn, sorting }) =>
      sorting && plan.lotIds.includes(id) ? [{ id, name, crop, storage, arrivedOn, ...sorting }] : [],
    ),
    days: days.map(({ id, date, opensMinute, closesMinute }) => ({ id, date, opensMinute, closesMinute })),
    equipment: kitchen.equipment.map((machine) => ({
      ...machine,
      outOn: machine.outOn.filter((day) => dayIds.has(day)),
    })),
    helpers: kitchen.helpers.map((helper) => ({
      ...helper,
      hours: helper.hours.filter((span) => dayIds.has(span.dayId)),
      ...(helper.breaks === undefined ? {} : { breaks: helper.breaks.filter((span) => dayIds.has(span.dayId)) }),
    })),
    supplies: kitchen.supplies,
    outlets: kitchen.outlets
      .filter((outlet) => outlet.open && !plan.closedOutletIds.includes(outlet.id))
      .map(({ open: _, ...outlet }) => outlet),
    recipes: kitchen.recipes.filter((recipe) => plan.wishes.some((wish) => wish.recipeId === recipe.id)),
    // in the order of the recipes' names and packs, so that a product keeps its place and its pattern
    wishes: kitchen.recipes.flatMap((recipe) =>
      recipe.definition.packs.flatMap((pack) =>
        plan.wishes.filter((wish) => wish.recipeId === recipe.id && wish.pack === pack.key),
      ),
    ),
    budgetMinor: plan.budgetMinor,
  }
}

/** The question with every recipe of the kitchen and no wishes: what proposals and the wish list are made from. */
export function openQuestion(plan: Plan, kitchen: Kitchen, today: string): Question {
  return { ...questionOf({ ...plan, wishes: [] }, kitchen, today), recipes: kitchen.recipes }
}
