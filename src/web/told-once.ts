import type { FastifyReply, FastifyRequest } from 'fastify'

/**
 * Carries a new secret from the form to the page that shows it, inside the browser that made it: the service keeps the
 * hash alone, and a secret in the path would stay in the browser's history and in the note of the form that was sent.
 *
 * @param path of the page that shows it: no other is sent the cookie
 */
export function tellAt(reply: FastifyReply, path: string, secret: string): void {
  reply.setCookie(COOKIE, secret, { ...optionsFor(path), maxAge: COOKIE_SECONDS })
}

/** What is to be shown at this page; '' for nothing, or nothing any more. */
export function toldAt(request: FastifyRequest): string {
  return request.cookies[COOKIE]?.slice(0, 100) ?? ''
}

/** From now on the page shows it no more. */
export function forgetTold(request: FastifyRequest, reply: FastifyReply, path: string): void {
  if (toldAt(request) !== '') reply.clearCookie(COOKIE, optionsFor(path))
}

const COOKIE = 'glut_told'
const COOKIE_SECONDS = 600

function optionsFor(path: string) {
  return { path, httpOnly: true, sameSite: 'strict', secure: 'auto' } as const
}
