import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { crop, crops, sources, trimKinds } from '../../core/produce/index.ts'
import { containers } from '../../core/units/index.ts'
import { notFound } from '../../errors.ts'
import { only } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { cropPage, cropsPage } from './pages.ts'
import { cropPath, cropsPath } from './paths.ts'

const keyParams = z.object({
  key: z
    .string()
    .regex(/^[a-z]+(-[a-z]+)*$/)
    .max(40),
})

const citation = z.object({
  document: z.string().describe('Key of `sources`'),
  section: z.string().optional(),
  confidence: z.enum(['seen', 'memory', 'practice']).describe('practice: nobody published it'),
  note: z.string().optional(),
})
const figure = z.object({ value: z.number(), source: citation })

const cropAnswer = z.object({
  key: z.string(),
  singular: z.string(),
  plural: z.string(),
  synonyms: z.array(z.string()),
  kind: z.enum(['fruit', 'vegetable']),
  ph: z.object({ low: z.number(), high: z.number(), source: citation }),
  acidity: z.enum(['acid', 'borderline', 'low-acid']),
  acidityNotice: citation.optional(),
  containers: z.array(z.object({ container: z.enum(containers), grams: z.int(), source: citation })),
  pieces: z
    .object({
      perKg: z.object({ small: z.number(), medium: z.number(), large: z.number() }),
      source: citation,
    })
    .nullable(),
  trim: z.object({
    edible: z.number(),
    share: z.number(),
    kind: z.enum(trimKinds),
    how: z.string(),
    source: citation,
  }),
  storageLives: z.array(
    z.object({
      basis: z.enum(['cold-store', 'household', 'ripening']),
      tempC: z.number(),
      days: z.array(z.number()).describe('Low and high'),
      source: citation,
    }),
  ),
  q10: figure,
  chillsBelowC: figure.nullable(),
})
const sourceAnswer = z.object({ document: z.string(), edition: z.string(), publisher: z.string() })

/** What the service knows of each crop, for people and for programs. Nothing of it belongs to a co-op. */
export const cropRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(cropsPath(), only(mayLook), async (request, reply) =>
    reply.page('crops/list', cropsPage(crops, request.asking.coop)),
  )

  app.get(cropPath(':key'), { ...only(mayLook), schema: { params: keyParams } }, async (request, reply) => {
    const found = crop(request.params.key)
    if (found === undefined) throw notFound('such crop')
    return reply.page('crops/crop', cropPage(found, request.asking.coop))
  })

  app.get(
    '/api/crops',
    {
      ...only(mayLook),
      schema: {
        tags: ['crops'],
        summary: 'What is known of each crop, with the source of each figure',
        response: { 200: z.object({ crops: z.array(cropAnswer), sources: z.record(z.string(), sourceAnswer) }) },
      },
    },
    async () => ({ crops: crops.map(asAnswer), sources }),
  )
}

/** The core's lists cannot be written to; an answer's can. */
function asAnswer(found: (typeof crops)[number]): z.input<typeof cropAnswer> {
  return {
    ...found,
    synonyms: [...found.synonyms],
    containers: [...found.containers],
    storageLives: found.storageLives.map((life) => ({ ...life, days: [...life.days] })),
  }
}
