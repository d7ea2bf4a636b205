import type { Cohort, Condition, ForecastDay, MergedCohort, SortedLot } from './cohort.ts'
import { dateAfter } from './dates.ts'
import { dwellDays } from './ripening.ts'
import { type RipenessClass, ripenessClasses } from './vocabulary.ts'

/** Three years: longer than anything here keeps. */
export const longestForecast = 1096

const usualCohorts = 8

/**
 * Divides a sorted lot into cohorts that age as one, and says when each leaves each class at the lot's storage.
 *
 * Pieces in a class are at all stages of it: cohort k of K (from 1) has used up all but (k - 1/2) / K of the class's dwell time, then
 * stays the whole of it in each following class. The order is firm, ripe, soft, lost; damaged pieces go from damaged to lost.
 * Grams are divided into whole grams that differ by at most one; cohorts of no grams are left out, so the
 * sum is what came in. Throws a RangeError if grams are no whole numbers from 0 or `cohorts` is not a whole number from 1.
 */
export function ageLot(lot: SortedLot): Cohort[] {
  const parts = lot.cohorts ?? usualCohorts
  if (!Number.isSafeInteger(parts) || parts < 1) throw new RangeError(`cohorts must be a whole number from 1: ${parts}`)
  const dwell = dwellDays(lot.crop, lot.storage)
  return ripenessClasses.flatMap((startClass) =>
    inWholeGrams(lot.grams[startClass], parts).flatMap((grams, index) =>
      grams === 0 ? [] : [cohortOf(startClass, index, parts, grams, dwell)],
    ),
  )
}

/** What a cohort is on the morning of a day; `dayOffset` counts from the sorting. It leaves a class at `untilDay`, not after it. */
export function classOn(cohort: Cohort, dayOffset: number): Condition {
  return cohort.leaves.find((stay) => dayOffset < stay.untilDay)?.class ?? 'lost'
}

/** The last morning, counted from the sorting, on which a cohort is still of use; at least 0. */
export function lastDay(cohort: Cohort): number {
  return Math.max(0, Math.ceil(cohort.leaves.at(-1)?.untilDay ?? 0) - 1)
}

/**
 * The forecast of a lot for every morning from the sorting (0) up to `days`: on each the grams add up to what was sorted.
 * Throws a RangeError if `days` is not a whole number from 0 to `longestForecast`, and as `ageLot` and `dateAfter` do.
 */
export function forecast(lot: SortedLot, days: number): ForecastDay[] {
  if (!Number.isSafeInteger(days) || days < 0 || days > longestForecast)
    throw new RangeError(`days must be a whole number from 0 to ${longestForecast}: ${days}`)
  const cohorts = ageLot(lot)
  return Array.from({ length: days + 1 }, (_, dayOffset) => {
    const grams: Record<Condition, number> = { firm: 0, ripe: 0, soft: 0, damaged: 0, lost: 0 }
    for (const cohort of cohorts) grams[classOn(cohort, dayOffset)] += cohort.grams
    return { dayOffset, date: dateAfter(lot.sortedOn, dayOffset), grams }
  })
}

/**
 * Joins cohorts of one lot that show the same class on every asked morning, in the order in which they first appear.
 * Its last day is the earliest among those joined, so that "use by" holds for all of it. No grams are lost.
 */
export function mergeBySignature(cohorts: readonly Cohort[], dayOffsets: readonly number[]): MergedCohort[] {
  const merged = new Map<string, MergedCohort>()
  for (const cohort of cohorts) {
    const classByDay = dayOffsets.map((day) => presentClass(classOn(cohort, day)))
    const signature = classByDay.map((shown) => shown ?? 'lost').join(' ')
    const same = merged.get(signature)
    if (same === undefined) {
      const { id, grams } = cohort
      merged.set(signature, { id, cohortIds: [id], grams, classByDay, lastDay: lastDay(cohort) })
    } else {
      same.cohortIds.push(cohort.id)
      same.grams += cohort.grams
      same.lastDay = Math.min(same.lastDay, lastDay(cohort))
    }
  }
  return [...merged.values()]
}

function inWholeGrams(grams: number, parts: number): number[] {
  if (!Number.isSafeInteger(grams) || grams < 0) throw new RangeError(`grams must be a whole number from 0: ${grams}`)
  const each = Math.floor(grams / parts)
  const over = grams % parts
  return Array.from({ length: parts }, (_, index) => each + (index < over ? 1 : 0))
}

function cohortOf(
  startClass: RipenessClass,
  index: number,
  parts: number,
  grams: number,
  dwell: Record<RipenessClass, number>,
): Cohort {
  const order: RipenessClass[] = startClass === 'damaged' ? ['damaged'] : ['firm', 'ripe', 'soft']
  let day = 0
  const leaves = order.slice(order.indexOf(startClass)).map((stay) => {
    day += stay === startClass ? (dwell[stay] * (index + 0.5)) / parts : dwell[stay]
    return { class: stay, untilDay: day }
  })
  return { id: `${startClass}-${index + 1}`, startClass, grams, leaves }
}

function presentClass(condition: Condition): RipenessClass | null {
  return condition === 'lost' ? null : condition
}
