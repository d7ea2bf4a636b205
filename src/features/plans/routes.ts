import plugin from 'fastify-plugin'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { proposeWishes } from '../../core/division/index.ts'
import { idParams, idText } from '../../ids.ts'
import { answerForm, only, versionOf } from '../../web/answers.ts'
import { formatFor } from '../../web/format.ts'
import { blankForm, type ReadForm, readForm, typedBody } from '../../web/forms.ts'
import { mayLook } from '../../web/roles.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { mayPlan } from './access.ts'
import { askForDivision } from './actions.ts'
import { plansApi } from './api.ts'
import { compareRoutes } from './compare/routes.ts'
import { HEADLINES_OF_A_PLAN, listDivisions } from './divisions/queries.ts'
import { divisionRoutes } from './divisions/routes.ts'
import { divisionRunner } from './divisions/run.ts'
import { daysForm, lotsForm, outletsForm, outletsTyped, readWishes, wishesTyped } from './forms.ts'
import { readKitchen } from './kitchen/queries.ts'
import { answerAndStart, loadPlan, todayFor } from './load.ts'
import { daysPage, lotsPage, offeredRows, outletsPage, type PlanView, wishesPage } from './pages.ts'
import {
  divisionPath,
  newPlanPath,
  planDaysPath,
  planLotsPath,
  planOutletsPath,
  planPath,
  plansPath,
  planWishesPath,
} from './paths.ts'
import { planPage, plansPage } from './plan-pages.ts'
import { addPlan, changePlan, listPlans, plansOfLots } from './queries.ts'
import { openQuestion } from './question.ts'
import { timetablesApi } from './timetables/api.ts'
import { timetableRoutes } from './timetables/routes.ts'
import { timetableRunner } from './timetables/run.ts'

/** Days so near are ticked beforehand in a plan that has none. */
const NEAR_DAYS = 7
const DAY_MS = 86_400_000

