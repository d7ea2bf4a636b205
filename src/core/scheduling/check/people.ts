import type { Person, ScheduleFault, SchedulingProblem } from '../problem.ts'
import { type LaidPhase, wherePhase } from './layout.ts'
import { lies } from './resources.ts'

/** Where the people named for a phase are not there, too few or too many, cannot do it, are away, or are elsewhere. */
export function peopleFaults(problem: SchedulingProblem, phases: LaidPhase[]): ScheduleFault[] {
  const people = new Map((problem.people ?? []).map((person) => [person.id, person]))
  const busy = new Map<string, LaidPhase[]>()
  const faults: ScheduleFault[] = []
  for (const laid of phases) {
    const fault = (rule: string, detail: string) =>
      faults.push({ activity: laid.activity, rule, detail: `${wherePhase(laid)}: ${detail}` })
    const here: Person[] = []
    for (const id of new Set(laid.people)) {
      const person = people.get(id)
      if (person) here.push(person)
      else fault('unknown', `${id} is nobody`)
    }
    if (new Set(laid.people).size < laid.people.length) fault('person-twice', laid.people.join(', '))
    if (laid.to <= laid.from) continue

    // A place for each person that is asked for, by its skill.
    const places = (laid.phase.people ?? []).flatMap(({ skill, count }) => Array<string>(count).fill(skill))
    if (here.length !== places.length) fault('count', `${here.length} people for ${places.length} places`)
    const filled = filledPlaces(places, here)
    if (filled < Math.min(places.length, here.length))
      fault('skill', `${names(here)} can fill ${filled} of ${places.join(', ')}`)
    for (const person of here) {
      if (person.calendar && !person.calendar.some((window) => lies(laid, window)))
        fault('person-calendar', `${person.id} is away`)
      const others = busy.get(person.id) ?? []
      for (const other of others)
        if (other.from < laid.to && laid.from < other.to)
          fault('two-places', `${person.id} is in ${other.activity}, ${wherePhase(other)}`)
      busy.set(person.id, [...others, laid])
    }
  }
  return faults
}

/** The most places that can be filled, one person each: a maximum matching by augmenting paths. */
function filledPlaces(places: string[], people: Person[]): number {
  const placeOf = new Map<Person, number>()
  const fill = (place: number, asked: Set<Person>): boolean => {
    for (const person of people) {
      if (asked.has(person) || !person.skills.includes(places[place] ?? '')) continue
      asked.add(person)
      const now = placeOf.get(person)
      if (now === undefined || fill(now, asked)) {
        placeOf.set(person, place)
        return true
      }
    }
    return false
  }
  return places.filter((_, place) => fill(place, new Set())).length
}

const names = (people: Person[]) => people.map(({ id }) => id).join(', ')
