import swagger from '@fastify/swagger'
import plugin from 'fastify-plugin'
import { jsonSchemaTransform } from 'fastify-type-provider-zod'
import { isApi } from './csrf.ts'

/** GET /openapi.json describes the calls below /api, made from the schemas that also check them. */
export const openapi = plugin(
  async (app) => {
    await app.register(swagger, {
      openapi: {
        openapi: '3.1.0',
        info: {
          title: 'Glutworks',
          version: '0.1.0',
          description:
            'Calls for programs. Weights are whole grams, dates ISO, times UTC. Writes take an Idempotency-Key.',
          license: { name: 'MIT', url: 'https://spdx.org/licenses/MIT.html' },
        },
      },
      transform: (route) =>
        isApi(route) ? jsonSchemaTransform(route) : { schema: { ...(route.schema ?? {}), hide: true }, url: route.url },
    })
    app.get('/openapi.json', async (_request, reply) => reply.send(app.swagger()))
  },
  { name: 'openapi' },
)
