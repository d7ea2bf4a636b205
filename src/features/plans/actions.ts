import type { FastifyInstance } from 'fastify'
import { todayIn } from '../../clock.ts'
import { checkProblem } from '../../core/allocation/index.ts'
import { askDivision, type Question } from '../../core/division/index.ts'
import { inTransaction } from '../../db/transaction.ts'
import { refused } from '../../errors.ts'
import { changedMeanwhile } from '../../web/answers.ts'
import type { Asking } from '../../web/asking.ts'
import type { Writing } from '../changes/index.ts'
import { addDivision } from './divisions/queries.ts'
import type { Asked } from './divisions/run.ts'
import { readKitchen } from './kitchen/queries.ts'
import { findPlan } from './queries.ts'
import { questionOf } from './question.ts'

/** A division that was noted, to be started once its transaction is over. */
export type NewDivision = Asked & { number: number }

/**
 * Notes the plan's next division: reads the kitchen, makes the question and checks that it can be worked out at all.
 * Everything here is quick; the solver gets the question after the transaction, by `app.divisions.start`.
 *
 * Refused in words by field when there is nothing to divide, no day to do it on, or nothing wished for; with `conflict`
 * when the plan has moved since it was read.
 *
 * @param version the plan's version that was read; null: whatever it is now
 */
export async function askForDivision(
  writing: Writing,
  planId: string,
  version: number | null,
  today: string,
): Promise<NewDivision> {
  const { transaction, asking } = writing
  const plan = await findPlan(transaction, asking, planId)
  if (version !== null && plan.version !== version) throw changedMeanwhile('this plan')
  const question = questionOf(plan, await readKitchen(transaction, asking, { today, planId: plan.id }), today)
  refuseUnanswerable(question)
  const { id, number } = await addDivision(writing, plan, question)
  return { coopId: asking.coopId, id, number, question, stopAsked: false }
}

/** What still keeps a question from being asked, in words by step; empty: it can be worked out. */
export function missingFor(question: Question): Record<string, string> {
  const grams = question.lots.reduce((sum, { grams: of }) => sum + of.firm + of.ripe + of.soft + of.damaged, 0)
  return {
    ...(grams > 0 ? {} : { lots: 'Choose lots that have been sorted: there is nothing to divide yet' }),
    ...(question.days.length > 0 ? {} : { days: 'Choose a work day that is not over yet' }),
    ...(question.wishes.some((wish) => wish.atMost > 0)
      ? {}
      : { wishes: 'Say what you would like, for one recipe at least' }),
  }
}

/**
 * Asks for a plan's next division and starts it, outside any request: for the demonstration on first start.
 *
 * @param asking whose plan it is, and whose name stands beside the division
 */
export async function startDivision(
  app: FastifyInstance,
  asking: Asking,
  planId: string,
): Promise<{ id: string; number: number }> {
  const { clock, newId, prisma } = app
  const division = await inTransaction(prisma, async (transaction) => {
    const writing = { transaction, asking, now: clock.now(), newId }
    return askForDivision(writing, planId, null, todayIn(clock, asking.coop.timeZone))
  })
  app.divisions.start(division)
  return { id: division.id, number: division.number }
}

function refuseUnanswerable(question: Question): void {
  const missing = missingFor(question)
  const words = Object.values(missing)
  if (words.length > 0) throw refused(`${words.join('. ')}.`, missing)
  const wrong = checkProblem(askDivision(question))
  if (wrong.length === 0) return
  const outlet = wrong.find(({ where }) => where.startsWith('outlet ') && where.endsWith(' worth'))
  if (outlet) {
    const says = 'Outlets must be in falling order of worth: put the one that is worth most first'
    throw refused(`${says}.`, { outlets: says })
  }
  throw refused(
    `This plan cannot be worked out: ${wrong
      .slice(0, 3)
      .map(({ where, detail }) => `${where} ${detail}`)
      .join('; ')}.`,
  )
}
