import type { ScheduleFault, SchedulingProblem, Window } from '../problem.ts'
import { type LaidPhase, wherePhase } from './layout.ts'

/** Where a phase holds what is not there, holds more than there is, or lies outside the resource's windows. */
export function resourceFaults(problem: SchedulingProblem, phases: LaidPhase[]): ScheduleFault[] {
  const faults: ScheduleFault[] = []
  const known = new Set(problem.resources.map(({ id }) => id))
  for (const laid of phases)
    for (const id of Object.keys(laid.phase.resources ?? {}))
      if (!known.has(id))
        faults.push({ activity: laid.activity, rule: 'unknown', detail: `${wherePhase(laid)} holds ${id}` })

  for (const { id, capacity, calendar } of problem.resources) {
    const holding = phases
      .map((laid) => ({ laid, units: unitsOf(laid, id) }))
      .filter(({ laid, units }) => units > 0 && laid.to > laid.from)
    for (const { laid } of holding) {
      if (calendar && !calendar.some((window) => lies(laid, window)))
        faults.push({ activity: laid.activity, rule: 'calendar', detail: `${wherePhase(laid)} is outside ${id}` })
      // What is held only grows where a phase begins, so these minutes speak for all.
      const held = holding
        .filter((other) => other.laid.from <= laid.from && laid.from < other.laid.to)
        .reduce((sum, { units }) => sum + units, 0)
      if (held > capacity)
        faults.push({
          activity: laid.activity,
          rule: 'capacity',
          detail: `${held} of ${capacity} ${id} at minute ${laid.from}`,
        })
    }
  }
  return faults
}

function unitsOf(laid: LaidPhase, resource: string): number {
  const resources = laid.phase.resources ?? {}
  return Object.hasOwn(resources, resource) ? (resources[resource] ?? 0) : 0
}

/** Whether a phase lies within a window. */
export function lies(laid: LaidPhase, window: Window): boolean {
  return window.from <= laid.from && laid.to <= window.to
}
