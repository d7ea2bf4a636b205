import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'
import type { Role } from './roles.ts'

/** One address as it was registered, with its method and who may; "anyone" where it is open. */
export type KnownRoute = { method: string; url: string; roles: readonly Role[] | 'anyone' }

declare module 'fastify' {
  interface FastifyInstance {
    /** Every route of the service, in the order of registration; read by tests that must miss none. */
    knownRoutes: KnownRoute[]
  }
}

/** Remembers each route, so that a known address called by a wrong method can be told from an unknown one. */
export const knownRoutes = plugin(
  async (app) => {
    const all: KnownRoute[] = []
    app.decorate('knownRoutes', all)
    app.addHook('onRoute', ({ method, url, config }) => {
      // one that says neither is refused by asking.ts
      const roles = config?.open === true ? 'anyone' : (config?.may?.roles ?? [])
      for (const one of Array.isArray(method) ? method : [method]) all.push({ method: one, url, roles })
    })
  },
  { name: 'known-routes' },
)

/** The methods that an address (query or not) can be called by; empty when it is not known at all. */
export function methodsFor(app: FastifyInstance, address: string): string[] {
  const path = address.split('?')[0] ?? ''
  return [...new Set(app.knownRoutes.filter(({ url }) => fits(url, path)).map(({ method }) => method))]
}

/** The route that an address (query or not) called by this method leads to; null when none does. */
export function routeFor(routes: readonly KnownRoute[], method: string, address: string): KnownRoute | null {
  const path = address.split(/[?#]/)[0] ?? ''
  const fitting = routes.filter((route) => route.method === method && fits(route.url, path))
  // as the router does: what stands as written comes before what any text fits
  return fitting.sort((a, b) => parametersIn(a.url) - parametersIn(b.url))[0] ?? null
}

function parametersIn(pattern: string): number {
  return pattern.split('/:').length - 1
}

function fits(pattern: string, path: string): boolean {
  const wanted = pattern.split('/')
  const given = path.split('/')
  return (
    wanted.length === given.length &&
    wanted.every((part, i) => (part.startsWith(':') ? given[i] !== '' : part === given[i]))
  )
}
