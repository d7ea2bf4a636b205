import type { FastifyInstance } from 'fastify'
import { hashOfSecret } from '../../web/sessions/index.ts'

/**
 * What is kept of a code. A code is short: a plain hash of it could be tried through by whoever reads the database. So it
 * is signed first, with the secret that is not in the database.
 */
export function codeHasher(app: FastifyInstance): (code: string) => string {
  return (code) => hashOfSecret(app.signCookie(`pairing ${code}`))
}
