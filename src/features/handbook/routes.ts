import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { only } from '../../web/answers.ts'
import { blankForm, readForm } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { listEquipment } from '../equipment/queries.ts'
import { acidityPage } from './acidity-page.ts'
import { altitudePage } from './altitude-page.ts'
import { handbookApi } from './api.ts'
import { differPage } from './differ-page.ts'
import { dryingPage } from './drying-page.ts'
import { fermentsPage } from './ferments-page.ts'
import { acidityForm, altitudeForm, askedFor, fermentsForm, jarsForm, syrupsForm, typedOf } from './forms.ts'
import { freezingPage } from './freezing-page.ts'
import { jarsTopic } from './jars-page.ts'
import { handbookPage } from './list-page.ts'
import {
  acidityPath,
  altitudePath,
  differPath,
  dryingPath,
  fermentsPath,
  freezingPath,
  handbookPath,
  jarsPath,
  spreadsPath,
  syrupsPath,
} from './paths.ts'
import { spreadsPage } from './spreads-page.ts'
import { syrupsPage } from './syrups-page.ts'

const topic = 'handbook/topic'
const refused = { status: 422 } as const

/** Figures to look up: the same for every co-op, shown at this one's altitude and in the units it reads. */
export const handbookRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  await app.register(handbookApi)

  app.get(handbookPath(), only(mayLook), async ({ asking }, reply) =>
    reply.page('handbook/list', handbookPage(asking.coop)),
  )
  app.get(spreadsPath(), only(mayLook), async ({ asking }, reply) => reply.page(topic, spreadsPage(asking.coop)))
  app.get(dryingPath(), only(mayLook), async ({ asking }, reply) => reply.page(topic, dryingPage(asking.coop)))
  app.get(differPath(), only(mayLook), async ({ asking }, reply) => reply.page(topic, differPage(asking.coop)))

  app.get(freezingPath(), only(mayLook), async ({ asking }, reply) => {
    const equipment = await listEquipment(app.prisma, asking)
    const freezers = equipment.filter(({ kind }) => kind === 'freezer')
    return reply.page(topic, freezingPage(freezers, asking.coop))
  })

  app.get(
    altitudePath(),
    { ...only(mayLook), schema: { querystring: askedFor('altitude') } },
    async ({ query, asking }, reply) => {
      const typed = typedOf(query)
      if (typed['altitude'] === undefined) return reply.page(topic, altitudePage(blankForm(), asking.coop, null))
      const form = readForm(altitudeForm(asking.coop.units), typed)
      if (!form.ok) return reply.page(topic, altitudePage(form, asking.coop, null), refused)
      return reply.page(topic, altitudePage(form, asking.coop, form.values.altitude))
    },
  )

  app.get(
    acidityPath(),
    { ...only(mayLook), schema: { querystring: askedFor('q') } },
    async ({ query, asking }, reply) => {
      const form = readForm(acidityForm, typedOf(query))
      if (!form.ok) return reply.page(topic, acidityPage(form, asking.coop, null), refused)
      return reply.page(topic, acidityPage(form, asking.coop, form.values.q))
    },
  )

  app.get(
    syrupsPath(),
    { ...only(mayLook), schema: { querystring: askedFor('jars', 'jar') } },
    async ({ query, asking }, reply) => {
      const typed = { jar: 'quart', ...typedOf(query) }
      if (query['jars'] === undefined) return reply.page(topic, syrupsPage(blankForm(typed), asking.coop, null))
      const form = readForm(syrupsForm, typed)
      if (!form.ok) return reply.page(topic, syrupsPage(form, asking.coop, null), refused)
      return reply.page(topic, syrupsPage(form, asking.coop, form.values))
    },
  )

  app.get(
    jarsPath(),
    { ...only(mayLook), schema: { querystring: askedFor('width', 'height') } },
    async ({ query, asking }, reply) => {
      const typed = typedOf(query)
      if (Object.keys(typed).length === 0) return reply.page(topic, jarsTopic(blankForm(), asking.coop, null))
      const form = readForm(jarsForm(asking.coop.units), typed)
      if (!form.ok) return reply.page(topic, jarsTopic(form, asking.coop, null), refused)
      const kettle = { insideWidthMm: form.values.width, insideHeightMm: form.values.height }
      return reply.page(topic, jarsTopic(form, asking.coop, kettle))
    },
  )

  app.get(
    fermentsPath(),
    { ...only(mayLook), schema: { querystring: askedFor('cabbage', 'brix', 'sugar', 'measured') } },
    async ({ query, asking }, reply) => {
      const form = readForm(fermentsForm, typedOf(query))
      if (!form.ok) return reply.page(topic, fermentsPage(form, asking.coop, null), refused)
      return reply.page(topic, fermentsPage(form, asking.coop, form.values))
    },
  )
}
