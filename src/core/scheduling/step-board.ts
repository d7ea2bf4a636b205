import type { Board } from './board.ts'
import { Lane } from './lane.ts'
import { crewFor } from './match.ts'
import { type Model, type ModelPhase, never } from './model.ts'

/** Who may work in a phase; `alike` where all places ask for the same skill, so that any of them will do. */
type Wanted = { places: number; able: Uint8Array; alike: boolean }

/** Steps for each resource and person: any phases, calendars and people, at a cost that does not grow with the days. */
export class StepBoard implements Board {
  private readonly phases: ModelPhase[][]
  private readonly wanted: Wanted[][]
  private readonly lanes: Lane[]
  private readonly crews: Int32Array[][]
  private people: Int32Array
  // Who is free at the moment that is looked at, and from when the others are.
  private readonly free: Int32Array
  private readonly later: Int32Array
  private freeCount = 0

  constructor(model: Model) {
    this.phases = model.phases
    this.wanted = model.phases.map((phases) => phases.map((phase) => wantedIn(phase, model.capacity.length)))
    this.lanes = Array.from(model.capacity, (capacity, lane) => new Lane(capacity, model.calendars[lane] ?? null))
    this.crews = model.phases.map(() => [])
    this.people = model.people
    this.free = new Int32Array(model.people.length)
    this.later = new Int32Array(model.people.length)
  }

  clear(people: Int32Array): void {
    this.people = people
    for (const lane of this.lanes) lane.clear()
  }

  earliest(activity: number, from: number): number {
    const phases = this.phases[activity] ?? []
    let start = from
    for (let settled = 0; ; ) {
      const phase = phases[settled]
      const wanted = this.wanted[activity]?.[settled]
      if (!phase || !wanted) return start
      const at = start + phase.offset
      const moved = this.phaseFrom(phase, wanted, at)
      if (moved >= never) return never
      if (moved === at) settled++
      else {
        start = moved - phase.offset
        settled = 0
      }
    }
  }

  place(activity: number, start: number): void {
    const phases = this.phases[activity] ?? []
    const crews: Int32Array[] = []
    for (let index = 0; index < phases.length; index++) {
      const phase = phases[index]
      const wanted = this.wanted[activity]?.[index]
      crews.push(phase && wanted ? this.crewAt(phase, wanted, start + phase.offset) : nobody)
    }
    this.take(activity, start, crews)
  }

  crew(activity: number): Int32Array[] {
    return this.crews[activity] ?? []
  }

  placeAs(activity: number, start: number, crews: readonly Int32Array[]): boolean {
    const holds = (this.phases[activity] ?? []).every((phase, index) => {
      const crew = crews[index] ?? nobody
      const at = start + phase.offset
      return (
        phase.lanes.every((lane, one) => this.fit(lane, at, phase.minutes, phase.units[one] ?? 0) === at) &&
        crew.every((lane) => this.fit(lane, at, phase.minutes, 1) === at) &&
        new Set(crew).size === phase.slots.length &&
        crewFor(phase.slots, crew) !== null
      )
    })
    if (holds) this.take(activity, start, [...crews])
    return holds
  }

  private take(activity: number, start: number, crews: Int32Array[]): void {
    const phases = this.phases[activity] ?? []
    for (let index = 0; index < phases.length; index++) {
      const phase = phases[index]
      if (!phase) continue
      const at = start + phase.offset
      for (let one = 0; one < phase.lanes.length; one++)
        this.lanes[phase.lanes[one] ?? 0]?.take(at, phase.minutes, phase.units[one] ?? 0)
      const crew = crews[index] ?? nobody
      for (let one = 0; one < crew.length; one++) this.lanes[crew[one] ?? 0]?.take(at, phase.minutes, 1)
    }
    this.crews[activity] = crews
  }

  /** The first time, at least `at`, that does not fail for a reason seen at `at`. */
  private phaseFrom(phase: ModelPhase, wanted: Wanted, at: number): number {
    for (let one = 0; one < phase.lanes.length; one++) {
      const free = this.fit(phase.lanes[one] ?? 0, at, phase.minutes, phase.units[one] ?? 0)
      if (free !== at) return free
    }
    if (wanted.places === 0) return at
    const waiting = this.look(phase, wanted, at)
    if (this.freeCount >= wanted.places && (wanted.alike || this.match(phase) !== null)) return at
    // Until so many of the others become free as are missing, there are only fewer.
    const missing = Math.max(1, wanted.places - this.freeCount)
    if (waiting < missing) return never
    return this.later.subarray(0, waiting).sort()[missing - 1] ?? never
  }

  /** Notes who is free for the whole phase, in the order of asking, and how many will be later. */
  private look(phase: ModelPhase, wanted: Wanted, at: number): number {
    let waiting = 0
    this.freeCount = 0
    for (let place = 0; place < this.people.length; place++) {
      const lane = this.people[place] ?? 0
      if (wanted.able[lane] !== 1) continue
      const from = this.fit(lane, at, phase.minutes, 1)
      if (from === at) this.free[this.freeCount++] = lane
      else if (from < never) this.later[waiting++] = from
      if (wanted.alike && this.freeCount === wanted.places) break
    }
    return waiting
  }

  private match(phase: ModelPhase): Int32Array | null {
    return crewFor(phase.slots, this.free.subarray(0, this.freeCount))
  }

  private crewAt(phase: ModelPhase, wanted: Wanted, at: number): Int32Array {
    if (wanted.places === 0) return nobody
    this.look(phase, wanted, at)
    return wanted.alike ? this.free.slice(0, wanted.places) : (this.match(phase) ?? nobody)
  }

  private fit(lane: number, from: number, minutes: number, units: number): number {
    return this.lanes[lane]?.fit(from, minutes, units) ?? never
  }
}

function wantedIn({ slots }: ModelPhase, lanes: number): Wanted {
  const able = new Uint8Array(lanes)
  for (const slot of slots) for (const lane of slot) able[lane] = 1
  const first = slots[0] ?? nobody
  const alike = slots.every((slot) => slot.length === first.length && slot.every((lane, at) => lane === first[at]))
  return { places: slots.length, able, alike }
}

const nobody = new Int32Array(0)
