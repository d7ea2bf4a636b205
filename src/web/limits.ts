import formbody from '@fastify/formbody'
import rateLimit, { type FastifyRateLimitStore, type FastifyRateLimitStoreCtor } from '@fastify/rate-limit'
import type { FastifyReply, FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { Failure } from '../errors.ts'
import { loggedError } from './log.ts'
import { type Counter, localCounter, rateKey, storedCounter } from './rates.ts'

/** Bodies above this are refused with 413. */
export const BODY_LIMIT_BYTES = 256 * 1024
const FIELDS_AT_MOST = 1000
const ADDRESS_AT_MOST = 4000
const WINDOW_MS = 60_000
/** Of the requests in a minute so many may be for what costs much: documents, whole tables, searches. */
const HEAVY_PART = 1 / 10

declare module 'fastify' {
  interface FastifyContextConfig {
    /** Costs much: a document that is drawn, a table that is sent whole, a search. Fewer of them are answered in a minute. */
    heavy?: boolean
  }
}

/**
 * Reads forms, and limits how much and how often: each address by the minute, each member by the minute as well, from
 * wherever they ask, and a tenth of that for what costs much. On a server the counts are in the database, so that they
 * hold across processes; a database that does not answer refuses nobody here, for the request will meet it anyway. No
 * limit by the minute where the setting is 0.
 */
export const limits = plugin(
  async (app) => {
    app.addHook('onRequest', async (request) => {
      if (request.url.length <= ADDRESS_AT_MOST) return
      throw new Failure('address-too-long', 'Shorten the address and try again.')
    })
    await app.register(formbody, { bodyLimit: BODY_LIMIT_BYTES, parser: readFields })
    const { requestsPerMinute: max } = app.settings
    if (max === 0) return
    const counter = app.databaseKind === 'server' ? storedCounter(app.prisma) : localCounter()
    const sweeping = setInterval(() => {
      counter.sweep().catch((error: unknown) => app.log.warn({ error: loggedError(error) }, 'counts were not swept'))
    }, WINDOW_MS).unref()
    app.addHook('onClose', async () => clearInterval(sweeping))

    const store = storeOf(counter)
    await app.register(rateLimit, { max, timeWindow: WINDOW_MS, store, skipOnError: true })

    // after everything that says who asks, and before what was sent is read
    app.addHook('preParsing', async (request, reply) => {
      const limited = limitsFor(request, max)
      if (limited.length === 0) return
      let counted: Awaited<ReturnType<Counter['count']>>
      try {
        counted = await counter.count(
          limited.map(({ key }) => key),
          WINDOW_MS,
        )
      } catch (error) {
        request.log.warn({ error: loggedError(error) }, 'a request was not counted')
        return
      }
      limited.forEach(({ most }, at) => {
        const { current, ttl } = counted[at] ?? { current: 0, ttl: 0 }
        if (current > most) refuse(reply, ttl)
      })
    })
  },
  { name: 'limits', dependencies: ['dependencies'] },
)

/** Whose requests count towards what; none for nobody, who is counted by address alone. */
function limitsFor(request: FastifyRequest, max: number): { key: string; most: number }[] {
  const asking = request.askingOrNobody
  const { config } = request.routeOptions
  if (!asking || config?.rateLimit === false) return []
  const who = JSON.stringify([asking.coopId, asking.memberId ?? asking.via])
  const general = { key: rateKey('member', who), most: max }
  return config?.heavy === true
    ? [general, { key: rateKey('heavy', who), most: Math.max(1, Math.floor(max * HEAVY_PART)) }]
    : [general]
}

function refuse(reply: FastifyReply, ttl: number): never {
  reply.header('retry-after', Math.max(1, Math.ceil(ttl / 1000)))
  throw Object.assign(new Error('too many requests in a minute'), { statusCode: 429 })
}

/** The counter as @fastify/rate-limit wants it: a class that it makes an object of. */
function storeOf(counter: Counter): FastifyRateLimitStoreCtor {
  return class implements FastifyRateLimitStore {
    incr(
      address: string,
      callback: (error: Error | null, result?: { current: number; ttl: number }) => void,
      timeWindow = WINDOW_MS,
    ): void {
      counter.count([rateKey('address', address)], timeWindow).then(
        ([counted]) => callback(null, counted),
        (error: unknown) => callback(error instanceof Error ? error : new Error(String(error))),
      )
    }

    child(): this {
      return this
    }
  }
}

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
