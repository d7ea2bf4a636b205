import { fold } from '../../../core/units/index.ts'
import type { Writing } from '../../changes/index.ts'
import type { Place } from '../../shelf/places/queries.ts'

/** What one line of a table would do, in words. */
export type Step = { line: number; says: string } & (
  | { kind: 'change' }
  /** What it says is so already. */
  | { kind: 'none' }
  /** Why it cannot be brought in, and what to change. */
  | { kind: 'fault' }
)

/** What all lines would do; `write` does it, in as many statements whatever their number. */
export type Steps = { steps: Step[]; write: (writing: Writing) => Promise<void> }

/** Things by how people may write their names, as `fold` makes them alike; of two of one name the first. */
export function byName<T>(things: readonly T[], names: (thing: T) => readonly string[]): ReadonlyMap<string, T> {
  const found = new Map<string, T>()
  for (const thing of things) for (const name of names(thing)) if (!found.has(fold(name))) found.set(fold(name), thing)
  return found
}

export function fault(line: number, says: string): Step {
  return { line, kind: 'fault', says }
}

/** What every line of stock says: how many, where, whose. */
export type Stood = { line: number; units: number; place: Place; household: { id: string; name: string } | null }
