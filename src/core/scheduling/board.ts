import { MinuteBoard } from './minute-board.ts'
import type { Model } from './model.ts'
import { StepBoard } from './step-board.ts'

/** What is taken when, while a schedule is generated. Two kinds give the same answers at different speeds. */
export type Board = {
  /** Empties it. Crews are filled from the first of `people` who make one. */
  clear(people: Int32Array): void
  /** The first start, at least `from`, at which everything the activity needs is free; `never` if there is none. */
  earliest(activity: number, from: number): number
  /** Takes what the activity needs from `start`, which `earliest` has just found. */
  place(activity: number, start: number): void
  /** The lanes of those who were given to each phase of a placed activity. */
  crew(activity: number): Int32Array[]
  /** Takes exactly this start and these people if all are free, and says whether they were. */
  placeAs(activity: number, start: number, crews: readonly Int32Array[]): boolean
}

// Where activities are longer than this on average and the whole is long, steps are cheaper to walk than minutes.
const shortMinutes = 20
const fewMinutes = 4000

/** Minute by minute for classical problems over short times, steps for the rest. */
export function boardFor(model: Model): Board {
  return suitsMinutes(model) ? new MinuteBoard(model) : new StepBoard(model)
}

export function suitsMinutes(model: Model): boolean {
  const single = model.phases.every((phases) => phases.length <= 1 && phases.every((phase) => phase.slots.length === 0))
  return (
    single &&
    model.calendars.every((calendar) => calendar === null) &&
    latestEnd(model) <= Math.max(fewMinutes, shortMinutes * model.count)
  )
}

/** No pass without calendars ends later than this. */
export function latestEnd(model: Model): number {
  let end = model.earliest.reduce((a, b) => Math.max(a, b), 0)
  for (let index = 0; index < model.count; index++)
    end += (model.duration[index] ?? 0) + Math.max(0, ...(model.beforeLag[index] ?? []))
  return end
}
