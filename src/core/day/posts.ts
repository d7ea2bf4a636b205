import type { Station } from '../produce/vocabulary.ts'
import type { Phase, Schedule } from '../scheduling/problem.ts'
import type { PlannedActivity, TimetablePlan } from './plan.ts'
import { lengthOf, merged, type Window } from './windows.ts'

/** A stretch of work at a station; null: no station of its own, such as cleaning up. */
export type Stand = Window & { station: Station | null }

/** One place in a task that one person has through all phases that ask for the same skill and have the person already. */
export type Post = {
  activity: string
  skill: string
  phases: number[]
  /** Ascending, phases of no minutes left out. */
  stands: Stand[]
  minutes: number
  /** What goes on from one post to the next: the same row of pieces, or the same step of a batch. */
  line: string
  /** By number among the problem's people. */
  person: number
}

/** The station of a phase; jars are washed where produce is washed and heated on the stove. */
export function stationOfPhase(plan: TimetablePlan, { batch, phases }: PlannedActivity, phase: number): Station | null {
  const means = phases[phase]
  if (means?.part === 'wash-jars') return 'wash'
  if (means?.part === 'heat-jars') return 'stove'
  const steps = plan.batches.find((one) => one.batch.id === batch)?.steps ?? []
  return means?.step == null ? null : (steps[means.step]?.step.station ?? null)
}

/**
 * Who has which place in a schedule that holds; what lies beyond the work days is left out, as are tasks that are in the
 * problem only.
 *
 * @throws RangeError where the people of a phase are not those whom it asks for
 */
export function postsOf(plan: TimetablePlan, schedule: Schedule): Post[] {
  return plan.activities.flatMap((planned) => {
    const start = schedule.start[planned.activity.id] ?? plan.beyond
    return start >= plan.beyond ? [] : postsOfActivity(plan, planned, start, schedule)
  })
}

function postsOfActivity(plan: TimetablePlan, planned: PlannedActivity, start: number, schedule: Schedule): Post[] {
  const { id, phases } = planned.activity
  const people = plan.problem.people ?? []
  const posts = new Map<string, Post>()
  let from = start
  phases.forEach((phase, number) => {
    const to = from + phase.minutes
    const station = stationOfPhase(plan, planned, number)
    const crew = (schedule.people[id]?.[number] ?? []).map((name) => people.findIndex((one) => one.id === name))
    const had = (skill: string, person: number) => posts.has(`${skill} ${person}`)
    placed(plan, phase, crew, had, id).forEach(({ skill, person }) => {
      const key = `${skill} ${person}`
      const post = posts.get(key) ?? newPost(planned, skill, number, person)
      post.phases.push(number)
      if (to > from) post.stands.push({ from, to, station })
      post.minutes += phase.minutes
      posts.set(key, post)
    })
    from = to
  })
  return [...posts.values()]
}

function newPost(
  { activity, batch, inRow, phases }: PlannedActivity,
  skill: string,
  phase: number,
  person: number,
): Post {
  const row = inRow ? activity.id.split('/').at(-1)?.split('.')[0] : ''
  const line = batch === null ? activity.id : [batch, phases[phase]?.step, row].join('/')
  return { activity: activity.id, skill, phases: [], stands: [], minutes: 0, line, person }
}

/** A place for each of a crew, by skill: the one that he or she had in an earlier phase where that is possible. */
function placed(
  { problem: { people = [] } }: TimetablePlan,
  phase: Phase,
  crew: readonly number[],
  had: (skill: string, person: number) => boolean,
  id: string,
): { skill: string; person: number }[] {
  const places = (phase.people ?? []).flatMap(({ skill, count }) => Array.from({ length: count }, () => skill))
  const takenBy: number[] = places.map(() => -1)
  const seat = (person: number, tried: Set<number>): boolean => {
    const able = places
      .map((skill, place) => ({ skill, place }))
      .filter(({ skill }) => people[person]?.skills.includes(skill))
      .sort((a, b) => Number(had(b.skill, person)) - Number(had(a.skill, person)))
    return able.some(({ place }) => {
      if (tried.has(place)) return false
      tried.add(place)
      const other = takenBy[place] ?? -1
      if (other >= 0 && !seat(other, tried)) return false
      takenBy[place] = person
      return true
    })
  }
  if (crew.length !== places.length || !crew.every((person) => seat(person, new Set())))
    throw new RangeError(`"${id}" has other people than it asks for`)
  return places.map((skill, place) => ({ skill, person: takenBy[place] ?? -1 }))
}

/** The schedule with the people of some posts; all others stay. */
export function withPosts({ problem: { people = [] } }: TimetablePlan, schedule: Schedule, posts: readonly Post[]) {
  const crews = new Map<string, string[][]>()
  for (const { activity, phases, person } of posts) {
    const own = crews.get(activity) ?? (schedule.people[activity] ?? []).map((): string[] => [])
    for (const phase of phases) own[phase]?.push(people[person]?.id ?? '')
    crews.set(activity, own)
  }
  return { ...schedule, people: { ...schedule.people, ...Object.fromEntries(crews) } }
}

/** Minutes in which each person is there within the work days. */
export function minutesThere({ problem: { people = [] }, kitchen, beyond }: TimetablePlan): number[] {
  const open = kitchen.days.reduce((sum, { opens, closes }) => sum + closes - opens, 0)
  return people.map(({ calendar }) =>
    calendar
      ? lengthOf(merged(calendar.map(({ from, to }) => ({ from: Math.min(from, beyond), to: Math.min(to, beyond) }))))
      : open,
  )
}
