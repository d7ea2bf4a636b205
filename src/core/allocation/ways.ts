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

/** The work days on which a whole item could go to an outlet. */
export function outletDays(outlet: Outlet, item: Item): number[] {
  const takes = outlet.takesProduce
  if (!takes || (takes.crops.length > 0 && !takes.crops.includes(item.crop))) return []
  return item.classByDay.flatMap((ripeness, day) =>
    ripeness !== null && takes.classes.includes(ripeness) ? [day] : [],
  )
}

/** What an input draws from, as a text that tells inputs of one product apart. */
export function inputKey(input: ProductInput): string {
  return 'crop' in input.from ? `crop ${input.from.crop}` : `material ${input.from.materialId}`
}
