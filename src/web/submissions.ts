import { createHash } from 'node:crypto'
import type { FastifyReply, FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { z } from 'zod'
import { BULK_LIMIT_MS, type JsonValue, type TransactionClient, type TransactionOptions } from '../db/transaction.ts'
import { conflict, Failure, refused } from '../errors.ts'
import { isApi } from './csrf.ts'
import { isSecretField } from './forms.ts'
import { loggedError } from './log.ts'
import { actOnce, findSubmission, type Submitted, sweepSubmissions } from './queries.ts'

/**
 * What a call answers: a status and a body that can be kept and told again. What stands in `once`, a secret, is told
 * beside it with the first answer alone, and not kept.
 */
export type CallAnswer = { status: number; body: JsonValue; once?: Readonly<Record<string, string>> }

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Saves thousands of rows at once, so its transaction may stay open for longer. */
    bulk?: boolean
  }
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

/** How often what need not be remembered any more is looked for: there is no index for it, so not often. */
const SWEEP_MS = 60 * 60_000
/** And after the start, for processes that are started anew each day. */
const FIRST_SWEEP_MS = 2 * 60_000

/** Puts `reply.once` and `reply.answerOnce` on each answer, and forgets now and then what was acted on long ago. */
export const submissions = plugin(
  async (app) => {
    const sweep = () => {
      sweepSubmissions(app.prisma, app.clock.now()).catch((error: unknown) =>
        app.log.warn({ error: loggedError(error) }, 'old submissions were not swept'),
      )
    }
    const timers = [setTimeout(sweep, FIRST_SWEEP_MS).unref(), setInterval(sweep, SWEEP_MS).unref()]
    app.addHook('onClose', async () => {
      for (const timer of timers) clearTimeout(timer)
    })

    app.decorateReply('once', async function once(this: FastifyReply, work) {
      const { request } = this
      const sent = submitted(request, formId(request.body))
      const result = await actOnce(
        app.prisma,
        sent,
        app.clock.now(),
        async (transaction) => ({
          path: localPath(await work(transaction)),
          answer: null,
        }),
        limitOf(request),
      )
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
      let toldOnce: CallAnswer['once'] = {}
      const result = await actOnce(
        app.prisma,
        submitted(request, id),
        app.clock.now(),
        async (transaction) => {
          const { status, body, once = {} } = await work(transaction)
          toldOnce = once
          return { path: request.url, answer: { status, body } }
        },
        limitOf(request),
      )
      if (result.kind === 'other-body') throw refused('This Idempotency-Key was used before with another body.')
      const { status, body } = callAnswer.parse(result.kind === 'done' ? result.outcome.answer : result.answer)
      const told = typeof body === 'object' && body !== null && result.kind === 'done' ? { ...body, ...toldOnce } : body
      return this.status(status).send(told)
    })
  },
  { name: 'submissions', dependencies: ['dependencies', 'asking'] },
)

function limitOf({ routeOptions }: FastifyRequest): TransactionOptions {
  return routeOptions.config.bulk === true ? { limitMs: BULK_LIMIT_MS } : {}
}

/** Whether this form or call was acted on before, so that it would be led to what came of it. */
export async function wasActedOn(request: FastifyRequest): Promise<boolean> {
  const id = sentId(request)
  return id !== null && (await findSubmission(request.server.prisma, submitted(request, id))) !== null
}

function sentId(request: FastifyRequest): string | null {
  if (!isApi(request)) return ownFormId(request.body)
  const key = request.headers['idempotency-key']
  return key === undefined ? null : callKey(key)
}

const callAnswer = z.object({ status: z.number().int(), body: z.unknown() })

/**
 * The method, the address and what was sent, save what differs between two sendings of the same form, and passwords: a
 * hash as quick as this one would give them away.
 */
function submitted(request: FastifyRequest, id: string): Submitted {
  const fields = Object.entries(request.body ?? {}).filter(([name]) => !name.startsWith('_') && !isSecretField(name))
  const text = JSON.stringify([request.method, request.url, fields])
  return { coopId: request.asking.coopId, id, bodyHash: createHash('sha256').update(text).digest('hex') }
}

function formId(body: unknown): string {
  const id = ownFormId(body)
  if (id !== null) return id
  throw new Failure('bad-request', 'The form is not complete. Open the page again and send it from there.')
}

/** The id of this one form, made with its page; null for none. */
function ownFormId(body: unknown): string | null {
  const id = typeof body === 'object' && body !== null && '_submission' in body ? body._submission : undefined
  return typeof id === 'string' && /^[a-z0-9-]{8,40}$/.test(id) ? `form ${id}` : null
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
