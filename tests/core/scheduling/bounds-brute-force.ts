import type { Person, Phase, SchedulingProblem, Window } from '../../../src/core/scheduling/problem.ts'

/**
 * The shortest makespan of a tiny problem up to `most` minutes, by trying every start of every activity and every crew of
 * every phase minute by minute; null if there is none. It knows no rule that could be wrong but the problem's own words.
 */
export function shortestMakespan(problem: SchedulingProblem, most: number): number | null {
  for (let end = 0; end <= most; end++) if (canEndBy(problem, end)) return end
  return null
}

function canEndBy(problem: SchedulingProblem, end: number): boolean {
  const { resources, activities } = problem
  const people = problem.people ?? []
  const held = new Map(resources.map(({ id }) => [id, new Array<number>(end + 1).fill(0)]))
  const busy = new Map(people.map((person) => [person, new Array<boolean>(end + 1).fill(false)]))
  const ends = new Map<string, number>()

  const place = (index: number): boolean => {
    const activity = activities[index]
    if (!activity) return true
    const minutes = activity.phases.reduce((sum, phase) => sum + phase.minutes, 0)
    // Activities only come after ones that stand before them in the list.
    const ready = (activity.after ?? []).map(({ id, lag }) => (ends.get(id) ?? Number.POSITIVE_INFINITY) + (lag ?? 0))
    for (let start = Math.max(0, activity.earliest ?? 0, ...ready); start + minutes <= end; start++) {
      ends.set(activity.id, start + minutes)
      if (run(activity.phases, 0, start, () => place(index + 1))) return true
    }
    ends.delete(activity.id)
    return false
  }

  const run = (phases: Phase[], index: number, from: number, then: () => boolean): boolean => {
    const phase = phases[index]
    if (!phase) return then()
    const to = from + phase.minutes
    if (phase.minutes === 0) return run(phases, index + 1, to, then)
    for (const { id, capacity, calendar } of resources) {
      const units = phase.resources?.[id] ?? 0
      if (units === 0) continue
      if (!inside(calendar, from, to)) return false
      for (let minute = from; minute < to; minute++) if ((held.get(id)?.[minute] ?? 0) + units > capacity) return false
    }
    const hold = (sign: number) => {
      for (const [id, units] of Object.entries(phase.resources ?? {})) {
        const minutes = held.get(id) ?? []
        for (let minute = from; minute < to; minute++) minutes[minute] = (minutes[minute] ?? 0) + sign * units
      }
    }
    const places = (phase.people ?? []).flatMap(({ skill, count }) => new Array<string>(count).fill(skill))
    const fill = (place: number): boolean => {
      const skill = places[place]
      if (skill === undefined) return run(phases, index + 1, to, then)
      return people.some((person) => {
        if (!person.skills.includes(skill) || !isFree(person, from, to)) return false
        set(person, from, to, true)
        const done = fill(place + 1)
        set(person, from, to, false)
        return done
      })
    }
    hold(1)
    const done = fill(0)
    hold(-1)
    return done
  }

  const isFree = (person: Person, from: number, to: number) =>
    inside(person.calendar, from, to) && !(busy.get(person) ?? []).slice(from, to).includes(true)
  const set = (person: Person, from: number, to: number, value: boolean) => {
    busy.get(person)?.fill(value, from, to)
  }
  return place(0)
}

function inside(calendar: Window[] | undefined, from: number, to: number): boolean {
  return !calendar || calendar.some((window) => window.from <= from && to <= window.to)
}
