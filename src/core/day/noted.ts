import type { Batch } from './batch.ts'
import type { DayPlan, TimetablePlan } from './plan.ts'

/** What a batch makes, for whoever reads its timetable. */
export type NotedBatch = {
  id: string
  recipeId: string
  name: string
  pack: string
  /** What one is called, singular and plural. */
  unit: string
  unitsName: string
  day: number
  units: number
  process: Batch['process']
}

/** A plan without its recipes: plain data that stays readable when recipes have changed. */
export type NotedPlan = Omit<TimetablePlan, 'batches'> & {
  batches: {
    batch: NotedBatch
    steps: { step: Pick<Batch['recipe']['definition']['steps'][number], 'station' | 'says' | 'work'> }[]
    portions: number[]
  }[]
}

/** The plan as it is kept beside its schedule. */
export function notedPlan({ batches, ...plan }: DayPlan): NotedPlan {
  return {
    ...plan,
    batches: batches.map(({ batch, steps, portions }) => ({
      batch: {
        id: batch.id,
        recipeId: batch.recipe.id,
        name: batch.recipe.name,
        pack: batch.pack.key,
        unit: batch.pack.unit,
        unitsName: batch.pack.units,
        day: batch.day,
        units: batch.units,
        process: batch.process,
      },
      steps: steps.map(({ step: { station, says, work } }) => ({ step: { station, says, work } })),
      portions,
    })),
  }
}
