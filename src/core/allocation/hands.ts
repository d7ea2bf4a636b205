import type { Worker } from './problem.ts'

/**
 * One of Hall's conditions: the work of these kinds together may not exceed the minutes of everybody who can do any of
 * them. A division of the work among the helpers exists exactly if all of them hold (Hall 1935; for divisible work it
 * is max-flow min-cut).
 */
export type HandLimit = { skills: string[]; minutesByDay: number[] }

/** More kinds of work than this are refused: the conditions grow as 2 to their number. */
export const skillsAtMost = 12

/**
 * The conditions that say something of their own: closed sets (with every skill whose people are already counted)
 * that do not fall apart into two sets without common people.
 * In: the kinds of work that are needed, the helpers, the number of days. A kind that nobody can do gets a limit of 0.
 */
export function handLimits(needed: readonly string[], workers: readonly Worker[], dayCount: number): HandLimit[] {
  const all = [...new Set(needed)].sort()
  if (all.length > skillsAtMost) throw new RangeError(`more than ${skillsAtMost} kinds of work`)
  const skills = all.filter((skill) => workers.some((worker) => worker.skills.includes(skill)))
  const crews = crewsOf(skills, workers, dayCount)
  const peopleOf = (set: number) => crews.filter((crew) => (crew.skills & set) !== 0)
  const nobody = Array.from({ length: dayCount }, () => 0)
  const limits: HandLimit[] = all
    .filter((skill) => !skills.includes(skill))
    .map((skill) => ({ skills: [skill], minutesByDay: nobody }))
  for (let set = 1; set < 1 << skills.length; set++) {
    const people = peopleOf(set)
    if (!isClosed(set, skills.length, crews) || !hangsTogether(set, people)) continue
    limits.push({
      skills: skills.filter((_, s) => set & (1 << s)),
      minutesByDay: Array.from({ length: dayCount }, (_, day) =>
        people.reduce((total, crew) => total + (crew.minutesByDay[day] ?? 0), 0),
      ),
    })
  }
  return limits
}

/** Helpers with the same skills (of those needed), as one crew with a bit for each skill. */
type Crew = { skills: number; minutesByDay: number[] }

function crewsOf(skills: string[], workers: readonly Worker[], dayCount: number): Crew[] {
  const crews = new Map<number, Crew>()
  for (const worker of workers) {
    const bits = skills.reduce((set, skill, s) => (worker.skills.includes(skill) ? set | (1 << s) : set), 0)
    if (bits === 0) continue
    const crew = crews.get(bits) ?? { skills: bits, minutesByDay: Array.from({ length: dayCount }, () => 0) }
    crew.minutesByDay = crew.minutesByDay.map((minutes, day) => minutes + (worker.minutesByDay[day] ?? 0))
    crews.set(bits, crew)
  }
  return [...crews.values()].sort((a, b) => a.skills - b.skills)
}

function isClosed(set: number, skillCount: number, crews: Crew[]): boolean {
  for (let s = 0; s < skillCount; s++) {
    if (set & (1 << s)) continue
    const others = crews.filter((crew) => crew.skills & (1 << s) && !(crew.skills & set))
    if (others.length === 0) return false
  }
  return true
}

function hangsTogether(set: number, people: Crew[]): boolean {
  let reached = set & -set
  for (let before = 0; before !== reached; ) {
    before = reached
    for (const crew of people) if (crew.skills & reached) reached |= crew.skills & set
  }
  return reached === set
}
