import { ripenessClasses } from '../../core/produce/index.ts'
import { largestLotGrams } from '../../core/units/index.ts'
import { type SortedGrams, type Sorting, type SortingPart, sortingParts } from './lot.ts'
import type { Standing } from './standing.ts'

/** What somebody found when sorting what is there: whole grams by part, or shares of it from 0 to 1. */
export type Sorted =
  | { how: 'weights'; parts: Record<SortingPart, number>; sure: boolean }
  | { how: 'shares'; parts: Record<SortingPart, number> }

/** From this difference on, what was weighed is asked for again: our convention, wide enough for a bushel that was guessed. */
export const doubtfulDifference = 0.15
/** Shares may miss 100 % by so much, so that 33.3 + 33.3 + 33.4 pass and a forgotten tenth does not. */
const shareTolerance = 0.0005

/**
 * The new sorting of a lot, or what is wrong in words by field (`total` for the sum).
 *
 * There to be sorted is what the last sorting left in the four classes, what has spoiled since included: it lies there
 * until it is thrown out. By shares, that weight is divided into whole grams. By weights, the sum becomes the new truth;
 * one that differs from the expected by more than `doubtfulDifference` needs `sure`. What was set aside, lost
 * and used before stays counted.
 */
export function sortLot(
  before: Standing,
  sorted: Sorted,
): { ok: true; sorting: SortedGrams } | { ok: false; problems: Record<string, string> } {
  const there = thereGrams(before)
  const problem = sorted.how === 'weights' ? weightProblem(there, sorted) : shareProblem(there, sorted.parts)
  if (problem !== null) return { ok: false, problems: problem }
  const parts = sorted.how === 'weights' ? sorted.parts : inWholeGrams(there, sorted.parts)
  const { firm, ripe, soft, damaged, setAside, lost } = parts
  const sorting = {
    sortedOn: before.on,
    grams: { firm, ripe, soft, damaged },
    setAsideGrams: before.setAsideGrams + setAside,
    lostGrams: before.lostGrams + lost,
    usedGrams: before.usedGrams,
  }
  const whole = firm + ripe + soft + damaged + sorting.setAsideGrams + sorting.lostGrams + sorting.usedGrams
  if (whole > largestLotGrams) return { ok: false, problems: { total: 'Enter less than 50 tonnes in all' } }
  return { ok: true, sorting }
}

/** Grams that lie there to be sorted: the four classes and what has spoiled since the last sorting. */
export function thereGrams(standing: Standing): number {
  return standing.usableGrams + standing.spoiledGrams
}

/** A lot as it is on a morning, set down as a sorting: nothing appears or goes, what spoiled counts as lost. */
export function setDown(standing: Standing): SortedGrams {
  const { on, grams, setAsideGrams, lostGrams, spoiledGrams, usedGrams } = standing
  return { sortedOn: on, grams: { ...grams }, setAsideGrams, lostGrams: lostGrams + spoiledGrams, usedGrams }
}

/** The sortings that count, oldest first, when each taking back has removed the one before it. */
export function standingSortings(oldestFirst: readonly Sorting[]): Sorting[] {
  const counting: Sorting[] = []
  for (const sorting of oldestFirst) {
    if (sorting.how === 'taken-back') counting.pop()
    else counting.push(sorting)
  }
  return counting
}

/** The sorting that would be in force if the last one by hand were taken back; null when there is none to take back. */
export function beforeLastSorting(oldestFirst: readonly Sorting[]): Sorting | null {
  const counting = standingSortings(oldestFirst)
  const last = counting.at(-1)
  const byHand = last !== undefined && (last.how === 'weights' || last.how === 'shares')
  return byHand ? (counting.at(-2) ?? null) : null
}

/** Whether nobody has sorted or moved the lot yet, so that its weight is still the one of its arrival. */
export function isUnsorted(oldestFirst: readonly Sorting[]): boolean {
  return standingSortings(oldestFirst).every(({ how }) => how === 'arrival' || how === 'corrected')
}

/** The arrival's sorting with another weight: all of it in the class that was named. */
export function correctedArrival(arrival: SortedGrams, grams: number): SortedGrams {
  const named = ripenessClasses.find((name) => arrival.grams[name] > 0) ?? 'ripe'
  return { ...arrival, grams: { firm: 0, ripe: 0, soft: 0, damaged: 0, [named]: grams } }
}

function weightProblem(there: number, { parts, sure }: Sorted & { how: 'weights' }): Record<string, string> | null {
  const sum = sumOf(parts)
  if (sum === 0) return { total: 'Enter what you weighed, in one part at least' }
  if (sum > largestLotGrams) return { total: 'Enter less than 50 tonnes in all' }
  const differs = Math.abs(sum - there) > there * doubtfulDifference
  return differs && !sure
    ? { sure: `${differenceInWords(sum, there)}: weigh again, or tick that the scale says so` }
    : null
}

/** "These weights are 20 % less than should be there" */
function differenceInWords(sum: number, there: number): string {
  if (there === 0) return 'By the last sorting nothing should be there'
  const percent = Math.round((Math.abs(sum - there) / there) * 1000) / 10
  return `These weights are ${percent} % ${sum < there ? 'less' : 'more'} than should be there`
}

function shareProblem(there: number, parts: Record<SortingPart, number>): Record<string, string> | null {
  if (there === 0) return { how: 'Sort by weight: after the last sorting there is nothing left to take shares of' }
  const sum = sumOf(parts)
  if (Math.abs(sum - 1) <= shareTolerance + 1e-9) return null
  return { total: `The shares add up to ${Number((sum * 100).toFixed(2))} %: make it 100 %` }
}

/** Whole grams by shares that sum to the whole: rounded down, and the grams left go to the largest remainders. */
function inWholeGrams(whole: number, shares: Record<SortingPart, number>): Record<SortingPart, number> {
  const sum = sumOf(shares)
  const exact = sortingParts.map((part) => ({ part, grams: (whole * shares[part]) / sum }))
  const grams = { firm: 0, ripe: 0, soft: 0, damaged: 0, setAside: 0, lost: 0 }
  for (const { part, grams: of } of exact) grams[part] = Math.floor(of)
  const left = whole - sumOf(grams)
  const byRemainder = exact.sort((a, b) => (b.grams % 1) - (a.grams % 1))
  for (const { part } of byRemainder.slice(0, left)) grams[part] += 1
  return grams
}

function sumOf(parts: Record<SortingPart, number>): number {
  return sortingParts.reduce((sum, part) => sum + parts[part], 0)
}
