import type { FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import type { UnitSystem } from '../core/units/index.ts'
import { Failure, forbidden } from '../errors.ts'
import { isApi } from './csrf.ts'
import { goesToPage, pageOfForm, sendsForm, signInPath } from './door.ts'
import { type May, type Role, rolesInWords } from './roles.ts'
import { sessionCookie } from './sessions/cookie.ts'
import { askingBySession, askingByToken } from './sessions/queries.ts'

/** Who is asking and for which co-op: all that a feature ever learns about the visitor. */
export type Asking = {
  coopId: string
  /** null: a kitchen screen, which is nobody. Routes for persons use `memberOf`. */
  memberId: string | null
  householdId: string | null
  /** A member's name, or the screen's. */
  name: string
  role: Role
  via: Via
  coop: CoopWays
}

/** How whoever asks was known: by a browser's session, a program's token, or the service itself. */
export type Via =
  | { kind: 'session'; id: string }
  | { kind: 'token'; id: string; scope: 'read' | 'write' }
  | { kind: 'inside' }

/** The member who asks; throws where only a kitchen screen could be asking, which the route must not allow. */
export function memberOf(asking: Asking): string {
  if (asking.memberId === null) throw new Error('this route is for persons, and a kitchen screen came through')
  return asking.memberId
}

/** The co-op as pages need it: its name, its place and how whoever is asking reads figures. */
export type CoopWays = {
  id: string
  name: string
  town: string
  altitudeM: number
  timeZone: string
  locale: string
  /** The member's own choice where there is one, else the co-op's. */
  units: UnitSystem
  currency: string
  /** Made up, and open to whoever comes by. */
  demonstration: boolean
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Throws where nobody was resolved (open routes): a feature's routes never are. */
    readonly asking: Asking
    askingOrNobody: Asking | null
  }
  interface FastifyContextConfig {
    /** Answers anyone, and knows nobody: styles, health, the door. */
    open?: boolean
    /** Who may. Every route that is not open says so; one that does not is refused at start-up. */
    may?: May
    /** Answers under any host name: health checks call by address. */
    anyHost?: boolean
  }
}

/**
 * Resolves `request.asking` before anything else happens, and holds every route to what it says of who may. Refused with
 * 403: a host name that is not ours (so that a foreign page whose name was pointed at this machine gets nowhere), a
 * forwarded request while no proxy is trusted (all visitors would seem to come from the proxy's own address), and
 * whoever's role the route does not name. Nobody, save where the route is open or there is none, is led to the door when
 * a page was asked for, and refused with 401 otherwise.
 */
export const asking = plugin(
  async (app) => {
    app.decorateRequest('askingOrNobody', null)
    app.decorateRequest('asking', {
      getter(this: FastifyRequest) {
        if (this.askingOrNobody === null) throw new Error('this route knows nobody: it is open to anyone')
        return this.askingOrNobody
      },
    })
    app.addHook('onRoute', ({ method, url, config }) => {
      if (config?.open === true || config?.may !== undefined) return
      throw new Error(`${String(method)} ${url} does not say who may`)
    })
    app.addHook('onRequest', async (request, reply) => {
      const config = request.routeOptions.config
      if (config?.anyHost !== true) refuseForeignHost(request, app.settings.allowedHosts)
      if (config?.open === true) return
      if (!app.settings.trustProxy && isForwarded(request)) {
        throw forbidden(
          'This request came through a proxy that the service was not told about. Set TRUST_PROXY to yes.',
        )
      }
      const asking = await resolve(request)
      request.askingOrNobody = asking
      // where nothing is, everybody is told so
      if (request.is404) return
      if (asking === null) {
        if (goesToPage(request)) return reply.redirect(signInPath(request.url), 303)
        // a form is read first, so that what was typed can be shown again: preValidation below refuses it
        if (sendsForm(request)) return
        // a part of a page that looks again by itself: the whole page does, and is led to the door
        if (request.headers['hx-request'] !== undefined) reply.header('hx-refresh', 'true')
        if (isApi(request)) reply.header('www-authenticate', challenge(request))
        throw unauthorized(request)
      }
      if (config.may !== undefined && !config.may(asking)) {
        // a tablet that was started anew opens the bare address
        if (asking.role === 'screen' && request.url === '/' && goesToPage(request))
          return reply.redirect(screenHome, 303)
        throw notTheirs(config.may, asking)
      }
      if (asking.via.kind === 'token' && asking.via.scope === 'read' && !isReading(request)) {
        reply.header('www-authenticate', 'Bearer error="insufficient_scope", scope="write"')
        throw forbidden('This token may read only. Make one that may write.')
      }
    })
    app.addHook('preValidation', async (request) => {
      if (request.routeOptions.config?.open === true || request.is404) return
      if (request.askingOrNobody === null) throw unauthorized(request)
    })
  },
  { name: 'asking', dependencies: ['dependencies', '@fastify/cookie'] },
)

