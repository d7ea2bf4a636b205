import { z } from 'zod'
import { phaseParts } from '../../../core/day/index.ts'
import { equipmentKinds, stations } from '../../../core/produce/vocabulary.ts'
import { idText } from '../../../ids.ts'
import { timetableStates } from './queries.ts'

// What the calls for timetables take and answer. Instants are ISO 8601; answers are in UTC.

const instant = z.iso.datetime({ offset: true })
const name = z.string().min(1).max(200)
const machine = z.enum(equipmentKinds)

const edit = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('at'), task: name, at: instant }).describe('A task begins exactly then'),
  z
    .strictObject({ kind: z.literal('not-before'), batch: name, at: instant })
    .describe('Nothing of a batch before then'),
  z.strictObject({ kind: z.literal('by'), task: name, helper: idText }).describe('Somebody is in a task'),
  z.strictObject({ kind: z.literal('break'), helper: idText, from: instant, to: instant }).describe('Somebody is away'),
  z
    .strictObject({ kind: z.literal('out'), machine, count: z.int().min(1).max(1000), from: instant, to: instant })
    .describe('So many machines of a kind cannot be used'),
])
export type ToldEdit = z.output<typeof edit>

export const changeBody = z.strictObject({
  edits: z.array(edit).max(200).describe('All that is to hold, in order: what is left out is taken back'),
})

export const replanBody = z.strictObject({
  now: instant.describe('Nothing that was not begun is put before it'),
  begun: z
    .array(
      z.strictObject({
        task: name,
        start: instant,
        minutes: z.int().min(0).max(10_000).exactOptional().describe('How long it took or will take in all, if known'),
        done: z.boolean(),
      }),
    )
    .max(1000)
    .describe('What was begun; what was told for the timetable gone on from holds until it is told again'),
})

export const newAnswer = z.object({ id: z.string(), number: z.int(), location: z.string() })

export const timetableLine = z.object({
  number: z.int(),
  divisionNumber: z.int(),
  state: z.enum(timetableStates),
  askedBy: z.string(),
  startedAt: z.string().describe('UTC'),
})

const entry = z.object({
  task: z.string(),
  phase: z.int(),
  batch: z.string().nullable().describe('null: for the day as a whole'),
  portion: z.int().nullable(),
  part: z.enum(phaseParts),
  station: z.enum(stations).nullable(),
  units: z.number(),
  from: z.string().describe('UTC'),
  to: z.string().describe('UTC'),
  fromMinute: z.int().describe('Minutes from midnight at the beginning of the first work day, days 1,440 apart'),
  toMinute: z.int(),
  helpers: z.array(z.string()),
  machines: z.array(z.object({ kind: machine, number: z.int() })),
})

export const timetableAnswer = timetableLine.extend({
  id: z.string(),
  planId: z.string(),
  stopAsked: z.boolean(),
  progress: z.string().nullable(),
  failure: z.string().nullable(),
  from: z.int().nullable().describe('Number of the timetable gone on from'),
  edits: z.array(edit).nullable().describe('What is settled by hand; null while there is no answer'),
  answer: z
    .object({
      holds: z.boolean().describe('Everything that is divided is done in its day'),
      moved: z.int().nullable().describe('Tasks that begin more than five minutes earlier or later than they did'),
      batches: z.array(
        z.object({ id: z.string(), recipeId: z.string(), name: z.string(), pack: z.string(), units: z.int() }),
      ),
      entries: z.array(entry),
      helpers: z.array(z.object({ id: z.string(), name: z.string(), workedMinutes: z.int() })),
      machines: z.array(z.object({ kind: machine, number: z.int(), busyMinutes: z.int() })),
      waits: z
        .array(
          z.object({
            batch: z.string(),
            says: z.string().describe('What the recipe says of it'),
            units: z.number(),
            from: z.string().describe('UTC'),
            ready: z.string().describe('UTC: not before then'),
          }),
        )
        .describe('What stands by itself between two steps: jars that cool, a bag that drips'),
      late: z.array(
        z.object({
          task: z.string(),
          batch: z.string().nullable(),
          due: z.string().describe('UTC'),
          end: z.string().nullable().describe('UTC; null: does not fit into the work days'),
          minutes: z.int().nullable(),
        }),
      ),
      short: z.array(z.object({ batch: z.string(), units: z.int(), finished: z.int() })),
      impossible: z.array(z.object({ batch: z.string(), lacks: z.enum(['hands', 'adult', 'machine']) })),
    })
    .nullable(),
})
