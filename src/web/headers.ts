import helmet from '@fastify/helmet'
import plugin from 'fastify-plugin'
import { isHttps } from './sessions/cookie.ts'

/**
 * The headers of every answer. No inline script or style anywhere, so the policy needs no exceptions. Browsers are told
 * to stay with https (for a year) only where the public address is https: in a home network this is plain http.
 */
export const headers = plugin(
  async (app) => {
    await app.register(helmet, {
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
          defaultSrc: ["'none'"],
          scriptSrc: ["'self'"],
          styleSrc: ["'self'"],
          imgSrc: ["'self'", 'data:'],
          connectSrc: ["'self'"],
          formAction: ["'self'"],
          baseUri: ["'none'"],
          frameAncestors: ["'none'"],
        },
      },
      strictTransportSecurity: isHttps(app.settings) ? { maxAge: 31_536_000, includeSubDomains: false } : false,
      referrerPolicy: { policy: 'same-origin' },
      xFrameOptions: { action: 'deny' },
    })
    app.addHook('onSend', async (_request, reply) => {
      if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store')
    })
  },
  { name: 'headers', dependencies: ['dependencies'] },
)
