import helmet from '@fastify/helmet'
import plugin from 'fastify-plugin'

/**
 * The headers of every answer. No inline script or style anywhere, so the policy needs no exceptions. No HSTS and no
 * upgrade to https: in a home network this is plain http, and a proxy that adds https adds its own.
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
      strictTransportSecurity: false,
      referrerPolicy: { policy: 'same-origin' },
      xFrameOptions: { action: 'deny' },
    })
    app.addHook('onSend', async (_request, reply) => {
      if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store')
    })
  },
  { name: 'headers' },
)
