import type { FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import type { UnitSystem } from '../core/units/index.ts'
import { Failure, forbidden, unavailable } from '../errors.ts'
import { findSteward } from './queries.ts'

/** Who is asking and for which co-op: all that a feature ever learns about the visitor. */
export type Asking = { coopId: string; memberId: string; name: string; role: 'steward'; coop: CoopWays }

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
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Throws where nobody was resolved (open routes): a feature's routes never are. */
    readonly asking: Asking
    askingOrNobody: Asking | null
  }
  interface FastifyContextConfig {
    /** Answers anyone, and knows nobody: styles, health. */
    open?: boolean
    /** Answers under any host name: health checks call by address. */
    anyHost?: boolean
  }
}

/**
 * Resolves `request.asking` before anything else happens. Refused with 403: a host name that is not ours (so that a
 * foreign page whose name was pointed at this machine gets nowhere), an address outside the steward's networks, and a
 * forwarded request while no proxy is trusted (all visitors would seem to come from the proxy's own address).
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
    app.addHook('onRequest', async (request) => {
      const config = request.routeOptions.config
      if (config?.anyHost !== true) refuseForeignHost(request, app.settings.allowedHosts)
      if (config?.open === true) return
      if (!app.settings.trustProxy && isForwarded(request)) {
        throw forbidden(
          'This request came through a proxy that the service was not told about. Set TRUST_PROXY to yes.',
        )
      }
      if (!isWithin(request.ip, app.settings.stewardNetworks)) {
        throw forbidden(
          'Your device is not on a network that may use this kitchen. The person who hosts it can add it.',
        )
      }
      const steward = await findSteward(app.prisma)
      if (steward === null) throw unavailable('No co-op has been set up yet.')
      request.askingOrNobody = steward
    })
  },
  { name: 'asking', dependencies: ['dependencies'] },
)

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

function isWithin(address: string, networks: { check(address: string, family: 'ipv4' | 'ipv6'): boolean }): boolean {
  return networks.check(address, address.includes(':') ? 'ipv6' : 'ipv4')
}
