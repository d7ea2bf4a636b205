import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  jarSizes,
  lookUpProcess,
  type ProcessRow,
  packStyles,
  processMethods,
  processSources,
  processTable,
  refusalReasons,
  type TestedProcess,
} from '../../core/process/index.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'

const citation = z.object({
  document: z.string().describe('Key of `sources`'),
  section: z.string().optional(),
  confidence: z.enum(['seen', 'memory', 'practice']).describe('memory: to be checked in an edition at hand'),
  note: z.string().optional(),
})
const band = z.object({
  fromFt: z.number(),
  toFt: z.number().nullable().describe('Upper edge, included; null: none is printed'),
  minutes: z.number(),
  psi: z.number().nullable(),
})
const row = z.object({
  id: z.string(),
  product: z.string(),
  form: z.string(),
  method: z.enum(processMethods),
  pack: z.enum(packStyles),
  jars: z.array(z.enum(jarSizes)),
  bands: z.array(band),
  headspaceIn: z.number().nullable(),
  acidity: z.enum(['acid', 'acidified', 'low-acid']),
  acid: z.array(z.object({ acid: z.string(), perPint: z.number().nullable(), perQuart: z.number() })),
  sterileJars: z.boolean(),
  asPublished: z.boolean().describe('Holds only for the published recipe'),
  notes: z.array(z.string()),
  source: citation,
})
const tested = z.object({
  answer: z.literal('tested'),
  row,
  band,
  method: z.enum(processMethods),
  pack: z.enum(packStyles),
  jar: z.enum(jarSizes),
  minutes: z.number(),
  psi: z.number().nullable(),
  kPa: z.number().nullable(),
  headspaceIn: z.number().nullable(),
  headspaceMm: z.number().nullable(),
  acid: z.array(z.object({ acid: z.string(), amount: z.number(), unit: z.enum(['tbsp', 'tsp']), ml: z.number() })),
  sterileJars: z.boolean(),
  notes: z.array(z.string()),
  source: citation,
})
const answer = z.discriminatedUnion('answer', [
  tested.extend({ others: z.array(tested).describe('Other tested ways for the same question') }),
  z.object({
    answer: z.literal('refused'),
    reason: z.enum(refusalReasons),
    says: z.string(),
    instead: z.array(z.string()),
    source: citation.nullable(),
  }),
  z.object({ answer: z.literal('unknown'), says: z.string(), instead: z.array(z.string()) }),
])
const sourcesAnswer = z.record(
  z.string(),
  z.object({ document: z.string(), edition: z.string(), publisher: z.string() }),
)

const asked = z.strictObject({
  product: z.string().min(1).max(80),
  form: z.string().max(80).optional(),
  pack: z.string().max(20).optional(),
  jar: z.string().min(1).max(40),
  method: z.string().min(1).max(40),
  gauge: z.string().max(20).optional(),
  altitudeM: z.coerce.number().min(-500).max(9000).optional().describe("Metres; the co-op's own where it is left out"),
})

/** The same as the pages, for programs. */
export const processesApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['processes']

  app.get(
    '/api/processes',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Every row of a published table that is known, with its source',
        response: { 200: z.object({ rows: z.array(row), sources: sourcesAnswer }) },
      },
    },
    async () => ({ rows: processTable().map(rowAnswer), sources: processSources }),
  )

  app.get(
    '/api/processes/look-up',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'The tested process for a product in a jar at an altitude, or why there is none',
        querystring: asked,
        response: { 200: answer },
      },
    },
    async ({ query, asking }) => {
      const found = lookUpProcess({ ...query, altitudeM: query.altitudeM ?? asking.coop.altitudeM })
      if (found.answer === 'tested') return { ...testedAnswer(found), others: found.others.map(testedAnswer) }
      return { ...found, instead: [...found.instead] }
    },
  )
}

/** The core's lists cannot be written to; an answer's can. */
function rowAnswer(found: ProcessRow): z.input<typeof row> {
  return { ...found, jars: [...found.jars], bands: [...found.bands], acid: [...found.acid], notes: [...found.notes] }
}

function testedAnswer({ others: _, ...found }: TestedProcess): z.input<typeof tested> {
  return { ...found, row: rowAnswer(found.row), acid: [...found.acid], notes: [...found.notes] }
}
