import type { FastifyRequest } from 'fastify'
import { isApi } from './csrf.ts'

/** Where people sign in, and where they are led to afterwards. */
export function signInPath(next = '/'): string {
  return next === '/' ? '/sign-in' : `/sign-in?next=${encodeURIComponent(next)}`
}

/**
 * A path of this service to lead to, as it came in with a request. Anything else leads to "/": another host (`//host`,
 * `\\host`, `https:`), the same in percent codes, what cannot be read, and the door itself.
 */
export function safeNext(given: unknown): string {
  if (typeof given !== 'string' || given.length > 2000 || !isLocal(given)) return '/'
  // a proxy or a browser may take the codes off once more: none of the layers may lead elsewhere. The query leads nowhere
  let [decoded = ''] = given.split(/[?#]/)
  for (let layer = 0; layer < 4 && decoded.includes('%'); layer += 1) {
    try {
      decoded = decodeURIComponent(decoded)
    } catch {
      return '/'
    }
    if (!isLocalDecoded(decoded)) return '/'
  }
  return /^\/sign-(in|out)(\/|\?|$)/.test(given) ? '/' : given
}

function isLocal(path: string): boolean {
  return /^\/(?![/\\])[\x21-\x7e]*$/.test(path) && isLocalDecoded(path)
}

/** What browsers read as a path of the same host: one slash, and nothing in front of the query that they turn into one. */
function isLocalDecoded(path: string): boolean {
  const [way = ''] = path.split(/[?#]/)
  return /^\/(?![/\\])/.test(path) && !way.includes('\\') && !/\p{Cc}/u.test(path)
}

/** A browser that goes to a page, and can be led to another: not a call, not a part of a page, not an event stream. */
export function goesToPage(request: FastifyRequest): boolean {
  if (request.method !== 'GET' && request.method !== 'HEAD') return false
  if (isApi(request) || request.headers['hx-request'] !== undefined) return false
  const goal = request.headers['sec-fetch-dest']
  if (goal !== undefined) return goal === 'document'
  const { accept } = request.headers
  return accept === undefined || accept.includes('text/html') || accept.includes('*/*')
}

/** Sends a form of a page, whose fields are worth keeping. */
export function sendsForm(request: FastifyRequest): boolean {
  const type = request.headers['content-type'] ?? ''
  return request.method === 'POST' && !isApi(request) && /^application\/x-www-form-urlencoded\s*(;|$)/i.test(type)
}

/** The page of this service from which a form was sent, as its browser says; "/" where it does not. */
export function pageOfForm({ headers }: FastifyRequest): string {
  const { referer, host } = headers
  if (referer === undefined || !URL.canParse(referer)) return '/'
  const page = new URL(referer)
  return page.host === host ? safeNext(page.pathname + page.search) : '/'
}
