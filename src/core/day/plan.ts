import type { Station } from '../produce/vocabulary.ts'
import type { Activity, SchedulingProblem } from '../scheduling/problem.ts'
import type { Batch, BatchStep } from './batch.ts'
import type { Kitchen } from './kitchen.ts'

/** What happens in a phase. */
export const phaseParts = [
  'hands', // somebody works at a step
  'machine', // a machine runs by itself
  'wait', // nothing is done, and nothing may come between
  'come-up', // a canner load is heated up to the beginning of its time
  'process', // the tested time of a load
  'settle', // until a canner may be emptied
  'lift-out', // jars are taken out
  'wash-jars',
  'heat-jars',
  'clean-up',
] as const
export type PhasePart = (typeof phaseParts)[number]

/** What a phase of an activity is; `step` is its place among the steps of its batch. */
export type PhaseMeaning = { part: PhasePart; step: number | null; units: number }

/** An activity of the problem and what it stands for; `batch` is null for what is done for the day as a whole. */
export type PlannedActivity = {
  activity: Activity
  batch: string | null
  day: number
  /** Portion of the batch, from 0; null: the batch as a whole. */
  portion: number | null
  /** A piece of work that is put down and taken up: its row goes through the portions in their order. */
  inRow: boolean
  phases: PhaseMeaning[]
}

/** A step that no work day of this kitchen will see, and the minute from which it can be done. */
export type Afterwards = { batch: string; step: number; units: number; fromMinute: number }

/** A batch that is not in the timetable, with the step that nobody or no machine can do on its day. */
export type Impossible = { batch: string; step: number; lacks: 'hands' | 'adult' | 'machine' }

export type PlannedBatch = { batch: Batch; steps: BatchStep[]; portions: number[] }

/** A division as a scheduling problem, with what each of its activities means. */
export type DayPlan = {
  kitchen: Kitchen
  problem: SchedulingProblem
  activities: PlannedActivity[]
  batches: PlannedBatch[]
  afterwards: Afterwards[]
  impossible: Impossible[]
  /**
   * From here on everyone and everything is there without end: what a schedule puts behind it does not fit into the
   * work days.
   */
  beyond: number
}

/** As much of a plan as showing a schedule of it takes. A `DayPlan` is one; `notedPlan` makes one that can be stored. */
export type TimetablePlan = Omit<DayPlan, 'batches'> & {
  batches: { batch: { id: string; units: number }; steps: { step: { station: Station } }[]; portions: number[] }[]
}
