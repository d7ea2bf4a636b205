import type { Board } from './board.ts'
import { Lane } from './lane.ts'
import { crewFor } from './match.ts'
import { type Model, type ModelPhase, never } from './model.ts'

/** Steps for each resource and person: any phases, calendars and people, at a cost that does not grow with the days. */
export class StepBoard implements Board {
  private readonly model: Model
  private readonly lanes: Lane[]
  private people: Int32Array
  private readonly crews: Int32Array[][]

  constructor(model: Model) {
    this.model = model
    this.people = model.people
    this.lanes = Array.from(model.capacity, (capacity, lane) => new Lane(capacity, model.calendars[lane] ?? null))
    this.crews = model.phases.map(() => [])
  }

  clear(people: Int32Array): void {
    this.people = people
    for (const lane of this.lanes) lane.clear()
  }

  earliest(activity: number, from: number): number {
    const phases = this.model.phases[activity] ?? []
    let start = from
    for (let settled = 0; ; ) {
      const phase = phases[settled]
      if (!phase) return start
      const moved = this.phaseFrom(phase, start + phase.offset) - phase.offset
      if (moved + phase.offset >= never) return never
      if (moved === start) settled++
      else {
        start = moved
        settled = 0
      }
    }
  }

  place(activity: number, start: number): void {
    const phases = this.model.phases[activity] ?? []
    this.take(
      activity,
      start,
      phases.map((phase) => this.crewAt(phase, start + phase.offset) ?? nobody),
    )
  }

  crew(activity: number): Int32Array[] {
    return this.crews[activity] ?? []
  }

  placeAs(activity: number, start: number, crews: readonly Int32Array[]): boolean {
    const phases = this.model.phases[activity] ?? []
    const free = phases.every((phase, index) => {
      const crew = crews[index] ?? nobody
      const at = start + phase.offset
      return (
        phase.lanes.every((lane, one) => this.fit(lane, at, phase.minutes, phase.units[one] ?? 0) === at) &&
        crew.every((lane) => this.fit(lane, at, phase.minutes, 1) === at) &&
        new Set(crew).size === phase.slots.length &&
        crewFor(phase.slots, crew, () => true) !== null
      )
    })
    if (free) this.take(activity, start, crews)
    return free
  }

  private take(activity: number, start: number, crews: readonly Int32Array[]): void {
    const phases = this.model.phases[activity] ?? []
    phases.forEach((phase, index) => {
      const at = start + phase.offset
      phase.lanes.forEach((lane, one) => {
        this.lanes[lane]?.take(at, phase.minutes, phase.units[one] ?? 0)
      })
      for (const lane of crews[index] ?? nobody) this.lanes[lane]?.take(at, phase.minutes, 1)
    })
    this.crews[activity] = [...crews]
  }

  /** The first time, at least `at`, that does not fail for a reason seen at `at`. */
  private phaseFrom(phase: ModelPhase, at: number): number {
    for (let one = 0; one < phase.lanes.length; one++) {
      const free = this.fit(phase.lanes[one] ?? 0, at, phase.minutes, phase.units[one] ?? 0)
      if (free !== at) return free
    }
    if (phase.slots.length === 0 || this.crewAt(phase, at)) return at
    // Until someone who is not free now becomes free, there are only fewer.
    let soonest = never
    for (const lane of this.people) {
      if (!phase.slots.some((able) => able.includes(lane))) continue
      const free = this.fit(lane, at, phase.minutes, 1)
      if (free > at && free < soonest) soonest = free
    }
    return soonest
  }

  private crewAt(phase: ModelPhase, at: number): Int32Array | null {
    if (phase.slots.length === 0) return nobody
    return crewFor(phase.slots, this.people, (lane) => this.fit(lane, at, phase.minutes, 1) === at)
  }

  private fit(lane: number, from: number, minutes: number, units: number): number {
    return this.lanes[lane]?.fit(from, minutes, units) ?? never
  }
}

const nobody = new Int32Array(0)
