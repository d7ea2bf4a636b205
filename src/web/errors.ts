import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { databaseFailure } from '../db/errors.ts'
import { Failure, type Meaning, type Onward } from '../errors.ts'
import { cameFromHere, isApi } from './csrf.ts'
import { methodsFor } from './known-routes.ts'
import { loggedError } from './log.ts'
import { type FieldProblem, problemsByField } from './schema-words.ts'
import type { Page } from './views.ts'

/** What a failed request is answered with, as a page or as JSON. */
export type Answer = {
  status: number
  /** A short name for programs: `not-found` */
  code: string
  title: string
  message: string
  fields: Record<string, string>
  onward: Onward | undefined
}

export type ErrorPage = Page & {
  message: string
  /** Whether anything was saved, in words; empty for a request that would save nothing. */
  saved: string
  requestId: string
  onward: Onward
  /** What was typed, to be read or sent again; empty for all but forms. */
  typed: { name: string; value: string }[]
  /** Where to send it again; null where that is not offered. */
  again: string | null
}

/** The one place where a failure becomes an answer. Nothing of how the service works inside leaves through it. */
export const errors = plugin(
  async (app) => {
    app.setErrorHandler<FastifyError>(async (error, request, reply) => {
      const answer = answerTo(error)
      if (answer.status >= 500) request.log.error({ error: loggedError(error) }, 'failed')
      else if (answer.status === 403)
        request.log.warn({ code: answer.code, reason: error.code ?? answer.message }, 'refused')
      return sendAnswer(request, reply, answer)
    })
    app.setNotFoundHandler(async (request, reply) => {
      const allowed = methodsFor(app, request.url)
      if (allowed.length === 0) return sendAnswer(request, reply, byStatus(404))
      reply.header('allow', allowed.join(', '))
      return sendAnswer(request, reply, byStatus(405))
    })
  },
  { name: 'errors', dependencies: ['views', 'csrf', 'known-routes'] },
)

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
  return byStatus(status in known || (status >= 400 && status < 500) ? status : 500)
}

/** Every status that has words of its own. */
export function knownStatuses(): number[] {
  return Object.keys(known).map(Number)
}

/** The answer for a status alone; statuses without words of their own read as 400 or 500. */
export function byStatus(status: number): Answer {
  const words = known[status] ?? (status < 500 ? known[400] : known[500])
  if (words === undefined) throw new Error('no words for any failure')
  return { status, ...words, fields: {}, onward: undefined }
}

/** The page of an answer. Pure: also used at start-up to see that the template takes it. */
export function errorPage(
  answer: Answer,
  request: { id: string; method: string; url: string; typed: [string, string][] | null; mayResend: boolean },
): ErrorPage {
  const changes = request.method !== 'GET' && request.method !== 'HEAD'
  const unsure = answer.code === 'unreachable'
  const typed = (request.typed ?? []).map(([name, value]) => ({ name, value }))
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
    typed,
    again: request.mayResend && typed.length > 0 ? request.url : null,
  }
}

async function sendAnswer(request: FastifyRequest, reply: FastifyReply, answer: Answer): Promise<FastifyReply> {
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
  const resendable = answer.code === 'form-expired' || answer.status === 429 || answer.status >= 500
  const page = errorPage(answer, {
    id: request.id,
    method: request.method,
    url: request.url,
    typed: typedIn(request),
    mayResend: resendable && cameFromHere(request),
  })
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
  'bad-request': 400,
  'wrong-type': 415,
}

const databaseStatus = {
  'already-exists': 409,
  'refers-to-nothing': 409,
  'not-found': 404,
  conflict: 503,
  'took-too-long': 503,
  unreachable: 503,
} as const

type Words = Pick<Answer, 'code' | 'title' | 'message'>

const known: Record<number, Words> = {
  400: {
    code: 'bad-request',
    title: 'That could not be read',
    message: 'The request is not one this page understands. Go back and try again.',
  },
  401: { code: 'unauthorized', title: 'Please sign in', message: 'This page is for members only.' },
  403: { code: 'forbidden', title: 'Not allowed', message: 'This is not open to you.' },
  404: {
    code: 'not-found',
    title: 'Page not found',
    message:
      'There is nothing at this address. If you typed it, check it; if you followed a link, what it led to is gone.',
  },
  405: { code: 'wrong-method', title: 'Not possible here', message: 'This address cannot be called in that way.' },
  408: {
    code: 'too-slow',
    title: 'That took too long',
    message: 'The request did not arrive in time. Check the connection and try again.',
  },
  409: {
    code: 'conflict',
    title: 'Something changed meanwhile',
    message: 'What you changed does not fit what is there now. Go back, look at it again, and try again.',
  },
  413: {
    code: 'too-large',
    title: 'Too much at once',
    message: 'What was sent is larger than 256 KB. Send it in smaller parts.',
  },
  414: { code: 'address-too-long', title: 'The address is too long', message: 'Shorten the address and try again.' },
  415: {
    code: 'wrong-type',
    title: 'Unknown kind of content',
    message: 'This address takes forms, or JSON below /api.',
  },
  422: { code: 'refused', title: 'That cannot be used', message: 'Some of what was sent cannot be used.' },
  429: {
    code: 'too-many',
    title: 'Too many requests',
    message: 'Your device asked too often. Wait a minute and try again.',
  },
  431: {
    code: 'headers-too-large',
    title: 'The request is too large',
    message: 'Your browser sent more than can be taken. Clear the cookies of this address and try again.',
  },
  500: {
    code: 'fault',
    title: 'Something went wrong here',
    message: 'The fault is ours. Try again; if it stays, tell the person who hosts the kitchen the number below.',
  },
  503: {
    code: 'unavailable',
    title: 'Not available just now',
    message: 'The kitchen cannot answer for the moment. Try again in a few seconds.',
  },
}

function wantsJson(request: FastifyRequest): boolean {
  if (isApi(request)) return true
  const accept = request.headers.accept ?? ''
  return accept.includes('application/json') && !accept.includes('text/html')
}

/** The fields of a form as they were typed, secrets of the page left out; null for anything that is no form. */
function typedIn(request: FastifyRequest): [string, string][] | null {
  const { body } = request
  if (typeof body !== 'object' || body === null || request.method !== 'POST') return null
  return Object.entries(body).flatMap(([name, value]): [string, string][] => {
    if (name === '_csrf') return []
    return (Array.isArray(value) ? value : [value]).map((one) => [name, String(one)])
  })
}
