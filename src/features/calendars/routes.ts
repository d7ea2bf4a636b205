import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { idParams } from '../../ids.ts'
import { answerForm, only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../web/forms.ts'
import { removalPage } from '../../web/removal.ts'
import { mayLook } from '../../web/roles.ts'
import { hashOfSecret, type NewSecret, randomSecret } from '../../web/sessions/secrets.ts'
import { forgetTold, tellAt, toldAt } from '../../web/told-once.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { listHelpers } from '../helpers/index.ts'
import { mayKeepCalendars } from './access.ts'
import { calendarsApi } from './api.ts'
import { type CalendarEntries, noEntries } from './entries.ts'
import { feedText } from './feed.ts'
import { calendarForm } from './forms.ts'
import { calendarPage, calendarsPage, whoseWords } from './pages.ts'
import { calendarPath, calendarRemovalPath, calendarsPath, feedPath } from './paths.ts'
import { addCalendar, findCalendar, findFeed, isHashOf, listCalendars, noteReading, revokeCalendar } from './queries.ts'

export type CalendarsOptions = { entries?: CalendarEntries; newSecret?: NewSecret }

/** @param options what stands in calendars (none where not given), and how secrets are made (by chance) */
export const calendarsRoutes: FastifyPluginAsync<CalendarsOptions> = async (plain, options) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const { entries = noEntries, newSecret = randomSecret } = options
  const keep = only(mayKeepCalendars)
  await app.register(calendarsApi)

  const pageOf = async (asking: Asking, form: TypedForm) =>
    calendarsPage(await listCalendars(app.prisma, asking), await listHelpers(app.prisma, asking), form, asking.coop)

  app.get(calendarsPath(), only(mayLook), async (request, reply) => {
    const page = await pageOf(request.asking, blankForm())
    return reply.page('calendars/list', { ...page, ...(await lastChange(request, 'calendars')) })
  })

  app.post(calendarsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const helpers = await listHelpers(app.prisma, request.asking)
    return answerForm(reply, readForm(calendarForm(helpers.map(({ id }) => id)), request.body), {
      show: async (form, status) => reply.page('calendars/list', await pageOf(request.asking, form), { status }),
      act: async (transaction, { helperId }) => {
        const secret = newSecret()
        const { id } = await addCalendar(writingOf(request, transaction), {
          helperId,
          secretHash: hashOfSecret(secret),
        })
        // not set again when the same form is sent twice: then nothing was made anew
        tellAt(reply, calendarPath(id), secret)
        return calendarPath(id)
      },
    })
  })

  app.get(calendarPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id } = request.params
    const link = await findCalendar(app.prisma, request.asking, id)
    const secret = toldAt(request)
    const isNew = link.revokedAt === null && (await isHashOf(app.prisma, request.asking, id, hashOfSecret(secret)))
    // the host name that was checked (asking.ts), not what a proxy may pass on from anybody
    const address = isNew ? `${request.protocol}://${request.headers.host}${feedPath(secret)}.ics` : null
    forgetTold(request, reply, calendarPath(id))
    return reply.page('calendars/one', calendarPage(link, address, request.asking.coop))
  })

  app.get(calendarRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
    const { id, helperName } = await findCalendar(app.prisma, request.asking, request.params.id)
    const page = {
      goes: ['Calendar programs that read this address find nothing there from then on.'],
      action: calendarRemovalPath(id),
      back: { href: calendarPath(id), text: 'Keep it' },
    }
    return reply.page('coop/removal', removalPage(`the calendar of ${whoseWords(helperName)}`, page))
  })

  app.post(calendarRemovalPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) =>
    reply.once(async (transaction) => {
      await revokeCalendar(writingOf(request, transaction), request.params.id)
      return calendarsPath()
    }),
  )

  app.get(
    feedPath(':secret'),
    // any text is looked up, so that what cannot be a secret is answered as one that never was
    { config: { open: true }, schema: { params: z.object({ secret: z.string() }) } },
    async (request, reply) => {
      const secretHash = hashOfSecret(request.params.secret.replace(/\.ics$/, ''))
      const feed = await findFeed(app.prisma, secretHash)
      const text = feedText(feed, await entries(app.prisma, feed.coop.id, feed.helperId))
      await noteReading(app.prisma, secretHash, app.clock.now())
      return reply.header('cache-control', 'private, no-store').type('text/calendar; charset=utf-8').send(text)
    },
  )
}