/** All that a kitchen screen may see. */
const screenHome = '/kitchen'

/** A program by its token (calls only), else a browser by its session's cookie; null: nobody. */
async function resolve(request: FastifyRequest): Promise<Asking | null> {
  const { server } = request
  const now = server.clock.now()
  const { authorization } = request.headers
  if (isApi(request) && authorization !== undefined) {
    const token = /^Bearer (glut_[\w-]{43})$/.exec(authorization)?.[1]
    return token === undefined ? null : askingByToken(server.prisma, token, now)
  }
  const token = request.cookies[sessionCookie(server.settings)]
  return token === undefined || token.length > 100 ? null : askingBySession(server.prisma, token, now)
}

/** How a program is asked for its token: RFC 6750, section 3. */
function challenge({ headers }: FastifyRequest): string {
  return headers.authorization === undefined ? 'Bearer' : 'Bearer error="invalid_token"'
}

function unauthorized(request: FastifyRequest): Failure {
  if (isApi(request)) {
    return new Failure('unauthorized', 'Send a token that holds: Authorization: Bearer glut_…')
  }
  const words = 'You are not signed in, or were signed out meanwhile.'
  if (!sendsForm(request))
    return new Failure('unauthorized', words, { onward: { href: signInPath(), text: 'Sign in' } })
  const onward = { href: signInPath(pageOfForm(request)), text: 'Sign in' }
  const goOn = 'Leave this page open, sign in in another window, and then send the form again.'
  return new Failure('unauthorized', `${words} ${goOn}`, { onward })
}

function notTheirs(may: May, { role }: Asking): Failure {
  if (role === 'screen') {
    return new Failure('forbidden', 'A kitchen screen shows the work of the day and lets it be ticked off, no more.', {
      onward: { href: screenHome, text: 'See the work of the day' },
    })
  }
  return forbidden(`That is for ${rolesInWords(may.roles)}. A steward of your co-op can change what you may.`)
}

function isReading({ method }: FastifyRequest): boolean {
  return method === 'GET' || method === 'HEAD'
}

/** The host name of a Host header, lower case and without port; null when there is none. */
export function hostName(header: string | undefined): string | null {
  return header === undefined ? null : (/^(\[[^\]]*\]|[^:]*)(:\d*)?$/.exec(header.toLowerCase())?.[1] ?? null)
}

function refuseForeignHost(request: FastifyRequest, allowed: ReadonlySet<string>): void {
  const name = hostName(request.headers.host)
  if (name === null) throw new Failure('bad-request', 'The request does not say which host it is for.')
  if (allowed.has(name)) return
  throw forbidden('This kitchen is not known under that name. The person who hosts it can add it to ALLOWED_HOSTS.')
}

function isForwarded(request: FastifyRequest): boolean {
  return request.headers['x-forwarded-for'] !== undefined || request.headers.forwarded !== undefined
}
