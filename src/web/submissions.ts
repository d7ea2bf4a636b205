import { createHash } from 'node:crypto'
import type { FastifyReply, FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { z } from 'zod'
import type { JsonValue, TransactionClient } from '../db/transaction.ts'
import { conflict, Failure, refused } from '../errors.ts'
import { actOnce, type Submitted } from './queries.ts'

/** What a call answers: a status and a body that can be kept and told again. */
export type CallAnswer = { status: number; body: JsonValue }

declare module 'fastify' {
  interface FastifyReply {
    /**
     * For forms: does the work in one transaction, once for each form however often it is sent, and leads on to the path
     * that it gives (303). A repeat leads to the first one's path. The work may be done again when transactions collide:
     * nothing outside the database belongs in it, and nothing slow.
     */
    once(work: (transaction: TransactionClient) => Promise<string>): Promise<FastifyReply>
    /**
     * For calls below /api: the same with the header Idempotency-Key, answering what the first one answered. Without the
     * header the work is done each time. The same key with another body is refused with 422.
     */
    answerOnce(work: (transaction: TransactionClient) => Promise<CallAnswer>): Promise<FastifyReply>
  }
}

/** Puts `reply.once` and `reply.answerOnce` on each answer. */
export const submissions = plugin(
  async (app) => {
    app.decorateReply('once', async function once(this: FastifyReply, work) {
      const { request } = this
      const sent = submitted(request, formId(request.body))
      const result = await actOnce(app.prisma, sent, app.clock.now(), async (transaction) => ({
        path: localPath(await work(transaction)),
        answer: null,
      }))
      if (result.kind === 'other-body') {
        throw conflict('This form was sent before with other entries. See what came of it, and change it there.', {
          href: result.path,
          text: 'See what was saved',
        })
      }
      return this.redirect(result.kind === 'done' ? result.outcome.path : result.path, 303)
    })

    app.decorateReply('answerOnce', async function answerOnce(this: FastifyReply, work) {
      const { request } = this
      const key = request.headers['idempotency-key']
      const id = key === undefined ? app.newId() : callKey(key)
      const result = await actOnce(app.prisma, submitted(request, id), app.clock.now(), async (transaction) => {
        const { status, body } = await work(transaction)
        return { path: request.url, answer: { status, body } }
      })
      if (result.kind === 'other-body') throw refused('This Idempotency-Key was used before with another body.')
      const { status, body } = callAnswer.parse(result.kind === 'done' ? result.outcome.answer : result.answer)
      return this.status(status).send(body)
    })
  },
  { name: 'submissions', dependencies: ['dependencies', 'asking'] },
)

const callAnswer = z.object({ status: z.number().int(), body: z.unknown() })

/** The method, the address and what was sent, save what differs between two sendings of the same form. */
function submitted(request: FastifyRequest, id: string): Submitted {
  const fields = Object.entries(request.body ?? {}).filter(([name]) => !name.startsWith('_'))
  const text = JSON.stringify([request.method, request.url, fields])
  return { coopId: request.asking.coopId, id, bodyHash: createHash('sha256').update(text).digest('hex') }
}

function formId(body: unknown): string {
  const id = typeof body === 'object' && body !== null && '_submission' in body ? body._submission : undefined
  if (typeof id !== 'string' || !/^[a-z0-9-]{8,40}$/.test(id)) {
    throw new Failure('bad-request', 'The form is not complete. Open the page again and send it from there.')
  }
  return `form ${id}`
}

function callKey(header: string | string[]): string {
  if (typeof header !== 'string' || !/^[\x21-\x7e]{8,100}$/.test(header)) {
    throw new Failure('bad-request', 'An Idempotency-Key has 8 to 100 visible characters.')
  }
  return `call ${header}`
}

/** Only an address of ours may be led to. */
function localPath(path: string): string {
  if (!/^\/(?![/\\])[\x21-\x7e]*$/.test(path)) throw new Error('a form may lead to a path of this service only')
  return path
}
