import type { Budget } from './budget.ts'
import type { Crossover } from './crossover.ts'
import { byStart } from './passes.ts'
import type { Chance } from './random.ts'
import type { Member, Side } from './side.ts'
import { WindowSearch } from './window-search.ts'

type Polishing = {
  left: Side
  right: Side
  budget: Budget
  chance: Chance
  crossover: Crossover
  /** Takes note of a schedule, starts from the left. */
  keep(starts: Int32Array, span: number): void
  isDone(): boolean
}

/**
 * Goes on from the shortest schedules of a population until all is done: justifies one of them, searches a window of it, and
 * goes on from what comes out, shorter or another one as long. Once one is shorter, from that alone.
 */
export function polish(shortest: Member[], { left, right, budget, chance, crossover, keep, isDone }: Polishing): void {
  const { model } = left
  const windows = new WindowSearch(model, right.model, budget, chance, crossover)
  let pool = shortest
  while (!isDone()) {
    const at = chance.below(pool.length)
    const member = pool[at]
    if (!member || !budget.take()) return
    const late = right.pass(member.order, right.model.earliest, member.people)
    if (!budget.take()) return
    let current = left.pass(late.order, model.earliest, member.people)
    keep(current.starts, current.span)
    if (isDone()) return
    const joined = windows.run(current.starts, late.starts, current.span)
    if (joined) {
      keep(joined.starts, joined.span)
      current = left.memberOf(joined.starts, byStart(model, joined.starts), member.people)
    }
    if (current.span < member.span) pool = [current]
    else pool[at] = current
  }
}
