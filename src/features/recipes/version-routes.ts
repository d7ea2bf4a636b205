import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { verdictOn } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { formatFor } from '../../web/format.ts'
import { readPlace } from '../processes/index.ts'
import { readNames } from './choices.ts'
import { recipePage } from './pages.ts'
import { recipePath, recipeVersionPath, recipeVersionsPath } from './paths.ts'
import { findRecipe, findRecipeVersion, listRecipeVersions } from './queries.ts'

const versionParams = idParams.extend({ version: z.coerce.number().int().min(1).max(1_000_000) })

/** A recipe as it stood: batches keep the version they were made with. */
export const versionRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(recipeVersionsPath(':id'), { schema: { params: idParams } }, async (request, reply) => {
    const { asking } = request
    const { id } = request.params
    const recipe = await findRecipe(app.prisma, asking, id)
    const versions = await listRecipeVersions(app.prisma, asking, id)
    const format = formatFor(asking.coop)
    return reply.page('recipes/versions', {
      title: `${recipe.name}: versions`,
      place: 'coop' as const,
      versions: versions.map(({ version, name, changedBy, at }) => ({
        href: version === recipe.version ? recipePath(id) : recipeVersionPath(id, version),
        name: `Version ${version}${version === recipe.version ? ', in force' : ''}`,
        says: `${name}, by ${changedBy}, ${format.instant(at)}`,
      })),
      back: recipePath(id),
    })
  })

  app.get(recipeVersionPath(':id', ':version'), { schema: { params: versionParams } }, async (request, reply) => {
    const { asking } = request
    const { id, version } = request.params
    const now = await findRecipe(app.prisma, asking, id)
    const then = await findRecipeVersion(app.prisma, asking, id, version)
    const recipe = { ...then, version, retired: now.retired }
    const verdict = verdictOn(recipe, await readPlace(app.prisma, asking))
    const page = recipePage(recipe, await readNames(app, asking), verdict, asking.coop)
    const format = formatFor(asking.coop)
    return reply.page('recipes/show', {
      ...page,
      old: `Version ${version} as ${then.changedBy} left it, ${format.instant(then.at)}. Version ${now.version} is in force.`,
    })
  })
}
