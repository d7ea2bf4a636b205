import { wishKey } from './propose.ts'
import type { Question, WishFor } from './question.ts'

/** Something that one question has and the other has not, or has otherwise. Names are those of the question that has it. */
export type QuestionChange =
  | { kind: 'wish'; recipe: string; pack: string; before: WishFor | null; after: WishFor | null }
  | { kind: 'budget'; before: number | null; after: number | null }
  | {
      kind: 'lot' | 'day' | 'outlet' | 'equipment' | 'helper' | 'supply' | 'recipe'
      how: 'added' | 'left-out' | 'changed'
      name: string
    }

/** What changed from one question to another: an empty list when both ask the same. The order of lists makes no difference, save for outlets. */
export function changesBetween(before: Question, after: Question): QuestionChange[] {
  return [
    ...wishChanges(before, after),
    ...things('outlet', before.outlets, after.outlets, byId, byName),
    ...things('lot', before.lots, after.lots, byId, byName),
    ...things('day', before.days, after.days, byId, (day) => day.date),
    ...(before.budgetMinor === after.budgetMinor
      ? []
      : [{ kind: 'budget' as const, before: before.budgetMinor, after: after.budgetMinor }]),
    ...things('equipment', before.equipment, after.equipment, byId, byName),
    ...things('helper', before.helpers, after.helpers, byId, byName),
    ...things('supply', before.supplies, after.supplies, (supply) => supply.key, byName),
    ...things('recipe', before.recipes, after.recipes, byId, byName),
  ]
}

const byId = (thing: { id: string }) => thing.id
const byName = (thing: { name: string }) => thing.name

function wishChanges(before: Question, after: Question): QuestionChange[] {
  const changes: QuestionChange[] = []
  const keys = new Set([...before.wishes, ...after.wishes].map(wishKey))
  for (const key of keys) {
    const was = before.wishes.find((wish) => wishKey(wish) === key) ?? null
    const is = after.wishes.find((wish) => wishKey(wish) === key) ?? null
    const wish = is ?? was
    if (!wish || sameText(was, is)) continue
    const recipe = [...after.recipes, ...before.recipes].find(({ id }) => id === wish.recipeId)?.name ?? wish.recipeId
    changes.push({ kind: 'wish', recipe, pack: wish.pack, before: was, after: is })
  }
  return changes
}

function things<T>(
  kind: Exclude<QuestionChange['kind'], 'wish' | 'budget'>,
  before: readonly T[],
  after: readonly T[],
  key: (thing: T) => string,
  name: (thing: T) => string,
): QuestionChange[] {
  const was = new Map(before.map((thing) => [key(thing), thing]))
  const is = new Map(after.map((thing) => [key(thing), thing]))
  const leftOut = before.filter((thing) => !is.has(key(thing)))
  const added = after.filter((thing) => !was.has(key(thing)))
  const changed = after.filter((thing) => was.has(key(thing)) && !sameText(was.get(key(thing)), thing))
  return [
    ...leftOut.map((thing) => ({ kind, how: 'left-out' as const, name: name(thing) })),
    ...added.map((thing) => ({ kind, how: 'added' as const, name: name(thing) })),
    ...changed.map((thing) => ({ kind, how: 'changed' as const, name: name(thing) })),
  ]
}

/** Equal whatever the order in which an object's fields were written: a database does not keep it. */
function sameText(a: unknown, b: unknown): boolean {
  return JSON.stringify(sorted(a)) === JSON.stringify(sorted(b))
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([name, inner]) => [name, sorted(inner)]),
  )
}
