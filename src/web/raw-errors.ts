import type { Socket } from 'node:net'
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify'
import { isApi } from './csrf.ts'
import { byStatus } from './failure-words.ts'
import { markup } from './markup.ts'

/**
 * Answers to what is not yet a request that the app could see: headers that are too large, an address that cannot be
 * decoded, a broken line. A small page without style, written by hand.
 */
export function rawPage(status: number, requestId: string | null): string {
  const { title, message } = byStatus(status)
  const number = requestId === null ? '' : markup`<p>Number of this request: <code>${requestId}</code></p>`
  return markup`<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${title} · Glutworks</title><meta name="viewport" content="width=device-width, initial-scale=1"></head><body><main><h1>${title}</h1><p>${message}</p>${number}<p><a href="/">Go to Today</a></p></main></body></html>`
    .text
}

/** Headers for such a page; the app's own are not there yet. */
export const rawHeaders = {
  'content-type': 'text/html; charset=utf-8',
  'cache-control': 'no-store',
  'content-security-policy': "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'none'",
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'same-origin',
}

/** For Fastify's clientErrorHandler: writes to the bare connection and closes it. */
export function answerBrokenRequest(error: Error & { code?: string }, socket: Socket): void {
  if (error.code === 'ECONNRESET' || socket.destroyed) return
  const status = error.code === 'HPE_HEADER_OVERFLOW' ? 431 : error.code === 'ERR_HTTP_REQUEST_TIMEOUT' ? 408 : 400
  const body = rawPage(status, null)
  const head = Object.entries({ ...rawHeaders, 'content-length': String(Buffer.byteLength(body)), connection: 'close' })
  const lines = [`HTTP/1.1 ${status} ${reasons[status]}`, ...head.map(([name, value]) => `${name}: ${value}`)]
  if (socket.writable) socket.write(`${lines.join('\r\n')}\r\n\r\n${body}`)
  socket.destroySoon()
}

/** For Fastify's frameworkErrors: an address that cannot be decoded, or with a part beyond all measure. */
export function answerUndecodable(error: FastifyError, request: FastifyRequest, reply: FastifyReply): void {
  const status = error.statusCode === 414 ? 414 : 400
  if (isApi(request)) {
    const { code, message } = byStatus(status)
    const body = JSON.stringify({ error: { code, message, requestId: request.id } })
    reply
      .status(status)
      .headers({ ...rawHeaders, 'content-type': 'application/json; charset=utf-8' })
      .send(body)
    return
  }
  reply.status(status).headers(rawHeaders).send(rawPage(status, request.id))
}

const reasons: Record<number, string> = {
  400: 'Bad Request',
  408: 'Request Timeout',
  431: 'Request Header Fields Too Large',
}
