import { z } from 'zod'
import type { BatchProblem, DueProcess, Judged } from '../../core/batches/index.ts'
import { packStyles, processMethods } from '../../core/process/index.ts'
import { type SealCheck, unsealedJarsWent } from '../../core/process/record.ts'
import { acidText, sourceText } from '../processes/index.ts'
import type { ProcessGiven } from './batch.ts'

const instant = z.union([z.string(), z.number()])

/** The process record as it is stored with its batch: what was noted, what was due then, and what differs. */
export const processDocument = z.object({
  method: z.enum(processMethods),
  canner: z.string(),
  pack: z.enum(packStyles).nullable(),
  altitudeM: z.number(),
  jarsIn: z.int(),
  reachedAt: z.string().nullable(),
  endedAt: z.string().nullable(),
  interruptions: z.array(z.object({ lostAt: instant, reachedAgainAt: instant.nullable() })),
  ventedMinutes: z.number().nullable(),
  lowestKPa: z.number().nullable(),
  headspaceMm: z.number().nullable(),
  acidAdded: z.boolean(),
  by: z.array(z.string()),
  seals: z
    .object({
      checkedAt: instant,
      by: z.string(),
      sealed: z.int(),
      broken: z.int(),
      notSealed: z.array(z.object({ jars: z.int(), went: z.enum(unsealedJarsWent), at: instant })),
    })
    .nullable()
    .describe('null: nobody had tried the seals'),
  due: z
    .object({
      kind: z.enum(['row', 'local']),
      id: z.string(),
      minutes: z.number(),
      kPa: z.number().nullable(),
      headspaceMm: z.number().nullable(),
      acid: z.string(),
      source: z.string(),
    })
    .nullable()
    .describe('The process that it was held against; null: none is tested'),
  problems: z.array(z.object({ kind: z.string(), at: z.string(), says: z.string() })),
  shelfStable: z.boolean(),
})
export type StoredProcess = z.output<typeof processDocument>

/** What is stored of a process that was judged. */
export function processStored(
  given: ProcessGiven,
  judged: Judged,
  facts: { seals: SealCheck | null; jarsIn: number; altitudeM: number; pack: StoredProcess['pack'] },
): StoredProcess {
  const { sealsCheckedAt: _, ...noted } = given
  return {
    ...noted,
    jarsIn: facts.jarsIn,
    altitudeM: facts.altitudeM,
    pack: facts.pack,
    seals: facts.seals === null ? null : { ...facts.seals, notSealed: [...facts.seals.notSealed] },
    due: judged.due === null ? null : dueStored(judged.due),
    problems: judged.problems.map(({ kind, at, says }: BatchProblem) => ({ kind, at, says })),
    shelfStable: judged.shelfStable,
  }
}

function dueStored(due: DueProcess): NonNullable<StoredProcess['due']> {
  if ('local' in due) {
    const { id, minutes, kPa, headspaceMm, acid, source } = due.local
    return { kind: 'local', id, minutes, kPa, headspaceMm, acid, source }
  }
  const { row, minutes, kPa, headspaceMm, acid, source } = due.tested
  return { kind: 'row', id: row.id, minutes, kPa, headspaceMm, acid: acidText(acid), source: sourceText(source) }
}
