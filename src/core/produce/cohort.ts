import type { Crop } from './crop.ts'
import type { RipenessClass, Storage } from './vocabulary.ts'

/** A lot at its sorting: whole grams in each class, on the morning of an ISO date such as "2026-09-18". */
export type SortedLot = {
  crop: Crop
  storage: Storage
  sortedOn: string
  grams: Readonly<Record<RipenessClass, number>>
  /** Into how many parts each class is divided; whole, at least 1; 8 if absent. */
  cohorts?: number
}

/** A part of a lot that ages as one. Days are fractional and count from the morning of sorting. */
export type Cohort = {
  id: string
  startClass: RipenessClass
  grams: number
  /** Where it will be, in order; after the last `untilDay` it is lost. */
  leaves: readonly { class: RipenessClass; untilDay: number }[]
}

/** What a cohort is on some morning. */
export type Condition = RipenessClass | 'lost'

/** One morning of a forecast: the grams in each condition add up to what was sorted. */
export type ForecastDay = { dayOffset: number; date: string; grams: Record<Condition, number> }

/** Cohorts that look the same on every asked day, as one; `classByDay` follows the asked days, null once lost. */
export type MergedCohort = {
  id: string
  cohortIds: string[]
  grams: number
  classByDay: (RipenessClass | null)[]
  /** The last morning on which all of it is still of use: the earliest among its cohorts. */
  lastDay: number
}
