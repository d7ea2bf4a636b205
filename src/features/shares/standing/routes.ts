import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { todayIn } from '../../../clock.ts'
import { only } from '../../../web/answers.ts'
import { date } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange } from '../../changes/index.ts'
import { sharesPath } from '../paths.ts'
import { listShareOuts } from '../proposals/queries.ts'
import { SHARE_OUTS_PER_PAGE, sharesPage } from './pages.ts'
import { standingNow } from './standing.ts'

const query = z.object({
  since: z.string().max(20).default(''),
  before: z.coerce.number().int().min(1).max(2_147_483_647).optional(),
})

export const standingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  app.get(sharesPath(), { ...only(mayLook), schema: { querystring: query } }, async (request, reply) => {
    const { asking } = request
    const { since, before } = request.query
    const today = todayIn(app.clock, asking.coop.timeZone)
    const read = since.trim() === '' ? undefined : date('Enter a date, like 2026-09-01').safeParse(since)
    const late = read?.success === true && read.data > today
    const wrongSince = late ? 'Enter today or a day before' : (read?.error?.issues[0]?.message ?? '')
    const standing = await standingNow(app.prisma, asking, today, late ? undefined : read?.data)
    const shareOuts = await listShareOuts(app.prisma, asking, SHARE_OUTS_PER_PAGE + 1, before)
    const page = sharesPage(standing, { shareOuts, since: since.trim(), wrongSince }, asking.coop)
    return reply.page(
      'shares/list',
      { ...page, ...(await lastChange(request, 'shares')) },
      { status: wrongSince === '' ? 200 : 422 },
    )
  })
}
