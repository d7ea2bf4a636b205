import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { databaseFailure } from '../db/errors.ts'
import { Failure, type Meaning, type Onward } from '../errors.ts'
import { cameFromHere, isApi } from './csrf.ts'
import { type Answer, byStatus, isKnown, knownStatuses } from './failure-words.ts'
import { wordsForTyped } from './field-words.ts'
import { isSecretField } from './forms.ts'
import { methodsFor } from './known-routes.ts'
import { loggedError } from './log.ts'
import { rawHeaders, rawPage } from './raw-errors.ts'
import { type FieldProblem, problemsByField } from './schema-words.ts'
import type { Page, PageSetting } from './views.ts'

export type ErrorPage = Page & {
  message: string
  /** Whether anything was saved, in words; empty for a request that would save nothing. */
  saved: string
  requestId: string
  onward: Onward
  /** What was typed, to be read; empty for all but forms. */
  typed: { label: string; value: string }[]
  /** All that the form had, to be sent again; null where that is not offered. */
  again: { path: string; fields: { name: string; value: string }[] } | null
}

/** The one place where a failure becomes an answer. Nothing of how the service works inside leaves through it. */
export const errors = plugin(
  async (app) => {
    for (const status of knownStatuses()) {
      const request = {
        id: 'start-up',
        method: 'POST',
        url: '/',
        typed: [['field', 'typed']] as [string, string][],
        mayResend: true,
      }
      app.renderPage('errors/error', errorPage(byStatus(status), request), blankSetting)
    }
    app.setErrorHandler<FastifyError>(async (error, request, reply) => {
      const answer = answerTo(error)
      const { code } = answer
      if (answer.status >= 500 && code !== 'full') request.log.error({ error: loggedError(error) }, 'failed')
      else if (answer.status === 403 || answer.status === 429 || code === 'full')
        request.log.warn({ code, reason: error.code ?? answer.message }, 'refused')
      try {
        return sendAnswer(request, reply, answer)
      } catch (second) {
        // the failure must not fail: a page without template and style, and a line for the operator
        request.log.error({ error: loggedError(second) }, 'the page of a failure failed')
        return reply.status(answer.status).headers(rawHeaders).send(rawPage(answer.status, request.id))
      }
    })
    // unknown addresses count towards the limit too, where there is one
    const guard = app.hasDecorator('rateLimit') ? { preHandler: app.rateLimit() } : {}
    app.setNotFoundHandler(guard, async (request, reply) => {
      const allowed = methodsFor(app, request.url)
      if (allowed.length === 0) return sendAnswer(request, reply, byStatus(404))
      reply.header('allow', allowed.join(', '))
      return sendAnswer(request, reply, byStatus(405))
    })
  },
  { name: 'errors', dependencies: ['views', 'csrf', 'known-routes', 'limits'] },
)

/** Enough around a page to see at start-up that its template takes it. */
const blankSetting: PageSetting = { asking: null, path: '/', csrf: () => '', newId: () => '' }

/** Reads any thrown thing; what it does not know is a 500 that says nothing of its cause. */
export function answerTo(error: unknown): Answer {
  if (error instanceof Failure) {
    const answer = byStatus(statusOf[error.meaning])
    return { ...answer, code: error.meaning, message: error.message, fields: { ...error.fields }, onward: error.onward }
  }
  if (hasZodFastifySchemaValidationErrors(error)) {
    const fields = problemsByField(error.validation as unknown as FieldProblem[])
    return { ...byStatus(400), code: 'refused', message: 'Some of what was sent cannot be used.', fields }
  }
  const code = error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : ''
  if (code.startsWith('FST_CSRF_')) {
    const message = 'The page had been open for too long, or cookies are off. What you typed is below: send it again.'
    return { ...byStatus(403), code: 'form-expired', message }
  }
  const failure = databaseFailure(error)
  if (failure !== null) return { ...byStatus(databaseStatus[failure.meaning]), code: failure.meaning }
  const status = error instanceof Error && 'statusCode' in error ? Number(error.statusCode) : 500
  return byStatus(isKnown(status) || (status >= 400 && status < 500) ? status : 500)
}

