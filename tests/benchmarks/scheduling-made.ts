import type { SchedulingProblem } from '../../src/core/scheduling/index.ts'
import { chanceFrom } from '../../src/core/scheduling/random.ts'
import type { Instance } from './scheduling-sm.ts'

/**
 * Instances of the classical kind by the parameters of Kolisch, Sprecher, Drexl 1995 (from memory): network complexity
 * (arcs for each activity), resource factor (share of resources each activity uses), resource strength (0: as little
 * as the most demanding activity needs, 1: as much as the earliest-start schedule uses at its peak). Four resources,
 * durations 1 to 10, demands 1 to 10. The networks are simpler than the library's: arcs join near activities.
 */
export function madeInstances(activities: number, each: number): Instance[] {
  const instances: Instance[] = []
  for (const complexity of [1.5, 1.8, 2.1])
    for (const factor of [0.25, 0.5, 0.75, 1])
      for (const strength of activities > 100 ? [0.1, 0.2, 0.3, 0.4, 0.5] : [0.2, 0.5, 0.7, 1])
        for (let seed = 1; seed <= each; seed++)
          instances.push({
            name: `made${activities}-${complexity}-${factor}-${strength}-${seed}`,
            problem: madeProblem({ activities, complexity, factor, strength }, seed),
          })
  return instances
}

export type Kind = { activities: number; complexity: number; factor: number; strength: number }

export function madeProblem({ activities, complexity, factor, strength }: Kind, seed: number): SchedulingProblem {
  const chance = chanceFrom(seed * 7919 + activities * 31 + complexity * 1009 + factor * 211 + strength * 101)
  const kinds = 4
  const before: Set<number>[] = []
  for (let one = 0; one < activities; one++) {
    const own = new Set<number>()
    const roots = Math.min(3, activities)
    const wanted =
      one < roots ? 0 : 1 + Number(chance.share() < complexity - 1) + Number(chance.share() < complexity - 2)
    for (let arc = 0; arc < wanted; arc++) own.add(Math.max(0, one - 1 - chance.below(Math.min(one, 10))))
    before.push(own)
  }
  const minutes = before.map(() => 1 + chance.below(10))
  const demand = before.map(() => {
    const units: number[] = Array.from({ length: kinds }, () => (chance.share() < factor ? 1 + chance.below(10) : 0))
    if (!units.some((unit) => unit > 0)) units[chance.below(kinds)] = 1 + chance.below(10)
    return units
  })
  const peak = peaks(before, minutes, demand, kinds)
  return {
    resources: peak.map((most, kind) => {
      const least = Math.max(1, ...demand.map((units) => units[kind] ?? 0))
      return { id: `R${kind + 1}`, capacity: least + Math.round(strength * Math.max(0, most - least)) }
    }),
    activities: before.map((own, one) => ({
      id: String(one + 1),
      phases: [
        {
          minutes: minutes[one] ?? 0,
          resources: Object.fromEntries((demand[one] ?? []).map((units, kind) => [`R${kind + 1}`, units])),
        },
      ],
      after: [...own].map((other) => ({ id: String(other + 1) })),
    })),
  }
}

/** What the schedule without resources uses at most. */
function peaks(before: Set<number>[], minutes: number[], demand: number[][], kinds: number): number[] {
  const used = Array.from({ length: kinds }, (): number[] => [])
  const ends: number[] = []
  before.forEach((own, one) => {
    const start = Math.max(0, ...[...own].map((other) => ends[other] ?? 0))
    ends[one] = start + (minutes[one] ?? 0)
    for (let time = start; time < start + (minutes[one] ?? 0); time++)
      used.forEach((row, kind) => {
        row[time] = (row[time] ?? 0) + (demand[one]?.[kind] ?? 0)
      })
  })
  return used.map((row) => Math.max(0, ...row.filter((units) => units > 0)))
}
