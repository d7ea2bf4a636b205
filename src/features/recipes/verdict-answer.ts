import { z } from 'zod'
import { jarSizes, packStyles, processMethods } from '../../core/process/index.ts'
import { methods } from '../../core/produce/vocabulary.ts'
import { departureKinds, type PackVerdict, type RecipeVerdict, standings } from '../../core/recipes/index.ts'

const citation = z.object({
  document: z.string().describe('Key of `sources` in /api/processes'),
  section: z.string().optional(),
  confidence: z.enum(['seen', 'memory', 'practice']).describe('memory: to be checked in an edition at hand'),
  note: z.string().optional(),
})
const process = z.object({
  row: z.string().describe('Id of a row of /api/processes'),
  method: z.enum(processMethods),
  pack: z.enum(packStyles),
  jar: z.enum(jarSizes),
  minutes: z.number(),
  psi: z.number().nullable(),
  kPa: z.number().nullable(),
  headspaceIn: z.number().nullable(),
  headspaceMm: z.number().nullable(),
  acid: z
    .array(z.object({ acid: z.string(), amount: z.number(), unit: z.enum(['tbsp', 'tsp']), ml: z.number() }))
    .describe('Any one of them, in each jar'),
  sterileJars: z.boolean(),
  notes: z.array(z.string()),
  source: citation,
})
const local = z.object({
  id: z.string(),
  product: z.string(),
  method: z.enum(processMethods),
  minutes: z.number(),
  kPa: z.number().nullable(),
  headspaceMm: z.number(),
  acid: z.string(),
  source: z.string(),
  notedBy: z.string(),
  notedOn: z.string(),
})

export const verdictAnswer = z.object({
  standing: z.enum(standings).describe('The best that any pack reaches'),
  packs: z.array(
    z.object({
      pack: z.string(),
      standing: z.enum(standings),
      shelfStable: z.boolean().describe('May stand on a shelf; everything else is kept cold'),
      process: process.nullable().describe('null where it does not follow one'),
      local: local.nullable().describe("A process that the co-op noted itself, followed in the table's place"),
      departures: z.array(
        z.object({
          kind: z.enum(departureKinds),
          says: z.string(),
          at: z.string().describe('Where in the definition; empty: the kitchen'),
          source: citation.nullable(),
        }),
      ),
    }),
  ),
  instead: z.array(z.enum(methods)).describe('How else it can be kept'),
})

/** A verdict as it is told to programs: times stand beside packs alone that follow a process. */
export function answerOf({ standing, packs, instead }: RecipeVerdict): z.input<typeof verdictAnswer> {
  return { standing, packs: packs.map(packAnswer), instead }
}

function packAnswer(verdict: PackVerdict): z.input<typeof verdictAnswer>['packs'][number] {
  const { pack, standing, shelfStable, process: tested, local: noted, departures } = verdict
  return {
    pack,
    standing,
    shelfStable,
    process:
      tested === null || standing !== 'tested'
        ? null
        : { ...tested, row: tested.row.id, acid: [...tested.acid], notes: [...tested.notes] },
    local: noted === null || standing !== 'local' ? null : { ...noted },
    departures,
  }
}
