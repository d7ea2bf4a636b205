import {
  ageLot,
  type Cohort,
  type Condition,
  type Crop,
  classOn,
  crop,
  dateAfter,
  daysBetween,
  lastDay,
  type RipenessClass,
  ripenessClasses,
  type Storage,
} from '../../core/produce/index.ts'
import type { SortedGrams } from './lot.ts'

/** So many days after a morning still count as soon: the time it takes to call a work day together. Our choice. */
const soonDays = 2

/** As much of a lot as its forecast needs. */
export type Ageing = { crop: string; storage: Storage; sorting: SortedGrams }

/** What there is of a lot on a morning, in whole grams: by the forecast from its newest sorting. */
export type Standing = {
  on: string
  grams: Record<RipenessClass, number>
  setAsideGrams: number
  /** Thrown out so far. */
  lostGrams: number
  /** Past use by the forecast since the newest sorting, and not yet thrown out. */
  spoiledGrams: number
  /** Went into batches so far. */
  usedGrams: number
  /** The four classes together. */
  usableGrams: number
  /** What the newest sorting accounts for: everything above together. */
  wholeGrams: number
  /** What spoils first: so many grams, of use up to and with that morning; null when nothing is left. */
  first: { useBy: string; grams: number } | null
  /** What is of use only up to and with the third morning, this one counted: what spoils first included. */
  soon: { useBy: string; grams: number }
  /** The last morning on which anything of it is of use; null when nothing is left. */
  lastUseBy: string | null
}

/** The crop of a key that was checked when it was saved. Throws an Error for one that is no longer known. */
export function knownCrop(key: string): Crop {
  const found = crop(key)
  if (found === undefined) throw new Error(`a lot is stored with the unknown crop ${key}`)
  return found
}

/** A lot on the morning of an ISO date; before its sorting it counts as on that morning. */
export function standingOn(lot: Ageing, date: string): Standing {
  const { sorting } = lot
  const cohorts = cohortsOf(lot)
  const offset = offsetOf(sorting, date)
  const { lost: spoiledGrams, ...grams } = gramsOn(cohorts, offset)
  const living = cohorts.filter((cohort) => classOn(cohort, offset) !== 'lost')
  const ends = living.map(lastDay)
  const firstEnd = Math.min(...ends)
  const upTo = (end: number) =>
    living.filter((cohort) => lastDay(cohort) <= end).reduce((sum, cohort) => sum + cohort.grams, 0)
  const usableGrams = ripenessClasses.reduce((sum, name) => sum + grams[name], 0)
  const { setAsideGrams, lostGrams, usedGrams } = sorting
  return {
    on: date,
    grams,
    setAsideGrams,
    lostGrams,
    spoiledGrams,
    usedGrams,
    usableGrams,
    wholeGrams: usableGrams + spoiledGrams + setAsideGrams + lostGrams + usedGrams,
    first: living.length === 0 ? null : { useBy: dateAfter(sorting.sortedOn, firstEnd), grams: upTo(firstEnd) },
    soon: { useBy: dateAfter(date, soonDays), grams: upTo(offset + soonDays) },
    lastUseBy: living.length === 0 ? null : dateAfter(sorting.sortedOn, Math.max(...ends)),
  }
}

/** One morning of the forecast. The grams add up to what the newest sorting found in the four classes. */
export type ComingDay = { date: string; grams: Record<Condition, number> }

/** The mornings of a date and so many days after it, in order; `after` counts days from the date. */
export function comingDays(lot: Ageing, from: string, after: readonly number[]): ComingDay[] {
  const cohorts = cohortsOf(lot)
  return after.map((days) => {
    const date = dateAfter(from, days)
    return { date, grams: gramsOn(cohorts, offsetOf(lot.sorting, date)) }
  })
}

/** Lots in the order in which they spoil: the earliest date first, of the same date the greater loss; the empty last. */
export function bySpoiling(a: Pick<Standing, 'first'>, b: Pick<Standing, 'first'>): number {
  if (a.first === null || b.first === null) return Number(a.first === null) - Number(b.first === null)
  if (a.first.useBy !== b.first.useBy) return a.first.useBy < b.first.useBy ? -1 : 1
  return b.first.grams - a.first.grams
}

function cohortsOf({ crop: key, storage, sorting }: Ageing): Cohort[] {
  return ageLot({ crop: knownCrop(key), storage, sortedOn: sorting.sortedOn, grams: sorting.grams })
}

function offsetOf(sorting: SortedGrams, date: string): number {
  return Math.max(0, daysBetween(sorting.sortedOn, date))
}

function gramsOn(cohorts: readonly Cohort[], offset: number): Record<Condition, number> {
  const grams: Record<Condition, number> = { firm: 0, ripe: 0, soft: 0, damaged: 0, lost: 0 }
  for (const cohort of cohorts) grams[classOn(cohort, offset)] += cohort.grams
  return grams
}
