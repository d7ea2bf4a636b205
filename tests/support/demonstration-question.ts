import * as demonstration from '../../seed/demonstration.ts'
import { seedRecipes } from '../../seed/recipes.ts'
import type { Question } from '../../src/core/division/index.ts'
import { dateAfter } from '../../src/core/produce/index.ts'

/** The demonstration co-op's plan as a question, with names for ids; the day of the first start is a Friday. */
export function demonstrationQuestion(today = '2026-09-18'): Question {
  const days = demonstration.workDays.map((day, number) => ({
    id: `day-${number}`,
    date: dateAfter(today, day.inDays),
    opensMinute: day.opensMinute,
    closesMinute: day.closesMinute,
  }))
  return {
    askedOn: today,
    lots: demonstration.lots.map((lot) => ({
      id: lot.crop,
      name: lot.crop,
      crop: lot.crop,
      storage: lot.storage,
      arrivedOn: dateAfter(today, -lot.arrivedDaysAgo),
      sortedOn: today,
      grams: lot.grams,
      setAsideGrams: lot.setAsideGrams,
      lostGrams: lot.lostGrams,
    })),
    days,
    equipment: demonstration.equipment.map(({ comeUpMinutes, ...machine }) => ({
      id: machine.kind,
      ...machine,
      ...(comeUpMinutes === null ? {} : { comeUpMinutes }),
      outOn: [],
    })),
    helpers: demonstration.helpers.map(({ name, ageBand, skills, hours, breaks, speedPercent, ...wishes }) => ({
      id: name,
      name,
      ageBand,
      skills,
      hours: hours.flatMap((span, number) =>
        span ? [{ dayId: `day-${number}`, fromMinute: span[0], toMinute: span[1] }] : [],
      ),
      breaks: breaks.flatMap((span, number) =>
        span ? [{ dayId: `day-${number}`, fromMinute: span[0], toMinute: span[1] }] : [],
      ),
      speed: speedPercent / 100,
      likes: wishes.likes,
      dislikes: wishes.dislikes,
      ...(wishes.stretchMinutes === null ? {} : { stretchMinutes: wishes.stretchMinutes }),
    })),
    supplies: demonstration.supplies.map((supply) => ({ ...supply })),
    outlets: demonstration.outlets.map((outlet) => ({ id: outlet.kind, ...outlet })),
    recipes: seedRecipes.map((recipe) => ({ id: recipe.name, ...recipe })),
    wishes: demonstration.plan.wishes.map(([recipeId, pack, atLeast, about, atMost, matters]) => ({
      recipeId,
      pack,
      atLeast,
      about,
      atMost,
      matters,
    })),
    budgetMinor: demonstration.plan.budgetMinor,
  }
}
