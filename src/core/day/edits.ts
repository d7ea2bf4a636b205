import type { EquipmentKind } from '../produce/vocabulary.ts'

/** What people settle by hand in a timetable; minutes are on the kitchen's axis. */
export type Edit =
  /** A task begins exactly then. */
  | { kind: 'at'; activity: string; minute: number }
  /** Nothing of a batch begins before then. */
  | { kind: 'not-before'; batch: string; minute: number }
  /** Somebody by name is in a task. */
  | { kind: 'by'; activity: string; helper: string }
  /** A helper is away. */
  | { kind: 'break'; helper: string; from: number; to: number }
  /** So many machines of a kind cannot be used. */
  | { kind: 'out'; machine: EquipmentKind; count: number; from: number; to: number }
