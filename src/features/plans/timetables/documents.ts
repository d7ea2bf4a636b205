import { z } from 'zod'
import { phaseParts } from '../../../core/day/index.ts'
import { processMethods } from '../../../core/process/index.ts'
import { ageBands, equipmentKinds, stations, workKinds } from '../../../core/produce/vocabulary.ts'
import type { WorkedOut } from '../../../jobs/timetable.ts'

const id = z.string().min(1)
const minute = z.int()
const text = z.string()
const span = z.object({ from: minute, to: minute })

const phase = z.object({
  minutes: z.int().min(0),
  resources: z.record(z.string(), z.int()).exactOptional(),
  people: z.array(z.object({ skill: id, count: z.int() })).exactOptional(),
})
const activity = z.object({
  id,
  phases: z.array(phase),
  after: z.array(z.object({ id, lag: minute.exactOptional() })).exactOptional(),
  earliest: minute.exactOptional(),
  due: minute.exactOptional(),
  weight: z.number().exactOptional(),
})
const problem = z.object({
  resources: z.array(z.object({ id, capacity: z.int(), calendar: z.array(span).exactOptional() })),
  people: z.array(z.object({ id, skills: z.array(id), calendar: z.array(span).exactOptional() })).exactOptional(),
  activities: z.array(activity),
})
const kitchen = z.object({
  days: z.array(z.object({ id, date: text, midnight: minute, opens: minute, closes: minute })),
  machines: z.array(
    z.looseObject({ kind: z.enum(equipmentKinds), countByDay: z.array(z.int()), aroundTheClock: z.boolean() }),
  ),
  counterPlaces: z.int().nullable(),
  helpers: z.array(
    z.looseObject({
      id,
      name: text,
      ageBand: z.enum(ageBands),
      skills: z.array(z.enum(workKinds)),
      speed: z.number(),
      hours: z.array(span),
    }),
  ),
})
const planned = z.object({
  activity,
  batch: id.nullable(),
  day: z.int(),
  portion: z.int().nullable(),
  inRow: z.boolean(),
  phases: z.array(z.object({ part: z.enum(phaseParts), step: z.int().nullable(), units: z.number() })),
})
const batch = z.object({
  id,
  recipeId: id,
  name: text,
  pack: id,
  unit: text,
  unitsName: text,
  day: z.int(),
  units: z.int(),
  process: z.object({ method: z.enum(processMethods), minutes: z.number() }).nullable(),
})

/** A timetable as it is stored: what was planned and when it is done. */
export const workedOutDocument = z.object({
  plan: z.object({
    kitchen,
    problem,
    activities: z.array(planned),
    batches: z.array(
      z.object({
        batch,
        steps: z.array(
          z.object({
            step: z.object({ station: z.enum(stations), says: text, work: z.enum(workKinds).nullable() }),
          }),
        ),
        portions: z.array(z.int()),
      }),
    ),
    afterwards: z.array(z.object({ batch: id, step: z.int(), units: z.number(), fromMinute: minute })),
    impossible: z.array(z.object({ batch: id, step: z.int(), lacks: z.enum(['hands', 'adult', 'machine']) })),
    beyond: minute,
  }),
  schedule: z.object({
    start: z.record(z.string(), minute),
    people: z.record(z.string(), z.array(z.array(id))),
    makespan: z.number(),
    lowerBound: z.number(),
    lateness: z.number(),
    schedulesTried: z.int(),
  }),
  holds: z.boolean(),
  rounds: z.int(),
  gave: z.array(z.object({ productId: id, before: z.int(), after: z.int() })),
  days: z.array(z.object({ ends: minute.nullable(), bound: minute.nullable() })).exactOptional(),
  moved: z.int().exactOptional(),
})

const machine = z.enum(equipmentKinds)
const edit = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('at'), activity: id, minute }),
  z.object({ kind: z.literal('not-before'), batch: id, minute }),
  z.object({ kind: z.literal('by'), activity: id, helper: id }),
  z.object({ kind: z.literal('break'), helper: id, from: minute, to: minute }),
  z.object({ kind: z.literal('out'), machine, count: z.int(), from: minute, to: minute }),
])
const begun = z.object({ activity: id, start: minute, minutes: z.int().exactOptional(), done: z.boolean() })

/** What a timetable was asked with; nothing is asked of one that is made from a division. */
export const timetableQuestion = z.object({
  /** Number of the timetable gone on from. */
  from: z.int().min(1).nullable().default(null),
  /** Everything settled by hand that holds, in order. */
  edits: z.array(edit).default([]),
  /** How far the day had got, as far as it has begun. */
  progress: z
    .object({ now: minute, begun: z.array(begun) })
    .nullable()
    .default(null),
})
export type TimetableQuestion = z.output<typeof timetableQuestion>

/** Reads a stored question; `{}` asks for nothing. Throws where it is not of the form that this program writes. */
export function readTimetableQuestion(stored: unknown): TimetableQuestion {
  return timetableQuestion.parse(stored)
}

/** Reads a stored timetable; throws where it is not of the form that this program writes. */
export function readWorkedOut(stored: unknown): WorkedOut {
  return workedOutDocument.parse(stored)
}
