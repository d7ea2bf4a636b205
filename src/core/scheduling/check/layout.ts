import type { Phase, Schedule, SchedulingProblem } from '../problem.ts'

/** A phase with its minutes, `to` excluded, and the people who are named for it. */
export type LaidPhase = { activity: string; index: number; phase: Phase; from: number; to: number; people: string[] }

/**
 * The phases of a schedule one after the other from each activity's start, and when each activity ends, in minutes.
 * An activity whose start is missing or no number is left out.
 */
export function layOut(
  problem: SchedulingProblem,
  schedule: Schedule,
): { phases: LaidPhase[]; ends: Map<string, number> } {
  const phases: LaidPhase[] = []
  const ends = new Map<string, number>()
  for (const activity of problem.activities) {
    const start = Object.hasOwn(schedule.start, activity.id) ? schedule.start[activity.id] : undefined
    if (start === undefined || !Number.isFinite(start)) continue
    const lists = Object.hasOwn(schedule.people, activity.id) ? schedule.people[activity.id] : undefined
    let from = start
    activity.phases.forEach((phase, index) => {
      const to = from + phase.minutes
      phases.push({ activity: activity.id, index, phase, from, to, people: lists?.[index] ?? [] })
      from = to
    })
    ends.set(activity.id, from)
  }
  return { phases, ends }
}

/** How a fault names a phase: "phase 2, minutes 30 to 45". */
export function wherePhase({ index, from, to }: LaidPhase): string {
  return `phase ${index + 1}, minutes ${from} to ${to}`
}
