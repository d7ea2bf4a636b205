/**
 * A scheduling problem that knows no kitchen: activities of one or more phases, resources with capacities, people with
 * skills, calendars and minimum time lags. The multi-skill resource-constrained project scheduling problem; with no
 * people, one phase each and no calendar it is the classical one (RCPSP).
 */

/** Whole minutes from the problem's start, `to` excluded. */
export type Window = { from: number; to: number }

/** A stretch of an activity. Phases run back to back: a phase begins when the one before ends. */
export type Phase = {
  minutes: number
  /** Units of resources that are held during all of it, by id. */
  resources?: Record<string, number>
  /** How many people of which skill; one person counts once. */
  people?: { skill: string; count: number }[]
}

export type Activity = {
  id: string
  phases: Phase[]
  /** It starts no earlier than the end of that one, and `lag` minutes more. */
  after?: { id: string; lag?: number }[]
  earliest?: number
  /** Ending later than this counts as lateness, `weight` for each minute (1 where not given). */
  due?: number
  weight?: number
}

export type Resource = {
  id: string
  capacity: number
  /** When it can be used, ascending; absent: always. A phase lies within one window. */
  calendar?: Window[]
}

export type Person = { id: string; skills: string[]; calendar?: Window[] }

export type SchedulingProblem = { resources: Resource[]; people?: Person[]; activities: Activity[] }

export type Schedule = {
  /** Start of each activity, whole minutes. */
  start: Record<string, number>
  /** For each activity and each of its phases the people who work in it. */
  people: Record<string, string[][]>
  /** The latest end of any activity. */
  makespan: number
  /** No schedule can be shorter than this. */
  lowerBound: number
  /** Weighted minutes beyond what is due. */
  lateness: number
  /** Passes of schedule generation that were spent; those given up or over a part count by the starts they worked out. */
  schedulesTried: number
}

export type SchedulingOptions = {
  /** The same seed and budget give the same schedule. */
  seed?: number
  /**
   * Passes of schedule generation at most; a pass of justification counts as one, one that is given up or goes over a
   * part of the activities as the share of starts worked out, one that goes back counts those twice that it works out twice.
   */
  maxSchedules?: number
  timeLimitMs?: number
}

/** What a schedule breaks, and where. */
export type ScheduleFault = { activity: string; rule: string; detail: string }
