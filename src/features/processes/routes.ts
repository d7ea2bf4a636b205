import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { lookUpProcess } from '../../core/process/index.ts'
import { only } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { blankForm, readForm, type Typed } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { processesApi } from './api.ts'
import { askedQuery, lookUpForm } from './forms.ts'
import { lookUpPage, processTablePage } from './pages.ts'
import { processesPath, processTablePath, untestedPath } from './paths.ts'
import { untestedPage } from './untested-page.ts'

/** What is tested: the same for every co-op, shown at this one's altitude. */
export const processesRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  await app.register(processesApi)

  app.get(processesPath(), { ...only(mayLook), schema: { querystring: askedQuery } }, async (request, reply) => {
    const { coop } = request.asking
    const asked = Object.fromEntries(Object.entries(request.query).filter(([, value]) => value !== undefined))
    const typed: Typed = {
      pack: 'any',
      jar: 'pint',
      method: 'boiling-water',
      altitude: formatFor(coop).altitude(coop.altitudeM),
      ...asked,
    }
    if (request.query.product === undefined)
      return reply.page('processes/look-up', lookUpPage(blankForm(typed), coop, null))
    const form = readForm(lookUpForm(coop.units === 'us' ? 'ft' : 'm'), typed)
    if (!form.ok) return reply.page('processes/look-up', lookUpPage(form, coop, null), { status: 422 })
    const { product, jar, method, altitude } = form.values
    const answer = lookUpProcess({
      product,
      form: form.values.form ?? undefined,
      pack: form.values.pack === 'any' ? undefined : form.values.pack,
      jar,
      method,
      altitudeM: altitude,
    })
    return reply.page(
      'processes/look-up',
      lookUpPage(form, coop, { asked: { product, jar, altitudeM: altitude }, answer }),
    )
  })

  app.get(processTablePath(), only(mayLook), async (request, reply) =>
    reply.page('processes/table', processTablePage(request.asking.coop)),
  )
  app.get(untestedPath(), only(mayLook), async (request, reply) =>
    reply.page('processes/untested', untestedPage(request.asking.coop)),
  )
}
