import csrfProtection from '@fastify/csrf-protection'
import type { FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { Failure, forbidden } from '../errors.ts'
import { isHttps, sessionCookieOptions } from './sessions/cookie.ts'

const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * Nothing changes on another site's word. Every request that is not a GET or HEAD is refused when the browser says that
 * it comes from elsewhere (Sec-Fetch-Site; on plain http, Origin); forms carry a token bound to a signed cookie and to the
 * session; calls under /api take only JSON, which no form of another site can send, and without a program's token the
 * form's token in X-CSRF-Token.
 */
export const csrf = plugin<{ secret: string }>(
  async (app, { secret }) => {
    await app.register(csrfProtection, {
      cookieKey: isHttps(app.settings) ? '__Host-glut_form' : 'glut_form',
      cookieOpts: { ...sessionCookieOptions(app.settings), signed: true },
      getToken: tokenOf,
      getUserInfo: sessionOf,
      csrfOpts: { hmacKey: secret },
      logLevel: 'debug',
    })
    app.addHook('onRequest', async (request) => {
      if (SAFE_METHODS.has(request.method)) return
      if (cameFromElsewhere(request)) {
        throw forbidden('This was sent by a page of another site, so nothing was changed.')
      }
      if (isApi(request) && !isJson(request) && request.method !== 'DELETE') {
        throw new Failure('wrong-type', 'Send JSON, with the header Content-Type: application/json.')
      }
    })
    app.addHook('preValidation', (request, reply, done) => {
      // what leads nowhere changes nothing: it is told so (404, 405)
      if (SAFE_METHODS.has(request.method) || request.is404 || isProgram(request)) done()
      else app.csrfProtection(request, reply, done)
    })
  },
  { name: 'csrf', dependencies: ['@fastify/cookie', 'asking'] },
)

/** A program with its token: no browser sends that by itself. */
function isProgram(request: FastifyRequest): boolean {
  return isApi(request) && request.askingOrNobody?.via.kind === 'token'
}

/** Calls for programs live under /api. */
export function isApi(request: { url: string }): boolean {
  return /^\/api(\/|\?|$)/.test(request.url)
}

/** The browser itself says that one of our own pages sent it. */
export function cameFromHere(request: FastifyRequest): boolean {
  return request.headers['sec-fetch-site'] === 'same-origin' || originHost(request) === request.headers.host
}

function cameFromElsewhere(request: FastifyRequest): boolean {
  const site = request.headers['sec-fetch-site']
  if (site !== undefined) return site !== 'same-origin' && site !== 'none'
  return request.headers.origin !== undefined && originHost(request) !== request.headers.host
}

/** Host and port of the Origin header; null for none and for "null". */
function originHost(request: FastifyRequest): string | null {
  const { origin } = request.headers
  return origin !== undefined && URL.canParse(origin) ? new URL(origin).host : null
}

function isJson(request: FastifyRequest): boolean {
  return /^application\/json\s*(;|$)/i.test(request.headers['content-type'] ?? '')
}

/** Binds a form to the session that it was shown in: nobody's form fits another's session. */
export function sessionOf(request: FastifyRequest): string {
  const via = request.askingOrNobody?.via
  return via?.kind === 'session' ? via.id : 'nobody'
}

function tokenOf(request: FastifyRequest): string {
  const { body } = request
  const token =
    typeof body === 'object' && body !== null && '_csrf' in body ? body._csrf : request.headers['x-csrf-token']
  return typeof token === 'string' ? token : ''
}
