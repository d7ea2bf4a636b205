import type { FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { todayIn } from '../../clock.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { idText } from '../../ids.ts'
import { answerForm } from '../../web/answers.ts'
import type { ReadForm, TypedForm } from '../../web/forms.ts'
import type { NewDivision } from './actions.ts'
import { readKitchen } from './kitchen/queries.ts'
import type { PlanView } from './pages.ts'
import { findPlan } from './queries.ts'
import { questionOf } from './question.ts'

/** Params of `/plans/:id/divisions/:number`. */
export const divisionParams = z.object({
  id: idText,
  number: z
    .string()
    .regex(/^[1-9]\d{0,5}$/)
    .transform(Number),
})

/** The date at the co-op. */
export function todayFor(request: FastifyRequest): string {
  return todayIn(request.server.clock, request.asking.coop.timeZone)
}

/** The plan with its kitchen and its question as they are now. 404 where it is not the co-op's. */
export async function loadPlan(request: FastifyRequest, id: string, version?: number): Promise<PlanView> {
  const { prisma } = request.server
  const today = todayFor(request)
  const plan = await findPlan(prisma, request.asking, id)
  const kitchen = await readKitchen(prisma, request.asking, { today, planId: id })
  return { plan, kitchen, question: questionOf(plan, kitchen, today), version: version ?? plan.version }
}

/** As `answerForm`, for forms that may ask for a division: it is started once its transaction is over and it was new. */
export async function answerAndStart<V>(
  request: FastifyRequest,
  reply: FastifyReply,
  form: ReadForm<V>,
  does: {
    show(form: TypedForm, status: number): FastifyReply | Promise<FastifyReply>
    act(transaction: TransactionClient, values: V): Promise<{ path: string; division: NewDivision | null }>
  },
): Promise<FastifyReply> {
  let asked: NewDivision | null = null
  const answer = await answerForm(reply, form, {
    show: does.show,
    act: async (transaction, values) => {
      asked = null
      const { path, division } = await does.act(transaction, values)
      asked = division
      return path
    },
  })
  if (asked !== null && reply.statusCode === 303) request.server.divisions.start(asked)
  return answer
}
