import { describe, expect, it } from 'vitest'
import { checkSchedule, lowerBound, type ScheduleRule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import type { Activity, Schedule, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'
import { shortestMakespan } from './bounds-brute-force.ts'
import { diceFrom, randomKitchen, tinyProblem } from './random-problems.ts'

const kitchens: Kitchen[] = Array.from({ length: 500 }, (_, i) => ({
  seed: i + 1,
  problem: randomKitchen(i + 1, 2 + (i % 24)),
}))
const passes = 40

type Kitchen = { seed: number; problem: SchedulingProblem }

const solve = ({ seed, problem }: Kitchen) => solveSchedule(problem, { seed, maxSchedules: passes })

/** The schedule that a short search finds for a kitchen, found once. */
function solved(kitchen: Kitchen): Schedule {
  const schedule = found.get(kitchen.seed) ?? solve(kitchen)
  found.set(kitchen.seed, schedule)
  return schedule
}
const found = new Map<number, Schedule>()

/** What makes a kitchen richer and takes nothing from it. */
const additions: Record<string, (problem: SchedulingProblem, dice: ReturnType<typeof diceFrom>) => void> = {
  'more machines': ({ resources }, dice) => {
    dice.oneOf(resources).capacity += dice.whole(1, 3)
  },
  'one more person': ({ people }) => {
    people?.push({ id: 'guest', skills: ['cut', 'stove', 'pressure', 'carry'] })
  },
}

function isNoWorse(after: Schedule, before: Schedule): boolean {
  const late = after.lateness - before.lateness
  return Math.abs(late) < 1e-9 ? after.makespan <= before.makespan : late < 0
}

// Seconds when the machine is free; it need not be.
const patience = { timeout: 120_000 }

describe('schedules of 500 made-up kitchens', patience, () => {
  it('hold, and are no shorter than the bound', () => {
    let proved = 0
    for (const kitchen of kitchens) {
      const schedule = solved(kitchen)
      expect(checkSchedule(kitchen.problem, schedule), `seed ${kitchen.seed}`).toEqual([])
      const bound = lowerBound(kitchen.problem)
      expect(bound, `seed ${kitchen.seed}`).toBeLessThanOrEqual(schedule.makespan)
      if (bound === schedule.makespan) proved++
      if (kitchen.seed % 5 > 0) continue
      const shaved = lowerBound(kitchen.problem, { shavingSteps: 200_000 })
      expect(shaved, `seed ${kitchen.seed}, shaved`).toBeLessThanOrEqual(schedule.makespan)
    }
    // Common sense, no source: in half of such kitchens a short search should meet the bound, or one of both is poor.
    expect(proved).toBeGreaterThan(250)
  })

  it('are of problems that have all there is to a problem', () => {
    const have = (is: (problem: SchedulingProblem) => boolean) => kitchens.filter(({ problem }) => is(problem)).length
    const some = (is: (activity: Activity) => boolean) => have(({ activities }) => activities.some(is))
    const counts = {
      kitchens: kitchens.length,
      peopleAtWork: some(({ phases }) => phases.some(({ people }) => people?.length)),
      hoursOfPeople: have(({ people = [] }) => people.some(({ calendar }) => calendar)),
      hoursOfMachines: have(({ resources }) => resources.some(({ calendar }) => calendar)),
      lags: some(({ after = [] }) => after.some(({ lag = 0 }) => lag > 0)),
      withoutPause: some(({ phases }) => phases.length > 1),
      earliest: some(({ earliest = 0 }) => earliest > 0),
      due: some(({ due }) => due !== undefined),
    }
    const least = {
      kitchens: 500,
      peopleAtWork: 450,
      hoursOfPeople: 450,
      hoursOfMachines: 200,
      lags: 350,
      withoutPause: 450,
      earliest: 400,
      due: 400,
    }
    for (const [what, many] of Object.entries(counts) as [keyof typeof least, number][])
      expect(many, what).toBeGreaterThanOrEqual(least[what])
  })

  it('are the same for the same seed, and leave the problem as it was', () => {
    for (const kitchen of kitchens.slice(0, 120)) {
      const before = structuredClone(kitchen.problem)
      expect(solve(kitchen), `seed ${kitchen.seed}`).toEqual(solved(kitchen))
      expect(kitchen.problem).toEqual(before)
    }
  })

  it.each(Object.entries(additions))('get no worse with %s, for the same seed and budget', (_, add) => {
    let shorter = 0
    for (const kitchen of kitchens) {
      const before = solved(kitchen)
      const more = structuredClone(kitchen.problem)
      add(more, diceFrom(kitchen.seed))
      const after = solveSchedule(more, { seed: kitchen.seed, maxSchedules: passes, from: before })
      expect(checkSchedule(more, after), `seed ${kitchen.seed}`).toEqual([])
      expect(isNoWorse(after, before), `seed ${kitchen.seed}`).toBe(true)
      if (!isNoWorse(before, after)) shorter++
      // What was possible before is possible still, so nothing may be proved that it contradicts.
      expect(lowerBound(more), `seed ${kitchen.seed}`).toBeLessThanOrEqual(before.makespan)
    }
    expect(shorter).toBeGreaterThan(25)
  })

  it('bounds shrink with what is taken away: work, a wait, an earliest start', () => {
    for (const kitchen of kitchens.slice(0, 200)) {
      const before = solved(kitchen)
      const less = structuredClone(kitchen.problem)
      const dice = diceFrom(kitchen.seed)
      const activity = dice.oneOf(less.activities)
      if (dice.yes(0.5)) {
        delete activity.after
        delete activity.earliest
      } else {
        less.activities = less.activities.filter(({ id }) => id !== activity.id)
        for (const { after } of less.activities) {
          const at = after?.findIndex(({ id }) => id === activity.id) ?? -1
          if (at >= 0) after?.splice(at, 1)
        }
      }
      expect(lowerBound(less), `seed ${kitchen.seed}`).toBeLessThanOrEqual(before.makespan)
    }
  })
})

describe('schedules of tiny problems against all schedules', patience, () => {
  it('are never shorter than the shortest, most often it, and there is one whenever there can be', () => {
    const most = 20
    let tried = 0
    let met = 0
    let refused = 0
    for (let seed = 1001; seed <= 1200; seed++) {
      const problem = tinyProblem(seed)
      for (const activity of problem.activities) delete activity.due
      const shortest = shortestMakespan(problem, most)
      if (shortest === null) {
        if (lowerBound(problem) < Number.POSITIVE_INFINITY) continue
        expect(() => solveSchedule(problem, { seed, maxSchedules: 200 }), `seed ${seed}`).toThrow(RangeError)
        refused++
        continue
      }
      const schedule = solveSchedule(problem, { seed, maxSchedules: 200 })
      expect(checkSchedule(problem, schedule), `seed ${seed}`).toEqual([])
      expect(schedule.makespan, `seed ${seed}`).toBeGreaterThanOrEqual(shortest)
      tried++
      if (schedule.makespan === shortest) met++
    }
    expect(tried).toBeGreaterThan(150)
    expect(refused).toBeGreaterThan(3)
    expect(met / tried).toBeGreaterThan(0.95)
  })
})

/** Damages that break a rule for certain; null where the schedule has nothing to break. */
const damages: Partial<Record<ScheduleRule, (problem: SchedulingProblem, schedule: Schedule) => true | null>> = {
  earliest: (problem, schedule) => {
    const activity = problem.activities.find(({ earliest }) => (earliest ?? 0) > 0)
    if (!activity) return null
    schedule.start[activity.id] = (activity.earliest ?? 0) - 1
    return true
  },
  precedence: (problem, schedule) => {
    const activity = problem.activities.find(({ after }) => after?.length)
    const before = activity?.after?.[0]
    if (!activity || !before) return null
    const phases = problem.activities.find(({ id }) => id === before.id)?.phases ?? []
    const minutes = phases.reduce((sum, phase) => sum + phase.minutes, 0)
    if (minutes === 0) return null
    schedule.start[activity.id] = schedule.start[before.id] ?? 0
    return true
  },
  capacity: (problem, schedule) => {
    // Everything that uses the canner begins at once, until more than there is.
    const users = problem.activities.filter(({ phases }) => phases[0]?.resources?.['canner'] && phases[0].minutes > 0)
    const units = users.reduce((sum, { phases }) => sum + (phases[0]?.resources?.['canner'] ?? 0), 0)
    if (units <= (problem.resources[0]?.capacity ?? 0)) return null
    for (const { id } of users) schedule.start[id] = 0
    return true
  },
  'two-places': (problem, schedule) => {
    const [one, other] = problem.activities.filter(
      ({ id, phases }) => phases[0]?.people?.length && phases[0].minutes > 0 && schedule.people[id]?.[0]?.length,
    )
    if (!one || !other) return null
    schedule.start[other.id] = schedule.start[one.id] ?? 0
    const lists = schedule.people[other.id] ?? []
    schedule.people[other.id] = [schedule.people[one.id]?.[0] ?? [], ...lists.slice(1)]
    return true
  },
  count: (problem, schedule) => {
    for (const { id, phases } of problem.activities)
      for (const [index, { minutes }] of phases.entries())
        if (minutes > 0 && schedule.people[id]?.[index]?.pop() !== undefined) return true
    return null
  },
  skill: (problem, schedule) => {
    for (const { id, phases } of problem.activities)
      for (const [index, { minutes, people = [] }] of phases.entries()) {
        const stranger = problem.people?.find(({ skills }) => people.every(({ skill }) => !skills.includes(skill)))
        const list = schedule.people[id]?.[index]
        if (minutes === 0 || !stranger || !list?.length) continue
        list[0] = stranger.id
        return true
      }
    return null
  },
  'person-calendar': (problem, schedule) => {
    for (const { id, phases } of problem.activities)
      for (const person of problem.people ?? []) {
        // Everyone with hours of their own is away in the first six of the first day.
        if (!person.calendar || !schedule.people[id]?.[0]?.includes(person.id) || phases[0]?.minutes === 0) continue
        schedule.start[id] = 0
        return true
      }
    return null
  },
  calendar: (problem, schedule) => {
    const closed = problem.resources.filter(({ calendar }) => calendar).map(({ id }) => id)
    const activity = problem.activities.find(
      ({ phases }) => (phases[0]?.minutes ?? 0) > 0 && closed.some((id) => phases[0]?.resources?.[id]),
    )
    if (!activity) return null
    schedule.start[activity.id] = 0
    return true
  },
}

describe('schedules of made-up kitchens, damaged', patience, () => {
  it.each(Object.entries(damages))('break the rule %s', (rule, damage) => {
    let damaged = 0
    for (const kitchen of kitchens.slice(100, 220)) {
      const schedule = structuredClone(solved(kitchen))
      if (!damage(kitchen.problem, schedule)) continue
      damaged++
      const rules = checkSchedule(kitchen.problem, schedule).map((fault) => fault.rule)
      expect(rules, `seed ${kitchen.seed}`).toContain(rule)
    }
    expect(damaged).toBeGreaterThan(20)
  })
})
