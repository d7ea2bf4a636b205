import formbody from '@fastify/formbody'
import rateLimit from '@fastify/rate-limit'
import plugin from 'fastify-plugin'
import { Failure } from '../errors.ts'

/** Bodies above this are refused with 413. */
export const BODY_LIMIT_BYTES = 256 * 1024
const FIELDS_AT_MOST = 1000
const ADDRESS_AT_MOST = 4000

/** Reads forms, and limits how much and how often. The limit by the minute is left out where the setting is 0. */
export const limits = plugin(
  async (app) => {
    app.addHook('onRequest', async (request) => {
      if (request.url.length <= ADDRESS_AT_MOST) return
      throw new Failure('address-too-long', 'Shorten the address and try again.')
    })
    await app.register(formbody, { bodyLimit: BODY_LIMIT_BYTES, parser: readFields })
    if (app.settings.requestsPerMinute === 0) return
    await app.register(rateLimit, { max: app.settings.requestsPerMinute, timeWindow: '1 minute' })
  },
  { name: 'limits', dependencies: ['dependencies'] },
)

/** Fields by name; a name that is given more than once has a list. The object has no prototype. */
function readFields(text: string): Record<string, string | string[]> {
  const fields: Record<string, string | string[]> = Object.create(null)
  let count = 0
  for (const [name, value] of new URLSearchParams(text)) {
    if (++count > FIELDS_AT_MOST) throw new Failure('too-large', 'The form has more fields than can be taken at once.')
    const before = fields[name]
    if (before === undefined) fields[name] = value
    else if (typeof before === 'string') fields[name] = [before, value]
    else before.push(value)
  }
  return fields
}