/** Plans: four steps, divisions, comparing. Not encapsulated, so that the whole app has `app.divisions`. */
export const planRoutes = plugin(
  async (plain) => {
    const app = plain.withTypeProvider<ZodTypeProvider>()
    const keep = only(mayPlan)
    await app.register(divisionRunner)
    await app.register(timetableRunner)
    await app.register(plansApi)
    await app.register(divisionRoutes)
    await app.register(compareRoutes)
    await app.register(timetableRoutes)
    await app.register(timetablesApi)

    app.get(
      plansPath(),
      {
        ...only(mayLook),
        schema: { querystring: z.object({ page: z.coerce.number().int().min(1).max(10_000).default(1) }) },
      },
      async (request, reply) => {
        const { page } = request.query
        const { plans, more } = await listPlans(app.prisma, request.asking, page)
        const ids = plans.map(({ id }) => id)
        const divisions = await listDivisions(app.prisma, request.asking, ids, 1)
        const kitchen = await readKitchen(app.prisma, request.asking, { today: todayFor(request) })
        const shown = plansPage(plans, divisions, kitchen, { page, more }, request.asking.coop)
        return reply.page('plans/list', { ...shown, ...(await lastChange(request, 'plan')) })
      },
    )

    // what: the first step, of a new plan and of one that is there

    app.get(
      newPlanPath(),
      { ...keep, schema: { querystring: z.object({ lot: idText.optional() }) } },
      async (request, reply) => {
        const { lot } = request.query
        const kitchen = await readKitchen(app.prisma, request.asking, { today: todayFor(request) })
        const elsewhere = await plansOfLots(app.prisma, request.asking)
        const free = kitchen.lots
          .filter(({ id, sorting }) => sorting !== null && !elsewhere.has(id))
          .map(({ id }) => id)
        const name = `Week of ${formatFor(request.asking.coop).day(todayFor(request))}`
        const form = blankForm({ name, lots: lot === undefined ? free : [lot] })
        return reply.page('plans/lots', lotsPage(form, kitchen, null, elsewhere, request.asking.coop))
      },
    )

    app.post(plansPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
      const kitchen = await readKitchen(app.prisma, request.asking, { today: todayFor(request) })
      return answerForm(reply, readForm(lotsForm(kitchen.lots.map(({ id }) => id)), request.body), {
        show: async (form, status) => {
          const elsewhere = await plansOfLots(app.prisma, request.asking)
          return reply.page('plans/lots', lotsPage(form, kitchen, null, elsewhere, request.asking.coop), { status })
        },
        act: async (transaction, { name, lots }) => {
          const values = { name, lotIds: lots, dayIds: [], wishes: [], budgetMinor: null, closedOutletIds: [] }
          const { id } = await addPlan(writingOf(request, transaction), values)
          return planDaysPath(id)
        },
      })
    })

    app.get(planPath(':id'), { ...only(mayLook), schema: { params: idParams } }, async (request, reply) => {
      const view = await loadPlan(request, request.params.id)
      const divisions = await listDivisions(app.prisma, request.asking, [view.plan.id], HEADLINES_OF_A_PLAN)
      const page = planPage(view, divisions, request.asking.coop)
      return reply.page('plans/plan', { ...page, ...(await lastChange(request, 'plan', view.plan.id)) })
    })

    app.get(planLotsPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
      const view = await loadPlan(request, request.params.id)
      const form = blankForm({ name: view.plan.name, lots: view.plan.lotIds })
      const elsewhere = await plansOfLots(app.prisma, request.asking)
      return reply.page('plans/lots', lotsPage(form, view.kitchen, view, elsewhere, request.asking.coop))
    })

    app.post(
      planLotsPath(':id'),
      { ...keep, schema: { params: idParams, body: typedBody } },
      async (request, reply) => {
        const view = await loadPlan(request, request.params.id)
        const form = readForm(lotsForm(view.kitchen.lots.map(({ id }) => id)), request.body)
        return answerForm(reply, form, {
          show: async (form, status) => {
            const shown = await reloaded(view, status, versionOf(form), () => loadPlan(request, view.plan.id))
            const elsewhere = await plansOfLots(app.prisma, request.asking)
            const page = lotsPage(form, shown.kitchen, shown, elsewhere, request.asking.coop)
            return reply.page('plans/lots', page, { status })
          },
          act: async (transaction, { name, lots }) => {
            const change = { name, lotIds: lots }
            await changePlan(writingOf(request, transaction), view.plan.id, versionOf(form), change, 'lots chosen')
            return planDaysPath(view.plan.id)
          },
        })
      },
    )

    // when and with whom

    app.get(planDaysPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
      const view = await loadPlan(request, request.params.id)
      const near = new Date(Date.parse(todayFor(request)) + NEAR_DAYS * DAY_MS).toISOString().slice(0, 10)
      const soon = view.kitchen.days.filter(({ date }) => date >= todayFor(request) && date <= near).map(({ id }) => id)
      const form = blankForm({ days: view.plan.dayIds.length > 0 ? view.plan.dayIds : soon })
      return reply.page('plans/days', daysPage(form, view, todayFor(request), request.asking.coop))
    })

    app.post(
      planDaysPath(':id'),
      { ...keep, schema: { params: idParams, body: typedBody } },
      async (request, reply) => {
        const view = await loadPlan(request, request.params.id)
        const form = readForm(daysForm(view.kitchen.days.map(({ id }) => id)), request.body)
        return answerForm(reply, form, {
          show: async (form, status) => {
            const shown = await reloaded(view, status, versionOf(form), () => loadPlan(request, view.plan.id))
            return reply.page('plans/days', daysPage(form, shown, todayFor(request), request.asking.coop), { status })
          },
          act: async (transaction, { days }) => {
            const writing = writingOf(request, transaction)
            await changePlan(writing, view.plan.id, versionOf(form), { dayIds: days }, 'work days chosen')
            return planWishesPath(view.plan.id)
          },
        })
      },
    )

    // what we would like

    app.get(
      planWishesPath(':id'),
      { ...keep, schema: { params: idParams, querystring: z.object({ proposed: z.literal('yes').optional() }) } },
      async (request, reply) => {
        const view = await loadPlan(request, request.params.id)
        const proposed = request.query.proposed === 'yes'
        const wishes = proposed
          ? proposeWishes(openQuestion(view.plan, view.kitchen, todayFor(request)))
          : view.plan.wishes
        const form = blankForm(wishesTyped(offeredRows(view), wishes))
        return reply.page('plans/wishes', wishesPage(form, view, proposed, request.asking.coop))
      },
    )

    app.post(
      planWishesPath(':id'),
      { ...keep, schema: { params: idParams, body: typedBody } },
      async (request, reply) => {
        const view = await loadPlan(request, request.params.id)
        const form = readWishes(offeredRows(view), request.body)
        return answerForm(reply, form, {
          show: async (form, status) => {
            const shown = await reloaded(view, status, versionOf(form), () => loadPlan(request, view.plan.id))
            return reply.page('plans/wishes', wishesPage(form, shown, false, request.asking.coop), { status })
          },
          act: async (transaction, { wishes }) => {
            const writing = writingOf(request, transaction)
            await changePlan(writing, view.plan.id, versionOf(form), { wishes }, 'wishes changed')
            return planOutletsPath(view.plan.id)
          },
        })
      },
    )

    // work it out

    app.get(planOutletsPath(':id'), { ...keep, schema: { params: idParams } }, async (request, reply) => {
      const view = await loadPlan(request, request.params.id)
      const form = blankForm(outletsTyped(view.plan, openOutlets(view)))
      return reply.page('plans/outlets', outletsPage(form, view, app.settings.solveSeconds, request.asking.coop))
    })

    app.post(
      planOutletsPath(':id'),
      { ...keep, schema: { params: idParams, body: typedBody } },
      async (request, reply) => {
        const view = await loadPlan(request, request.params.id)
        const open = openOutlets(view).map(({ id }) => id)
        const form: ReadForm<LimitValues> = readForm(outletsForm(open), request.body)
        return answerAndStart(request, reply, form, {
          show: async (form, status) => {
            const shown = await reloaded(view, status, versionOf(form), () => loadPlan(request, view.plan.id))
            const page = outletsPage(form, shown, app.settings.solveSeconds, request.asking.coop)
            return reply.page('plans/outlets', page, { status })
          },
          act: async (transaction, { budget, outlets, go }) => {
            const writing = writingOf(request, transaction)
            const { id } = view.plan
            const change = { budgetMinor: budget, closedOutletIds: open.filter((one) => !outlets.includes(one)) }
            const plan = await changePlan(writing, id, versionOf(form), change, 'budget and outlets chosen')
            if (go !== 'divide') return { path: planPath(id), division: null }
            const division = await askForDivision(writing, id, plan.version, todayFor(request))
            return { path: divisionPath(id, division.number), division }
          },
        })
      },
    )
  },
  { name: 'plans' },
)

type LimitValues = { budget: number | null; outlets: string[]; go: 'save' | 'divide' }

/** After a conflict the newest plan is shown and counts as read; otherwise the one that was read. */
async function reloaded(
  view: PlanView,
  status: number,
  version: number,
  load: () => Promise<PlanView>,
): Promise<PlanView> {
  return status === 409 ? load() : { ...view, version }
}

function openOutlets({ kitchen }: PlanView): { id: string }[] {
  return kitchen.outlets.filter((outlet) => outlet.open)
}
