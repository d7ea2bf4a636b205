import type { Item, Outlet, ProductInput } from './problem.ts'

/** How an item enters an input: how well it suits and what share of its grams leaves as each trim. */
export type Way = { suit: number; trim: Map<string, number> }

/** How an item would enter an input on a day; null if it may not. */
export function wayOfItem(input: ProductInput, item: Item, day: number): Way | null {
  const ripeness = item.classByDay[day]
  if (!ripeness || !('crop' in input.from) || input.from.crop !== item.crop) return null
  const suit = input.suits[ripeness]
  if (suit === undefined || suit <= 0) return null
  const trim = new Map<string, number>()
  for (const part of input.trim) {
    const share = part.shareByClass?.[ripeness] ?? part.share
    trim.set(part.materialId, (trim.get(part.materialId) ?? 0) + share)
  }
  return { suit, trim }
}

/** Whether a whole item could go to an outlet: now, or on a work day. */
export function outletTakes(outlet: Outlet, item: Item): boolean {
  return lastMomentFor(outlet, item) !== null
}

/** The last moment at which a whole item could go to an outlet: a work day's number, or `now` before the first; null: never. */
export function lastMomentFor(outlet: Outlet, item: Item): number | 'now' | null {
  const takes = outlet.takesProduce
  if (!takes || (takes.crops.length > 0 && !takes.crops.includes(item.crop))) return null
  const day = item.classByDay.findLastIndex((ripeness) => ripeness !== null && takes.classes.includes(ripeness))
  if (day >= 0) return day
  return item.now && takes.classes.includes(item.now.class) ? 'now' : null
}

/** What an input draws from, as a text that tells inputs of one product apart. */
export function inputKey(input: ProductInput): string {
  return 'crop' in input.from ? `crop ${input.from.crop}` : `material ${input.from.materialId}`
}
