import type { Model } from './model.ts'
import type { Chance } from './random.ts'

const likely = 0.7

/**
 * Moves a few activities of a list, each to another place drawn from those between the last it waits for and the first that waits
 * for it, so that the list goes on to respect what comes before.
 */
export function moveSome(model: Model, chance: Chance, list: Int32Array, moves: number): void {
  for (let move = 0; move < moves; move++) if (chance.share() < likely) moveOne(model, chance, list)
}

function moveOne(model: Model, chance: Chance, list: Int32Array): void {
  const at = chance.below(list.length)
  const activity = list[at] ?? 0
  const before = model.before[activity] ?? none
  const next = model.next[activity] ?? none
  let low = at
  let high = at
  while (low > 0 && !before.includes(list[low - 1] ?? 0)) low--
  while (high < list.length - 1 && !next.includes(list[high + 1] ?? 0)) high++
  if (low === high) return
  const other = low + chance.below(high - low)
  const to = other < at ? other : other + 1
  if (to < at) list.copyWithin(to + 1, to, at)
  else list.copyWithin(at, at + 1, to + 1)
  list[to] = activity
}

const none = new Int32Array(0)
