import { setTimeout as sleep } from 'node:timers/promises'
import { expect } from 'vitest'
import { loadDemonstration } from '../../../seed/load.ts'
import { findSteward } from '../../../src/web/sessions/index.ts'
import { type TestApp, type TestAppOptions, testApp } from '../../support/app.ts'
import type { Html } from '../../support/html.ts'
import { longQuestion } from '../../support/long-question.ts'

export type PlanKitchen = TestApp & { planId: string; planPath: string }

/** The demonstration co-op on its first morning, a Friday, with all its lots, days, recipes, outlets and one plan. */
export async function demonstrationApp(options: TestAppOptions = {}): Promise<PlanKitchen> {
  const kitchen = await testApp({
    coop: false,
    now: '2026-09-18T12:00:00Z',
    ...options,
    environment: { SOLVE_SECONDS: '2', ...options.environment },
  })
  let next = 0
  // ids that are the same in every run
  await loadDemonstration(kitchen.prisma, kitchen.app.clock.now(), () => `seed-${next++}`)
  const steward = await findSteward(kitchen.prisma)
  if (steward !== null) await kitchen.signInAs(steward.memberId)
  const plan = await kitchen.prisma.plan.findFirstOrThrow()
  // figures that the tests name
  await kitchen.prisma.plan.update({
    where: { coopId_id: { coopId: plan.coopId, id: plan.id } },
    data: { budgetMinor: 9_000 },
  })
  return { ...kitchen, planId: plan.id, planPath: `/plans/${plan.id}` }
}

/** Asks for the plan's next division as its page does, and gives its path. */
export function divide(kitchen: PlanKitchen, planPath = kitchen.planPath): Promise<string> {
  return kitchen.postTaken(`${planPath}/divisions`, {}, { from: planPath })
}

/** Has a division worked out that takes all the time it is given, whatever the machine (`longQuestion`), and gives its path. */
export async function divideAtLength({ prisma, app, planId, planPath }: PlanKitchen): Promise<string> {
  const { coopId, version } = await prisma.plan.findFirstOrThrow({ where: { id: planId } })
  const question = JSON.parse(JSON.stringify(longQuestion()))
  const { id } = await prisma.division.create({
    data: {
      coopId,
      id: 'at-length',
      planId,
      number: 1,
      planVersion: version,
      state: 'waiting',
      question,
      askedBy: 'Mara',
    },
  })
  app.divisions.start({ coopId, id })
  return `${planPath}/divisions/1`
}

/** The page of a division once it has been worked out. Fails when that takes longer than half a minute. */
export async function workedOut(kitchen: PlanKitchen, path: string): Promise<Html> {
  for (let tries = 0; tries < 300; tries++) {
    const $ = await kitchen.getPage(path)
    if ($('progress').length === 0) return $
    await sleep(100)
  }
  return expect.fail(`${path} was not worked out in time`)
}

/** The answer of a division that was worked out, by the call. */
export async function answerOf(kitchen: PlanKitchen, path: string) {
  const answer = await kitchen.call('GET', `/api${path}`)
  expect(answer.statusCode, answer.body.slice(0, 300)).toBe(200)
  return answer.json()
}

/** Ids by name, for forms. */
export async function idsOf(kitchen: PlanKitchen) {
  const { prisma } = kitchen
  const recipes = new Map((await prisma.recipe.findMany()).map(({ name, id }) => [name, id]))
  const outlets = new Map((await prisma.outlet.findMany()).map(({ kind, id }) => [kind, id]))
  const lots = new Map((await prisma.lot.findMany()).map(({ crop, id }) => [crop, id]))
  const days = (await prisma.workDay.findMany({ orderBy: { date: 'asc' } })).map(({ id }) => id)
  const named = (found: string | undefined) => found ?? expect.fail('the demonstration lacks it')
  return {
    recipe: (name: string) => named(recipes.get(name)),
    outlet: (kind: string) => named(outlets.get(kind)),
    lot: (crop: string) => named(lots.get(crop)),
    days,
  }
}
