import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { wishKey } from '../../../core/division/index.ts'
import { idParams } from '../../../ids.ts'
import { only, versionOf } from '../../../web/answers.ts'
import { type ReadForm, readForm, type Typed, type TypedForm, typedBody } from '../../../web/forms.ts'
import { mayLook } from '../../../web/roles.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { readPlace } from '../../processes/index.ts'
import { mayPlan } from '../access.ts'
import { askForDivision } from '../actions.ts'
import { outletsForm, readWishes, wishRows } from '../forms.ts'
import { answerAndStart, divisionParams, loadPlan, todayFor } from '../load.ts'
import type { PlanView } from '../pages.ts'
import { divisionPath, divisionSheetPath, divisionsPath, planPath, stopDivisionPath } from '../paths.ts'
import { planPage } from '../plan-pages.ts'
import { changePlan, findPlan, type Plan, type PlanValues } from '../queries.ts'
import { listTimetables } from '../timetables/queries.ts'
import { divisionPage, failedPage, sheetPage, workingPage } from './pages.ts'
import { type Division, findDivision, HEADLINES_OF_A_PLAN, listDivisions, saveStop } from './queries.ts'
import { answeredView } from './view.ts'

export const divisionRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayPlan)

  app.get(divisionsPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
    const { id } = await findPlan(app.prisma, request.asking, request.params.id)
    return reply.redirect(planPath(id), 303)
  })

  // Asks for the next division; what the form has of wishes, budget and outlets is saved with it, the rest stays.
  app.post(divisionsPath(':id'), { ...keep, schema: { params: idParams, body: typedBody } }, async (request, reply) => {
    const view = await loadPlan(request, request.params.id)
    const form = readChange(view, request.body)
    return answerAndStart(request, reply, form, {
      show: (form, status) => showAgain(request, reply, view.plan.id, form, status),
      act: async (transaction, change) => {
        const writing = writingOf(request, transaction)
        const version = versionOf(form)
        const { id } = view.plan
        const changes = Object.keys(change).length > 0
        const asked = changes
          ? (await changePlan(writing, id, version, change, 'changed to be worked out again')).version
          : version
        const division = await askForDivision(writing, id, asked, todayFor(request))
        return { path: divisionPath(id, division.number), division }
      },
    })
  })

  app.get(
    divisionPath(':id', ':number'),
    { ...only(mayLook), schema: { params: divisionParams } },
    async (request, reply) => {
      const { id, number } = request.params
      const division = await findDivision(app.prisma, request.asking, id, number)
      return showDivision(request, reply, division, null, 200)
    },
  )

  app.post(
    stopDivisionPath(':id', ':number'),
    { ...keep, schema: { params: divisionParams } },
    async (request, reply) => {
      const { id, number } = request.params
      let stopped = ''
      const answer = await reply.once(async (transaction) => {
        stopped = (await saveStop(writingOf(request, transaction), id, number)).id
        return divisionPath(id, number)
      })
      if (stopped !== '') app.divisions.stop(stopped)
      return answer
    },
  )

  app.get(
    divisionSheetPath(':id', ':number'),
    { ...only(mayLook), schema: { params: divisionParams } },
    async (request, reply) => {
      const { id, number } = request.params
      const { coop } = request.asking
      const division = await findDivision(app.prisma, request.asking, id, number)
      const view = answeredView(division, coop)
      if (view === null) return reply.redirect(divisionPath(id, number), 303)
      return reply.page('plans/sheet', sheetPage(view, await readPlace(app.prisma, request.asking), coop))
    },
  )
}

type PlanChange = Partial<Pick<PlanValues, 'wishes' | 'budgetMinor' | 'closedOutletIds'>>

/** What the form would change: nothing for a button alone. */
function readChange({ plan, kitchen }: PlanView, typed: Typed): ReadForm<PlanChange> {
  const wishes = readWishes(wishRows(kitchen.recipes), typed)
  const open = kitchen.outlets.filter((outlet) => outlet.open).map(({ id }) => id)
  const limited = typed['budget'] !== undefined
  const limits = readForm(limited ? outletsForm(open) : z.object({}), typed)
  if (!wishes.ok || !limits.ok) return { ok: false, typed, errors: { ...wishes.errors, ...limits.errors } }
  const change: PlanChange = {}
  if (wishes.shown.length > 0) {
    const kept = plan.wishes.filter((wish) => !wishes.shown.includes(wishKey(wish)))
    change.wishes = [...kept, ...wishes.values.wishes]
  }
  if (limited) {
    const { budget, outlets } = outletsForm(open).parse(typed)
    change.budgetMinor = budget
    change.closedOutletIds = open.filter((id) => !outlets.includes(id))
  }
  return { ok: true, typed, errors: {}, values: sameAs(plan, change) ? {} : change }
}

/** A change that changes nothing must not make a new version of the plan. */
function sameAs(plan: Plan, { wishes, budgetMinor, closedOutletIds }: PlanChange): boolean {
  const sorted = (list: Plan['wishes']) =>
    [...list]
      .sort((a, b) => (wishKey(a) < wishKey(b) ? -1 : 1))
      .map(({ recipeId, pack, atLeast, about, atMost, matters }) =>
        [recipeId, pack, atLeast, about, atMost, matters].join(' '),
      )
      .join('\n')
  return (
    (wishes === undefined || sorted(wishes) === sorted(plan.wishes)) &&
    (budgetMinor === undefined || budgetMinor === plan.budgetMinor) &&
    (closedOutletIds === undefined || [...closedOutletIds].sort().join(' ') === plan.closedOutletIds.join(' '))
  )
}

/** The page that has the form: the division it was sent from, else the plan's own. */
async function showAgain(
  request: FastifyRequest,
  reply: FastifyReply,
  planId: string,
  form: TypedForm,
  status: number,
): Promise<FastifyReply> {
  const { prisma } = request.server
  const from = form.typed['from']
  if (typeof from === 'string' && /^[1-9]\d{0,5}$/.test(from)) {
    const division = await findDivision(prisma, request.asking, planId, Number(from))
    if (division.answer !== null) return showDivision(request, reply, division, form, status)
  }
  const view = await loadPlan(request, planId, status === 409 ? undefined : versionOf(form))
  const divisions = await listDivisions(prisma, request.asking, [planId], HEADLINES_OF_A_PLAN)
  return reply.page('plans/plan', planPage(view, divisions, request.asking.coop, form), { status })
}

async function showDivision(
  request: FastifyRequest,
  reply: FastifyReply,
  division: Division,
  form: TypedForm | null,
  status: number,
): Promise<FastifyReply> {
  const { prisma, clock, settings } = request.server
  const { coop } = request.asking
  const foot = await lastChange(request, 'plan', division.planId)
  if (division.state === 'failed') return reply.page('plans/failed', { ...failedPage(division), ...foot }, { status })
  const answered = answeredView(division, coop)
  if (answered === null) {
    const page = workingPage(division, clock.now(), settings.solveSeconds, coop)
    return reply.page('plans/working', { ...page, ...foot }, { status })
  }
  const view = await loadPlan(request, division.planId, form !== null && status !== 409 ? versionOf(form) : undefined)
  const [newest] = await listDivisions(prisma, request.asking, [division.planId], 0)
  const timetables = await listTimetables(prisma, request.asking, division.planId)
  const others = { newest: newest?.number ?? division.number, now: clock.now(), timetables }
  return reply.page('plans/division', { ...divisionPage(answered, view, others, coop, form), ...foot }, { status })
}
