import type { Batch } from '../../../src/core/day/batch.ts'
import type { Helper, Kitchen } from '../../../src/core/day/kitchen.ts'
import { cutOut } from '../../../src/core/day/windows.ts'
import { ageBands } from '../../../src/core/produce/vocabulary.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { diceFrom } from '../scheduling/random-problems.ts'
import { daily, everything, helper, kitchen, starterBatch } from './days.ts'

/** A kitchen of one to three days with two to five helpers, one of them an adult who can do everything, and 1 to 5 batches. */
export function randomDays(seed: number): { at: Kitchen; batches: Batch[] } {
  const dice = diceFrom(seed)
  const days = dice.whole(1, 3)
  const helpers: Helper[] = Array.from({ length: dice.whole(2, 5) }, (_, number) => {
    const from = number === 0 ? 480 : dice.whole(16, 26) * 30
    const to = number === 0 ? 1080 : Math.min(1080, from + dice.whole(4, 16) * 30)
    const meal = dice.whole(22, 27) * 30
    return helper(`helper-${number}`, {
      ageBand: number === 0 ? 'adult' : dice.oneOf(ageBands),
      skills: number === 0 ? everything : everything.filter(() => dice.yes(0.7)),
      hours: daily(days, cutOut([{ from, to }], [{ from: meal, to: meal + 30 }])),
    })
  })
  const at = kitchen(
    {
      canner: dice.whole(1, 2),
      'pressure-canner': dice.whole(1, 2),
      burner: dice.whole(2, 4),
      dehydrator: dice.whole(1, 3),
      oven: 1,
      press: 1,
    },
    helpers,
    { days, clock: dice.yes(0.7) ? ['dehydrator'] : [] },
  )
  const batches = new Map<string, Batch>()
  for (let many = dice.whole(1, 5); many > 0; many--) {
    const starter = dice.oneOf(starters)
    const pack = dice.oneOf(starter.definition.packs).key
    try {
      const made = starterBatch(starter.key, pack, dice.whole(1, 20), dice.whole(0, days - 1))
      batches.set(made.id, made)
    } catch (error) {
      // A pack without a tested process is no pack of a settled recipe.
      if (!(error instanceof Error && error.message.startsWith('no pack'))) throw error
    }
  }
  const machines = at.machines.map((one) => ({
    ...one,
    countByDay: one.countByDay.map((count) => (count > 1 && dice.yes(0.2) ? count - 1 : count)),
  }))
  const counterPlaces = dice.yes(0.3) ? dice.whole(2, 6) : null
  return { at: { ...at, machines, counterPlaces }, batches: [...batches.values()] }
}
