import type { FastifyRequest } from 'fastify'
import { joinPath, resetPath } from '../paths.ts'
import type { Invitation } from './queries.ts'

/** The whole address that somebody opens: by the service's public address, or by the host name that was checked. */
export function linkFor(request: FastifyRequest, kind: Invitation['kind'], secret: string): string {
  const { publicAddress } = request.server.settings
  const origin = publicAddress?.origin ?? `${request.protocol}://${request.headers.host}`
  return origin + (kind === 'join' ? joinPath(secret) : resetPath(secret))
}
