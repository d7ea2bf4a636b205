import type {
  Activity,
  Person,
  Phase,
  Resource,
  SchedulingProblem,
  Window,
} from '../../../src/core/scheduling/problem.ts'
import { chance } from '../../benchmarks/plain-glut.ts'

const dayMinutes = 1440

/** Dice from seeded chance. */
export function diceFrom(seed: number) {
  const random = chance(seed)
  const whole = (low: number, high: number) => low + Math.floor(random() * (high - low + 1))
  return {
    whole,
    yes: (likely: number) => random() < likely,
    oneOf: <T>(list: readonly T[]): T => {
      const found = list[whole(0, list.length - 1)]
      if (found === undefined) throw new Error('nothing to choose from')
      return found
    },
    shuffled: <T>(list: readonly T[]): T[] =>
      list
        .map((item) => ({ item, key: random() }))
        .sort((a, b) => a.key - b.key)
        .map(({ item }) => item),
  }
}
type Dice = ReturnType<typeof diceFrom>

/**
 * A made-up kitchen over a few days: helpers with several skills and different hours, a canner, burners and a dehydrator,
 * batches of up to four phases back to back (some run unattended, some over night), lags for soaking and cooling, days on
 * which produce comes in, and things that are due. Every problem has a schedule: after the last day everyone and
 * everything is there for good. The same seed gives the same problem.
 */
export function randomKitchen(seed: number, activities: number): SchedulingProblem {
  const dice = diceFrom(seed)
  const days = dice.whole(1, 4)
  const skills = ['cut', 'stove', 'pressure', 'carry'].slice(0, dice.whole(1, 4))
  const people = Array.from({ length: dice.whole(1, 6) }, (_, p): Person => {
    const own = skills.filter(() => dice.yes(0.5))
    const id = `helper-${p}`
    const has = own.length > 0 ? own : [dice.oneOf(skills)]
    return dice.yes(0.8) ? { id, skills: has, calendar: hours(dice, days) } : { id, skills: has }
  })
  const resources: Resource[] = [
    { id: 'canner', capacity: dice.whole(1, 2) },
    { id: 'burner', capacity: dice.whole(1, 5) },
    { id: 'dehydrator', capacity: dice.whole(4, 12) },
  ]
  for (const resource of resources) if (dice.yes(0.25)) resource.calendar = hours(dice, days)
  return {
    resources,
    people,
    activities: Array.from({ length: activities }, (_, a) => batch(dice, a, resources, people, days)),
  }
}

function batch(dice: Dice, index: number, resources: Resource[], people: Person[], days: number): Activity {
  const activity: Activity = {
    id: `batch-${index}`,
    phases: Array.from({ length: dice.whole(1, 4) }, () => phase(dice, resources, people)),
  }
  const before = dice.shuffled(Array.from({ length: index }, (_, i) => i)).slice(0, dice.whole(0, 2))
  if (before.length > 0)
    activity.after = before.map((i) => {
      const id = `batch-${i}`
      return dice.yes(0.4) ? { id, lag: dice.oneOf([5, 30, 240, 720]) } : { id }
    })
  if (dice.yes(0.25)) activity.earliest = dice.whole(0, days * dayMinutes)
  if (dice.yes(0.3)) activity.due = dice.whole(0, days + 1) * dayMinutes + 900
  if (activity.due !== undefined && dice.yes(0.5)) activity.weight = dice.oneOf([0, 0.5, 2, 5])
  return activity
}

function phase(dice: Dice, resources: Resource[], people: Person[]): Phase {
  const crew = dice.yes(0.6) ? crewOf(dice, people, dice.whole(1, 3)) : []
  const own: Phase = { minutes: dice.yes(0.03) ? 0 : dice.whole(1, 12) * 5 }
  if (crew.length > 0) own.people = crew
  const held = resources.filter(() => dice.yes(0.3))
  if (held.length > 0)
    own.resources = Object.fromEntries(
      held.map(({ id, capacity }) => [id, dice.whole(1, Math.max(1, Math.ceil(capacity / 2)))]),
    )
  if (crew.length === 0 && held.every(({ calendar }) => !calendar) && dice.yes(0.3)) own.minutes = dice.whole(60, 900)
  return own
}

/** Places that these people can fill: each of some takes one of the skills he or she has. */
function crewOf(dice: Dice, people: Person[], most: number): { skill: string; count: number }[] {
  const counts = new Map<string, number>()
  for (const { skills } of dice.shuffled(people).slice(0, most)) {
    const skill = dice.oneOf(skills)
    counts.set(skill, (counts.get(skill) ?? 0) + 1)
  }
  return [...counts].map(([skill, count]) => ({ skill, count }))
}

/** Some hours of each day, at times with a break, and from the day after the last always. */
function hours(dice: Dice, days: number): Window[] {
  const windows: Window[] = []
  for (let day = 0; day < days; day++) {
    const from = day * dayMinutes + dice.whole(7, 11) * 60
    const to = from + dice.whole(2, 10) * 60
    if (dice.yes(0.3)) windows.push({ from, to: from + 60 }, { from: from + 90, to })
    else if (dice.yes(0.9)) windows.push({ from, to })
  }
  return [...windows, { from: days * dayMinutes, to: 90 * dayMinutes }]
}

/**
 * A problem so small that all its schedules can be tried: up to five activities of few minutes. It may have no schedule
 * at all. The same seed gives the same problem.
 */
export function tinyProblem(seed: number): SchedulingProblem {
  const dice = diceFrom(seed)
  const windows = (): Window[] => {
    const first = dice.whole(0, 3)
    const second = first + dice.whole(1, 5) + dice.whole(0, 2)
    const middle = dice.whole(first + 1, second)
    return [
      { from: first, to: middle },
      { from: second, to: dice.yes(0.8) ? 60 : second + dice.whole(1, 4) },
    ]
  }
  const resources: Resource[] = Array.from({ length: dice.whole(1, 2) }, (_, r) => {
    const resource: Resource = { id: `machine-${r}`, capacity: dice.whole(1, 4) }
    return dice.yes(0.25) ? { ...resource, calendar: windows() } : resource
  })
  const skills = ['a', 'b', 'c'].slice(0, dice.whole(1, 3))
  const people: Person[] = Array.from({ length: dice.whole(0, 3) }, (_, p) => {
    const own = skills.filter(() => dice.yes(0.6))
    const person = { id: `p${p}`, skills: own.length > 0 ? own : [dice.oneOf(skills)] }
    return dice.yes(0.25) ? { ...person, calendar: windows() } : person
  })
  const activities = Array.from({ length: dice.whole(1, 5) }, (_, a): Activity => {
    const phases = Array.from({ length: dice.whole(1, 2) }, (): Phase => {
      const own: Phase = { minutes: dice.yes(0.05) ? 0 : dice.whole(1, 3) }
      const held = resources.filter(() => dice.yes(0.5))
      own.resources = Object.fromEntries(held.map(({ id, capacity }) => [id, dice.whole(1, capacity)]))
      if (dice.yes(0.6)) own.people = crewOf(dice, people, dice.whole(1, 2))
      return own
    })
    const activity: Activity = { id: `act-${a}`, phases }
    if (a > 0 && dice.yes(0.4)) activity.after = [{ id: `act-${dice.whole(0, a - 1)}`, lag: dice.whole(0, 2) }]
    if (dice.yes(0.15)) activity.earliest = dice.whole(0, 4)
    if (dice.yes(0.2)) activity.due = dice.whole(2, 8)
    return activity
  })
  return { resources, people, activities }
}
