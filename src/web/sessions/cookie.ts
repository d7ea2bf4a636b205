import type { CookieSerializeOptions } from '@fastify/cookie'
import type { Settings } from '../../settings.ts'

/** Whether people reach the service by https, as the setting PUBLIC_ADDRESS says. */
export function isHttps(settings: Pick<Settings, 'publicAddress'>): boolean {
  return settings.publicAddress?.protocol === 'https:'
}

/** The session cookie's name. With https the prefix has the browser itself hold it to this host and to https. */
export function sessionCookie(settings: Pick<Settings, 'publicAddress'>): string {
  return isHttps(settings) ? '__Host-glut_session' : 'glut_session'
}

/** How the session cookie is set, and with `maxAge` left out, how it is taken back. */
export function sessionCookieOptions(
  settings: Pick<Settings, 'publicAddress'>,
  maxAgeSeconds?: number,
): CookieSerializeOptions {
  return {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: isHttps(settings),
    ...(maxAgeSeconds === undefined ? {} : { maxAge: maxAgeSeconds }),
  }
}