/** The page of an answer. Pure: also used at start-up to see that the template takes it. */
export function errorPage(
  answer: Answer,
  request: { id: string; method: string; url: string; typed: [string, string][] | null; mayResend: boolean },
): ErrorPage {
  const changes = request.method !== 'GET' && request.method !== 'HEAD'
  const unsure = answer.code === 'unreachable'
  const sent = request.typed ?? []
  const fields = sent.map(([name, value]) => ({ name, value }))
  return {
    title: answer.title,
    place: null,
    message: answer.message,
    saved: !changes
      ? ''
      : unsure
        ? 'It is not known whether it was saved. Sending it again saves it only once.'
        : 'Nothing was saved.',
    requestId: request.id,
    onward: answer.onward ?? { href: '/', text: 'Go to Today' },
    typed: wordsForTyped(sent),
    again: request.mayResend && fields.length > 0 ? { path: request.url, fields } : null,
  }
}

function sendAnswer(request: FastifyRequest, reply: FastifyReply, answer: Answer): FastifyReply {
  if (answer.status === 503 || answer.status === 429) {
    if (!reply.hasHeader('retry-after')) reply.header('retry-after', '5')
  }
  if (wantsJson(request)) {
    const { code, message, fields } = answer
    const error = { code, message, ...(Object.keys(fields).length > 0 ? { fields } : {}), requestId: request.id }
    // past the route's own serializer, which describes its good answers only
    return reply
      .status(answer.status)
      .type('application/json; charset=utf-8')
      .serializer(JSON.stringify)
      .send({ error })
  }
  const resendable =
    answer.code === 'form-expired' || answer.code === 'unauthorized' || answer.status === 429 || answer.status >= 500
  const page = errorPage(
    answer.code === 'form-expired' && heldSecrets(request) ? withoutSecrets(answer, request) : answer,
    {
      id: request.id,
      method: request.method,
      url: request.url,
      typed: typedIn(request),
      mayResend: resendable && cameFromHere(request) && !heldSecrets(request),
    },
  )
  return reply.page('errors/error', page, { status: answer.status })
}

const statusOf: Record<Meaning, number> = {
  'not-found': 404,
  refused: 422,
  conflict: 409,
  forbidden: 403,
  unauthorized: 401,
  'too-large': 413,
  'address-too-long': 414,
  unavailable: 503,
  // the same as a disk that is full: what is meant by it is said in the words
  full: 507,
  'bad-request': 400,
  'wrong-type': 415,
}

const databaseStatus = {
  'already-exists': 409,
  'refers-to-nothing': 409,
  'broke-a-rule': 409,
  'not-found': 404,
  conflict: 503,
  'took-too-long': 503,
  'no-room': 507,
  unreachable: 503,
} as const

function wantsJson(request: FastifyRequest): boolean {
  if (isApi(request)) return true
  const accept = request.headers.accept ?? ''
  return accept.includes('application/json') && !accept.includes('text/html')
}

/** A form that had a password in it is filled in anew. */
function withoutSecrets(answer: Answer, { url }: FastifyRequest): Answer {
  const message = 'The page had been open for too long, or cookies are off. Open it again; passwords are not kept.'
  return { ...answer, message, onward: { href: url.split('?')[0] ?? '/', text: 'Open the form again' } }
}

function heldSecrets({ body }: FastifyRequest): boolean {
  return typeof body === 'object' && body !== null && Object.keys(body).some(isSecretField)
}

/** The fields of a form as they were typed, secrets of the page left out; null for anything that is no form. */
function typedIn(request: FastifyRequest): [string, string][] | null {
  const { body } = request
  if (typeof body !== 'object' || body === null || request.method !== 'POST') return null
  return Object.entries(body).flatMap(([name, value]): [string, string][] => {
    if (name === '_csrf' || isSecretField(name)) return []
    return (Array.isArray(value) ? value : [value]).map((one) => [name, String(one)])
  })
}
