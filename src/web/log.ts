import plugin from 'fastify-plugin'
import { pino } from 'pino'
import type { Settings } from '../settings.ts'

/** JSON lines with times in UTC, on standard output. */
export function makeLog(level: Settings['logLevel'], destination?: pino.DestinationStream) {
  const options = { level, base: null, timestamp: pino.stdTimeFunctions.isoTime, messageKey: 'what' }
  return destination === undefined ? pino(options) : pino(options, destination)
}

/** One line for each answer: who, which route, how it ended. No address, query, cookie, body or header. */
export const requestLog = plugin(
  async (app) => {
    app.addHook('onResponse', async (request, reply) => {
      // styles, health and the door would fill it; whoever comes in by the door is told of
      const quiet = request.routeOptions.config?.open === true && request.method !== 'POST'
      if (quiet && reply.statusCode < 400) return
      request.log.info(
        {
          method: request.method,
          route: request.routeOptions.url ?? 'unknown',
          status: reply.statusCode,
          ms: Math.round(reply.elapsedTime),
          ...(request.askingOrNobody
            ? { coop: request.askingOrNobody.coopId, member: request.askingOrNobody.memberId }
            : {}),
        },
        'answered',
      )
    })
  },
  { name: 'request-log' },
)

/**
 * What of an error may be written down: its kind, code and where it was thrown. Its message only where it cannot quote
 * data: database and schema errors repeat the values they were given.
 */
export function loggedError(error: unknown): { kind: string; code?: string; message?: string; at: string[] } {
  if (!(error instanceof Error)) return { kind: typeof error, at: [] }
  const quotes = /^(Prisma|DriverAdapter|Zod|Syntax)/.test(error.name) || 'validation' in error
  return {
    kind: error.name,
    ...('code' in error && typeof error.code === 'string' ? { code: error.code } : {}),
    ...(quotes ? {} : { message: error.message.slice(0, 500) }),
    at: framesOf(error)
      .split('\n')
      .filter((line) => /^\s+at /.test(line))
      .slice(0, 12)
      .map((line) => line.trim()),
  }
}

/** The stack without the message that stands before it, which may have lines that look like frames. */
function framesOf({ stack = '', message }: Error): string {
  return stack.slice(stack.indexOf(message) + message.length)
}
