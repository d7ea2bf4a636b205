import type { FastifyPluginAsync } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { todayIn } from '../../clock.ts'
import { lastBackupKnown } from '../../keeping/status.ts'
import { answerForm, only } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import { blankForm, readForm, typedBody } from '../../web/forms.ts'
import { aloneIn } from '../../web/lengths.ts'
import { mayLook } from '../../web/roles.ts'
import { auditPath } from '../audit/index.ts'
import { calendarsPath } from '../calendars/paths.ts'
import { lastChange, writingOf } from '../changes/index.ts'
import { backupSentence, dataPath, mayKeepData } from '../data/index.ts'
import { equipmentListPath, equipmentSentence, listEquipment } from '../equipment/index.ts'
import { handbookPath } from '../handbook/index.ts'
import { helpersPath, helpersSentence, listHelpers } from '../helpers/index.ts'
import { listOutlets, outletsPath, outletsSentence } from '../outlets/index.ts'
import { listPeople, peoplePath, peopleSentence } from '../people/index.ts'
import { listLocalProcesses, localProcessesPath, localProcessesSentence } from '../processes/local/index.ts'
import { processesPath } from '../processes/paths.ts'
import { listRecipes, recipesPath, recipesSentence } from '../recipes/index.ts'
import { screensPath } from '../screens/paths.ts'
import { listSupplies, suppliesPath, suppliesSentence } from '../supplies/index.ts'
import { listWorkDays, workDaysPath, workDaysSentence } from '../work-days/index.ts'
import { yieldsPath } from '../yields/paths.ts'
import { mayKeepCoop } from './access.ts'
import { coopApi } from './api.ts'
import { coopForm, coopTyped, ownUnitsForm, ownUnitsTyped } from './forms.ts'
import { coopPage, coopSettingsPage, ownUnitsPage, type Section } from './pages.ts'
import { coopPath, coopSettingsPath, ownUnitsPath } from './paths.ts'
import { changeCoop, changeOwnUnits, countHouseholds, findCoop, findOwnUnits } from './queries.ts'

export const coopRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepCoop)
  await app.register(coopApi)

  const sectionsOf = async (asking: Asking): Promise<Section[]> => {
    const { prisma } = app
    const { coop } = asking
    const today = todayIn(app.clock, coop.timeZone)
    return [
      { href: recipesPath(), name: 'Recipes', says: recipesSentence(await listRecipes(prisma, asking)) },
      {
        href: processesPath(),
        name: 'Tested processes',
        says: 'Time, pressure, headspace and acid by product, jar and altitude',
      },
      {
        href: localProcessesPath(),
        name: 'Local processes',
        says: localProcessesSentence(await listLocalProcesses(prisma, asking)),
      },
      {
        href: handbookPath(),
        name: 'Handbook',
        says: 'Altitude, acidity, syrups, spreads, freezing, drying, fermenting and jars',
      },
      {
        href: workDaysPath(),
        name: 'Work days',
        says: workDaysSentence(await listWorkDays(prisma, asking), today, coop),
      },
      {
        href: equipmentListPath(),
        name: 'Equipment',
        says: equipmentSentence(await listEquipment(prisma, asking), coop),
      },
      { href: helpersPath(), name: 'Helpers', says: helpersSentence(await listHelpers(prisma, asking), coop) },
      {
        href: calendarsPath(),
        name: 'Calendars',
        says: 'Secret addresses under which calendar programs read who works when',
      },
      { href: suppliesPath(), name: 'Supplies', says: suppliesSentence(await listSupplies(prisma, asking), coop) },
      { href: outletsPath(), name: 'Outlets', says: outletsSentence(await listOutlets(prisma, asking)) },
      {
        href: screensPath(),
        name: 'Kitchen screens',
        says: 'Tablets on the wall: the work of the day, to tick off',
      },
      {
        href: yieldsPath(),
        name: 'What batches taught',
        says: 'Yields, trim and minutes as they really were',
      },
      { href: peoplePath(), name: 'People', says: peopleSentence(await listPeople(prisma, asking), coop) },
      {
        href: auditPath(),
        name: mayKeepCoop(asking) ? 'Audit' : 'History',
        says: mayKeepCoop(asking)
          ? 'What happened at the door, with people’s rights and in all things'
          : 'Who changed what',
      },
      ...(mayKeepData(asking)
        ? [
            {
              href: dataPath(),
              name: 'Data and backups',
              says: backupSentence(await lastBackupKnown(app.settings), app.clock.now(), coop),
            },
          ]
        : []),
    ]
  }

  app.get(coopPath(), only(mayLook), async (request, reply) => {
    const { asking } = request
    const households = await countHouseholds(app.prisma, asking)
    const page = coopPage(asking.coop, await sectionsOf(asking), households)
    return reply.page('coop/home', { ...page, ...(await lastChange(request, 'coop')) })
  })

  app.get(coopSettingsPath(), keep, async (request, reply) => {
    const { asking } = request
    const coop = await findCoop(app.prisma, asking)
    const form = blankForm(coopTyped(coop, asking.coop.units))
    const page = coopSettingsPage(form, coop, asking.coop.units)
    return reply.page('coop/settings', { ...page, ...(await lastChange(request, 'coop')) })
  })

  app.post(coopSettingsPath(), { ...keep, schema: { body: typedBody } }, async (request, reply) => {
    const { asking, body } = request
    return answerForm(reply, readForm(coopForm(aloneIn(body, asking.coop.units)), body), {
      show: async (form, status) => {
        const page = coopSettingsPage(form, await findCoop(app.prisma, asking), asking.coop.units)
        return reply.page('coop/settings', page, { status })
      },
      act: async (transaction, values) => {
        await changeCoop(writingOf(request, transaction), values)
        return coopPath()
      },
    })
  })

  app.get(ownUnitsPath(), only(mayLook), async ({ asking }, reply) => {
    const { units } = await findCoop(app.prisma, asking)
    const form = blankForm(ownUnitsTyped(await findOwnUnits(app.prisma, asking)))
    return reply.page('coop/my-units', ownUnitsPage(form, units))
  })

  app.post(ownUnitsPath(), { ...only(mayLook), schema: { body: typedBody } }, async (request, reply) =>
    answerForm(reply, readForm(ownUnitsForm, request.body), {
      show: async (form, status) => {
        const { units } = await findCoop(app.prisma, request.asking)
        return reply.page('coop/my-units', ownUnitsPage(form, units), { status })
      },
      act: async (transaction, { units }) => {
        await changeOwnUnits(writingOf(request, transaction), units)
        return coopPath()
      },
    }),
  )
}
