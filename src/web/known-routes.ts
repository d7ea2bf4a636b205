import type { FastifyInstance } from 'fastify'
import plugin from 'fastify-plugin'

/** One address as it was registered, with its method. */
export type KnownRoute = { method: string; url: string }

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
    app.addHook('onRoute', ({ method, url }) => {
      for (const one of Array.isArray(method) ? method : [method]) all.push({ method: one, url })
    })
  },
  { name: 'known-routes' },
)

/** The methods that an address (query or not) can be called by; empty when it is not known at all. */
export function methodsFor(app: FastifyInstance, address: string): string[] {
  const path = address.split('?')[0] ?? ''
  return [...new Set(app.knownRoutes.filter(({ url }) => fits(url, path)).map(({ method }) => method))]
}

function fits(pattern: string, path: string): boolean {
  const wanted = pattern.split('/')
  const given = path.split('/')
  return (
    wanted.length === given.length &&
    wanted.every((part, i) => (part.startsWith(':') ? given[i] !== '' : part === given[i]))
  )
}
