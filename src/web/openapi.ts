import swagger from '@fastify/swagger'
import plugin from 'fastify-plugin'
import { jsonSchemaTransform } from 'fastify-type-provider-zod'
import { isApi } from './csrf.ts'
import { type May, rolesInWords } from './roles.ts'

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
        components: {
          securitySchemes: {
            token: {
              type: 'http',
              scheme: 'bearer',
              bearerFormat: 'glut_ and 43 characters',
              description:
                'A token of a member, made at /account/tokens. It may read, or read and write, and never more than the member’s role.',
            },
          },
        },
      },
      transform: (route) => {
        if (!isApi(route)) return { schema: { ...(route.schema ?? {}), hide: true }, url: route.url }
        const { schema, url } = jsonSchemaTransform(route)
        const response = typeof schema.response === 'object' ? schema.response : {}
        const { method, config } = route.route
        return {
          url,
          schema: {
            ...schema,
            description: [schema.description, whoMay(method, config?.may)].filter(Boolean).join(' '),
            security: [{ token: [] }],
            response: {
              ...response,
              401: failureAs('No token, or one that does not hold: unknown, over, taken back, or of somebody who left'),
              403: failureAs('The member’s role may not, or the token may read only'),
              default: failureSchema,
            },
          },
        }
      },
    })
    app.get('/openapi.json', { config: { open: true } }, async (_request, reply) => reply.send(app.swagger()))
  },
  { name: 'openapi' },
)

/** "Scope: write. For stewards and planners." */
function whoMay(method: string | string[], may: May | undefined): string {
  const reads = [method].flat().every((one) => one === 'GET' || one === 'HEAD')
  const roles = may === undefined ? 'anyone' : rolesInWords(may.roles)
  return `Scope: ${reads ? 'read' : 'write'}. For ${roles}.`
}

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

const failureAs = (description: string) => ({ ...failureSchema, description })
