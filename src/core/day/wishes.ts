import type { Station } from '../produce/vocabulary.ts'
import type { Schedule } from '../scheduling/problem.ts'
import type { TimetablePlan } from './plan.ts'
import { type Stand, stationOfPhase } from './posts.ts'
import type { Window } from './windows.ts'

/**
 * What counts as a change: so many minutes away from a station, at another one, at a break or with nothing to do. Common
 * practice, no source.
 */
export const changeMinutes = 10

export type Stretch = Window & { station: Station }

/** What a timetable does not give to a helper. */
export type WishesNotMet = {
  helper: string
  /** Minutes at each station where he or she would rather not stand; empty: none. */
  disliked: { station: Station; minutes: number }[]
  /** Longer at one station without a change than `longest` minutes allow. */
  tooLong: (Stretch & { longest: number })[]
}

/**
 * The helpers whose wishes a timetable does not wholly meet, in the kitchen's order: where nobody could relieve
 * somebody, it is told here.
 */
export function wishesNotMet(plan: TimetablePlan, schedule: Schedule): WishesNotMet[] {
  const stands = standsByHelper(plan, schedule)
  return plan.kitchen.helpers.flatMap(({ id, stretchMinutes, dislikes = [] }) => {
    const own = stands.get(id) ?? []
    const longest = stretchMinutes ?? Number.POSITIVE_INFINITY
    const tooLong = stretchesOf(own)
      .filter(({ from, to }) => to - from > longest)
      .map((stretch) => ({ ...stretch, longest }))
    const disliked = dislikes
      .map((station) => ({ station, minutes: minutesAt(own, station) }))
      .filter(({ minutes }) => minutes > 0)
    return disliked.length + tooLong.length === 0 ? [] : [{ helper: id, disliked, tooLong }]
  })
}

function standsByHelper(plan: TimetablePlan, { start, people }: Schedule): Map<string, Stand[]> {
  const found = new Map<string, Stand[]>()
  for (const planned of plan.activities) {
    const { id, phases } = planned.activity
    let from = start[id] ?? plan.beyond
    if (from >= plan.beyond) continue
    phases.forEach(({ minutes }, number) => {
      const stand = { from, to: from + minutes, station: stationOfPhase(plan, planned, number) }
      from = stand.to
      if (minutes > 0) for (const who of people[id]?.[number] ?? []) found.set(who, [...(found.get(who) ?? []), stand])
    })
  }
  return found
}

function minutesAt(stands: readonly Stand[], station: Station): number {
  return stands.reduce((sum, one) => (one.station === station ? sum + one.to - one.from : sum), 0)
}

/**
 * Stretches at one station, from the first minute to the last: what is shorter than a change between two stands at it
 * is in the stretch. Stands of one person, which do not overlap, in any order; stretches ascending by begin.
 */
export function stretchesOf(stands: readonly Stand[]): Stretch[] {
  const open = new Map<Station, Stretch>()
  const all: Stretch[] = []
  for (const { from, to, station } of [...stands].sort((a, b) => a.from - b.from)) {
    if (station === null) continue
    const last = open.get(station)
    if (last && from - last.to < changeMinutes) last.to = to
    else {
      const stretch = { from, to, station }
      open.set(station, stretch)
      all.push(stretch)
    }
  }
  return all
}
