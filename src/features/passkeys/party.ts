import type { FastifyRequest } from 'fastify'
import { hostName } from '../../web/asking.ts'

/** The service as a browser binds passkeys to it: the name that they hold for, and the address that they are used at. */
export type Party = { id: string; name: string; origin: string }

/** From the setting PUBLIC_ADDRESS; where that is not set, from the request's host name, which was checked (asking.ts). */
export function partyOf(request: FastifyRequest): Party {
  const { publicAddress } = request.server.settings
  if (publicAddress !== null) return { id: publicAddress.hostname, name: 'Glutworks', origin: publicAddress.origin }
  const { host = '' } = request.headers
  return { id: hostName(host) ?? '', name: 'Glutworks', origin: `${request.protocol}://${host}` }
}
