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
      transform: (route) => {
        if (!isApi(route)) return { schema: { ...(route.schema ?? {}), hide: true }, url: route.url }
        const { schema, url } = jsonSchemaTransform(route)
        const response = typeof schema.response === 'object' ? schema.response : {}
        return { url, schema: { ...schema, response: { ...response, default: failureSchema } } }
      },
    })
    app.get('/openapi.json', async (_request, reply) => reply.send(app.swagger()))
  },
  { name: 'openapi' },
)

/** The one shape of every failure (see errors.ts). */
const failureSchema = {
  description: 'What went wrong, in words; `code` for programs',
  type: 'object',
  required: ['error'],
  properties: {
    error: {
      type: 'object',
      required: ['code', 'message', 'requestId'],
      properties: {
        code: { type: 'string' },
        message: { type: 'string' },
        fields: { type: 'object', additionalProperties: { type: 'string' }, description: 'Words by field' },
        requestId: { type: 'string' },
      },
    },
  },
}
