import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { canningSyrup, canningSyrupNames, canningSyrupSource } from '../../core/practice/index.ts'
import { acidNeeded, type FoodAcidity, foodAcidity, phLine, phLineSources } from '../../core/process/acidity.ts'
import {
  atmosphereSource,
  boilingPointAt,
  boilingSource,
  kPaPerPsi,
  pressureAt,
  steamTemperature,
} from '../../core/process/atmosphere.ts'
import { gelPoint } from '../../core/process/gel.ts'
import { sterilisingBoil } from '../../core/process/heating.ts'
import { processSources } from '../../core/process/index.ts'
import { only } from '../../web/answers.ts'
import { HIGHEST_ALTITUDE_M, LOWEST_ALTITUDE_M } from '../../web/lengths.ts'
import { mayLook } from '../../web/roles.ts'
import { foodsNamed } from './acidity-page.ts'
import { gaugePressures } from './altitude-page.ts'
import { MOST_JARS, syrupJars } from './forms.ts'

const citation = z.object({
  document: z.string().describe('Key of `sources`'),
  section: z.string().optional(),
  confidence: z.enum(['seen', 'memory', 'practice']).describe('memory: to be checked in an edition at hand'),
  note: z.string().optional(),
})
const sources = z.record(z.string(), z.object({ document: z.string(), edition: z.string(), publisher: z.string() }))
const celsius = z.object({ celsius: z.number(), source: citation })

const altitudeAnswer = z.object({
  altitudeM: z.number(),
  airPressure: z.object({ kPa: z.number(), source: citation }),
  waterBoils: celsius,
  jelly: celsius,
  jam: celsius,
  emptyJars: z.object({ minutes: z.number(), source: citation }),
  steam: z
    .array(z.object({ psi: z.number(), kPa: z.number(), celsius: z.number() }))
    .describe('At the gauge pressures of the tables; information only: times come from the tables'),
  sources,
})

const food = z.object({
  food: z.string(),
  kind: z.enum(['fruit', 'vegetable', 'product']),
  ph: z.object({ low: z.number(), high: z.number() }),
  class: z.enum(['acid', 'borderline', 'low-acid']),
  source: citation,
})
const acidityAnswer = z.object({
  line: z.object({ ph: z.number(), sources: z.array(citation) }),
  foods: z.array(food).describe('Empty: nothing is listed, and nothing may be assumed'),
  acidNeeded: z.array(
    z.object({
      food: z.string(),
      choices: z.array(z.object({ acid: z.string(), perPint: z.number().nullable(), perQuart: z.number() })),
      source: citation,
    }),
  ),
  sources,
})

const syrupsAnswer = z.object({
  jars: z.number(),
  jar: z.enum(syrupJars),
  syrups: z.array(
    z.object({
      name: z.enum(canningSyrupNames),
      cupsWater: z.number(),
      cupsSugar: z.number(),
      mlWater: z.number(),
      gramsSugar: z.number(),
      strength: z.number().describe('Sugar by weight, 0 to 1'),
    }),
  ),
  source: citation,
  sources,
})

/** The same figures for programs. */
export const handbookApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['handbook']

  app.get(
    '/api/handbook/altitude',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Air pressure, boiling water, jelly points and steam at an altitude',
        querystring: z.strictObject({
          altitudeM: z.coerce
            .number()
            .min(LOWEST_ALTITUDE_M)
            .max(HIGHEST_ALTITUDE_M)
            .optional()
            .describe("Metres; the co-op's own where it is left out"),
        }),
        response: { 200: altitudeAnswer },
      },
    },
    async ({ query, asking }) => altitudeFigures(query.altitudeM ?? asking.coop.altitudeM),
  )

  app.get(
    '/api/handbook/acidity',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Published pH ranges, and the crops that need acid in the jar',
        querystring: z.strictObject({ q: z.string().min(1).max(80).optional().describe('A name or a part of one') }),
        response: { 200: acidityAnswer },
      },
    },
    async ({ query }) => ({
      line: { ph: phLine, sources: [...phLineSources] },
      foods: [...(query.q === undefined ? foodAcidity : foodsNamed(query.q))] satisfies FoodAcidity[],
      acidNeeded: acidNeeded.map((one) => ({ ...one, choices: [...one.choices] })),
      sources: processSources,
    }),
  )

  app.get(
    '/api/handbook/syrups',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Canning syrups for a number of jars',
        querystring: z.strictObject({
          jars: z.coerce.number().int().min(1).max(MOST_JARS).default(7),
          jar: z.enum(syrupJars).default('quart'),
        }),
        response: { 200: syrupsAnswer },
      },
    },
    async ({ query: { jars, jar } }) => ({
      jars,
      jar,
      syrups: canningSyrupNames.map((name) => ({ name, ...canningSyrup(name, jar, jars) })),
      source: canningSyrupSource,
      sources: processSources,
    }),
  )
}

function altitudeFigures(altitudeM: number): z.input<typeof altitudeAnswer> {
  const { minutes, source } = sterilisingBoil(altitudeM)
  const jelly = gelPoint('jelly', { altitudeM })
  const jam = gelPoint('jam', { altitudeM })
  return {
    altitudeM,
    airPressure: { kPa: pressureAt(altitudeM), source: atmosphereSource },
    waterBoils: { celsius: boilingPointAt(altitudeM), source: boilingSource },
    jelly: { celsius: jelly.celsius, source: jelly.source },
    jam: { celsius: jam.celsius, source: jam.source },
    emptyJars: { minutes, source },
    steam: gaugePressures().map((psi) => ({
      psi,
      kPa: psi * kPaPerPsi,
      celsius: steamTemperature({ psi }, altitudeM),
    })),
    sources: processSources,
  }
}
