import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { methods } from '../../core/produce/vocabulary.ts'
import { ingredientKinds, scaleRecipe, shoppingFor, verdictOn } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { only, refuseProblems } from '../../web/answers.ts'
import { mayLook } from '../../web/roles.ts'
import { readPlace } from '../processes/index.ts'
import { listSupplies } from '../supplies/queries.ts'
import { amountsQuery, readAmountsAsked } from './amounts.ts'
import { recipeDocumentTold } from './document.ts'
import { findRecipe, findRecipeVersion, listRecipeVersions } from './queries.ts'
import { answerOf, verdictAnswer } from './verdict-answer.ts'
import { versionParams } from './version-routes.ts'

const inKitchen = z.object({ exact: z.number(), amount: z.number(), words: z.string() })
const amountsAnswer = z.object({
  pack: z.string(),
  units: z.int(),
  usedGrams: z.number(),
  leftGrams: z.number(),
  loads: z.array(z.object({ name: z.string(), many: z.int(), unitsPerRun: z.int(), lastHolds: z.int() })),
  inputs: z.array(
    z.object({
      from: z.union([z.object({ crop: z.string() }), z.object({ material: z.string() })]),
      leastGrams: z.number(),
      mostGrams: z.number(),
    }),
  ),
  ingredients: z
    .array(
      z.object({
        supply: z.string(),
        name: z.string(),
        kind: z.enum(ingredientKinds),
        unit: z.enum(['g', 'ml', 'piece']),
        exact: z.number(),
        amount: z.number().describe('As it is measured out; acid is never below the exact amount'),
        words: z.string(),
        eachUnit: inKitchen.nullable(),
        together: inKitchen.nullable(),
      }),
    )
    .describe('Amounts in the unit of each'),
  putUpIn: z.record(z.string(), z.number()),
  supplies: z.record(z.string(), z.number()),
  shopping: z.array(
    z.object({
      key: z.string(),
      name: z.string(),
      unit: z.string(),
      need: z.number(),
      onHand: z.number(),
      toBuy: z.number(),
      packs: z.int(),
      costMinor: z.number(),
      short: z.number().describe('Missing even when all packs that can be had are bought'),
    }),
  ),
})

const note = z.object({
  version: z.int(),
  name: z.string(),
  method: z.enum(methods),
  changedBy: z.string(),
  at: z.iso.datetime(),
})

/** What follows from a recipe, for programs: its standing, its amounts, what it was before. */
export const verdictApi: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const tags = ['recipes']

  app.get(
    '/api/recipes/:id/verdict',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'Whether a recipe follows a tested process in this kitchen, for each of its packs',
        params: idParams,
        response: { 200: verdictAnswer },
      },
    },
    async ({ asking, params }) => {
      const recipe = await findRecipe(app.prisma, asking, params.id)
      return answerOf(verdictOn(recipe, await readPlace(app.prisma, asking)))
    },
  )

  app.get(
    '/api/recipes/:id/amounts',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'How much of everything, and what to buy; for one load of the first pack where nothing is asked',
        params: idParams,
        querystring: amountsQuery,
        response: { 200: amountsAnswer },
      },
    },
    async ({ asking, params, query }) => {
      const { definition } = await findRecipe(app.prisma, asking, params.id)
      const asked = readAmountsAsked(definition, query)
      if (!asked.ok) {
        refuseProblems({ ...asked.form.errors })
        throw new Error('an amount was refused without words')
      }
      const scaled = scaleRecipe(definition, asked.pack, asked.by, asking.coop.units)
      return { ...scaled, shopping: shoppingFor([scaled.supplies], await listSupplies(app.prisma, asking)) }
    },
  )

  app.get(
    '/api/recipes/:id/versions',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'All versions of a recipe, the one in force first',
        params: idParams,
        response: { 200: z.object({ versions: z.array(note) }) },
      },
    },
    async ({ asking, params }) => {
      const versions = await listRecipeVersions(app.prisma, asking, params.id)
      return { versions: versions.map((one) => ({ ...one, at: one.at.toISOString() })) }
    },
  )

  app.get(
    '/api/recipes/:id/versions/:version',
    {
      ...only(mayLook),
      schema: {
        tags,
        summary: 'A recipe as it stood at one version',
        params: versionParams,
        response: { 200: note.extend({ id: z.string(), definition: recipeDocumentTold }) },
      },
    },
    async ({ asking, params }) => {
      const found = await findRecipeVersion(app.prisma, asking, params.id, params.version)
      return { ...found, at: found.at.toISOString() }
    },
  )
}
