import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { verdictOn } from '../../core/recipes/index.ts'
import { idParams } from '../../ids.ts'
import { only } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { mayLook } from '../../web/roles.ts'
import { readPlace } from '../processes/index.ts'
import { readNames } from './choices.ts'
import { recipeParts } from './pages.ts'
import { recipePath, recipeVersionPath, recipeVersionsPath } from './paths.ts'
import { findRecipe, findRecipeVersion, listRecipeVersions } from './queries.ts'

/** Which version of which recipe. */
export const versionParams = idParams.extend({ version: z.coerce.number().int().min(1).max(1_000_000) })

/** A recipe as it stood: batches keep the version they were made with. */
export const versionRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(recipeVersionsPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
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

  app.get(
    recipeVersionPath(':id', ':version'),
    { ...only(mayLook), schema: { params: versionParams } },
    async (request, reply) => {
      const { asking } = request
      const { id, version } = request.params
      const now = await findRecipe(app.prisma, asking, id)
      const then = await findRecipeVersion(app.prisma, asking, id, version)
      const verdict = verdictOn(then, await readPlace(app.prisma, asking))
      return reply.page('recipes/version', {
        ...recipeParts(then, await readNames(app, asking), verdict, asking.coop),
        old: `Version ${version}, made by ${then.changedBy} on ${formatFor(asking.coop).instant(then.at)}.`,
        now: now.version === version ? 'It is in force.' : `Version ${now.version} is in force.`,
        versions: recipeVersionsPath(id),
        back: recipePath(id),
      })
    },
  )
}
