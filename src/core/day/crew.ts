import type { WorkKind } from '../produce/vocabulary.ts'
import type { Phase } from '../scheduling/problem.ts'
import { crewFor } from './age-rules.ts'
import type { Helper, Kitchen } from './kitchen.ts'

/** People for a stretch of work: how many, for how many whole minutes. */
export type Crew = { count: number; minutes: number; people: NonNullable<Phase['people']> }

/** Who can do it; hot work is not for children. */
export function able({ helpers }: Pick<Kitchen, 'helpers'>, work: WorkKind, hot: boolean): Helper[] {
  return helpers.filter(({ ageBand, skills }) => skills.includes(work) && !(hot && ageBand === 'child'))
}

/** Whether there is anyone for it at all: for hot work an adult. */
export function canBeDone(kitchen: Pick<Kitchen, 'helpers'>, work: WorkKind, hot: boolean): boolean {
  return able(kitchen, work, hot).some(({ ageBand }) => !hot || ageBand === 'adult')
}

/**
 * As many hands as a step wants at once, but no more than are there together for that long on that day, and at least
 * one. `handMinutes` are those of one pair of hands at the usual speed; the mean speed of those who can do it on that
 * day counts, as it is not known beforehand who will. Each pair of hands works whole minutes, rounded up.
 */
export function crewOf(
  kitchen: Pick<Kitchen, 'helpers' | 'days'>,
  day: number,
  work: WorkKind,
  { hot, hands, handMinutes }: { hot: boolean; hands: number; handMinutes: number },
): Crew {
  const speed = speedOn(kitchen, day, work, hot)
  for (let count = hands; count >= 1; count--) {
    const minutes = wholeMinutes(handMinutes / count / speed)
    if (count > 1 && !together(kitchen, day, work, hot, count, minutes)) continue
    return { count, minutes, people: crewFor(work, count, hot) }
  }
  return { count: 1, minutes: wholeMinutes(handMinutes / speed), people: crewFor(work, 1, hot) }
}

/** Up to the next whole minute; what floating point adds to a whole number does not count. */
export function wholeMinutes(minutes: number): number {
  return Math.max(0, Math.ceil(minutes - 1e-6))
}

function speedOn(kitchen: Pick<Kitchen, 'helpers' | 'days'>, day: number, work: WorkKind, hot: boolean): number {
  const all = able(kitchen, work, hot)
  const there = all.filter((helper) => hoursOn(kitchen, day, helper).length > 0)
  const counted = there.length > 0 ? there : all
  return counted.length === 0 ? 1 : counted.reduce((sum, { speed }) => sum + speed, 0) / counted.length
}

function together(
  kitchen: Pick<Kitchen, 'helpers' | 'days'>,
  day: number,
  work: WorkKind,
  hot: boolean,
  count: number,
  minutes: number,
): boolean {
  const crew = able(kitchen, work, hot).map((helper) => ({ helper, hours: hoursOn(kitchen, day, helper) }))
  const starts = crew.flatMap(({ hours }) => hours.map(({ from }) => from))
  return starts.some((start) => {
    const there = crew.filter(({ hours }) => hours.some(({ from, to }) => from <= start && start + minutes <= to))
    return there.length >= count && (!hot || there.some(({ helper }) => helper.ageBand === 'adult'))
  })
}

function hoursOn({ days }: Pick<Kitchen, 'days'>, day: number, { hours }: Helper): Helper['hours'] {
  const on = days[day]
  return on ? hours.filter(({ from, to }) => from >= on.opens && to <= on.closes) : []
}
