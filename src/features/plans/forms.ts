import { z } from 'zod'
import { productId, type WishFor } from '../../core/division/index.ts'
import type { Recipe } from '../../core/recipes/recipe.ts'
import {
  choice,
  many,
  neededText,
  optionalMoney,
  optionalWholeNumber,
  type ReadForm,
  readForm,
  refusedForm,
  type Typed,
} from '../../web/forms.ts'
import { typedMoney } from '../../web/typed.ts'

/** More units of one product than any kitchen makes in a week. */
export const MOST_UNITS = 100_000
/** Minor units: a million of the currency. */
export const MOST_BUDGET_MINOR = 100_000_000

/** The first step: a name, and which lots. `lots` are the ids that may be chosen. */
export const lotsForm = (lots: readonly string[]) =>
  z.object({
    name: neededText('Give the plan a name, like “The damson week”', 80),
    lots: many(lots, 'Choose from the lots shown').refine((chosen) => chosen.length > 0, 'Choose one lot at least'),
  })

export const daysForm = (days: readonly string[]) =>
  z.object({
    days: many(days, 'Choose from the days shown').refine((chosen) => chosen.length > 0, 'Choose one day at least'),
  })

/** The last step. `outlets` are the ids of those that may be used; what is not ticked is closed for this plan. */
export const outletsForm = (outlets: readonly string[]) =>
  z.object({
    budget: optionalMoney('Enter an amount like 90 or 90.50, or leave it empty for no limit', MOST_BUDGET_MINOR),
    outlets: many(outlets, 'Choose from the outlets shown'),
    go: choice(['save', 'divide'], 'Press one of the two buttons').catch('save'),
  })

/** A recipe in one pack: what one row of the wish form is about. */
export type WishRow = { recipe: Recipe; pack: Recipe['definition']['packs'][number] }

export const wishParts = ['atLeast', 'about', 'atMost', 'matters'] as const
export type WishPart = (typeof wishParts)[number]

/** The name of one field of a row. */
export function wishField({ recipe, pack }: WishRow, part: WishPart): string {
  return `wish.${recipe.id}.${pack.key}.${part}`
}

/** Every recipe in every pack, in order. */
export function wishRows(recipes: readonly Recipe[]): WishRow[] {
  return recipes.flatMap((recipe) => recipe.definition.packs.map((pack) => ({ recipe, pack })))
}

/**
 * Reads the rows of a wish form. A row that was left empty is no wish; in a row that was not, "at least" left empty is
 * 0, "about" as many as at most (else as at least), "at most" as many as about. Rows that the form did not have are
 * not in the answer at all: `shown` says which it had.
 */
export function readWishes(
  rows: readonly WishRow[],
  typed: Typed,
): ReadForm<{ wishes: WishFor[] }> & { shown: string[] } {
  const present = rows.filter((row) => wishParts.some((part) => typed[wishField(row, part)] !== undefined))
  const shown = present.map(({ recipe, pack }) => productId(recipe.id, pack.key))
  const form = readForm(z.object(Object.fromEntries(present.flatMap(shapeOf))), typed)
  if (!form.ok) return { ...form, shown }
  const problems: Record<string, string> = {}
  const wishes = present.flatMap((row) => {
    const number = (part: WishPart) => numberOf(form.values[wishField(row, part)])
    const wish = filled(number('atLeast'), number('about'), number('atMost'))
    if (wish === null) return []
    if (wish.atLeast > wish.atMost) problems[wishField(row, 'atLeast')] = 'At least must not be above at most'
    if (wish.about > wish.atMost) problems[wishField(row, 'about')] = 'About must not be above at most'
    return [{ recipeId: row.recipe.id, pack: row.pack.key, ...wish, matters: mattersOf(number('matters')) }]
  })
  if (Object.keys(problems).length > 0) return { ...refusedForm(form, problems), shown }
  return { ok: true, typed: form.typed, errors: {}, values: { wishes }, shown }
}

/** The fields of a wish form as they would be typed for these wishes. */
export function wishesTyped(rows: readonly WishRow[], wishes: readonly WishFor[]): Record<string, string> {
  const typed: Record<string, string> = {}
  for (const row of rows) {
    const wish = wishes.find(({ recipeId, pack }) => recipeId === row.recipe.id && pack === row.pack.key)
    for (const part of wishParts) {
      typed[wishField(row, part)] = wish ? String(wish[part]) : part === 'matters' ? '2' : ''
    }
  }
  return typed
}

/** The last step's fields as they would be typed. */
export function outletsTyped(
  { budgetMinor, closedOutletIds }: { budgetMinor: number | null; closedOutletIds: string[] },
  outlets: readonly { id: string }[],
): Typed {
  return {
    budget: budgetMinor === null ? '' : typedMoney(budgetMinor),
    outlets: outlets.map(({ id }) => id).filter((id) => !closedOutletIds.includes(id)),
  }
}

function shapeOf(row: WishRow): [string, ReturnType<typeof optionalWholeNumber> | ReturnType<typeof mattersField>][] {
  const units = row.pack.units
  const problem = `Enter a whole number of ${units} from 0 to ${MOST_UNITS}, or leave it empty`
  return [
    [wishField(row, 'atLeast'), optionalWholeNumber(problem, 0, MOST_UNITS)],
    [wishField(row, 'about'), optionalWholeNumber(problem, 0, MOST_UNITS)],
    [wishField(row, 'atMost'), optionalWholeNumber(problem, 0, MOST_UNITS)],
    [wishField(row, 'matters'), mattersField()],
  ]
}

function mattersField() {
  return choice(['', '1', '2', '3'], 'Choose how much it matters').transform((typed) =>
    typed === '' ? 2 : Number(typed),
  )
}

function filled(
  atLeast: number | null,
  about: number | null,
  atMost: number | null,
): Pick<WishFor, 'atLeast' | 'about' | 'atMost'> | null {
  if ((atLeast ?? 0) === 0 && (about ?? 0) === 0 && (atMost ?? 0) === 0) return null
  const least = atLeast ?? 0
  const middle = about ?? atMost ?? least
  return { atLeast: least, about: middle, atMost: atMost ?? Math.max(middle, least) }
}

function numberOf(value: unknown): number | null {
  return typeof value === 'number' ? value : null
}

function mattersOf(value: number | null): WishFor['matters'] {
  return value === 1 || value === 3 ? value : 2
}
