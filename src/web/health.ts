import { setTimeout as sleep } from 'node:timers/promises'
import plugin from 'fastify-plugin'
import type { Readiness } from '../db/client.ts'
import { only } from './answers.ts'
import type { Dependencies, ServiceState } from './dependencies.ts'
import { mayLook } from './roles.ts'

const PING_MS = 3000

/** GET /live: the process runs. GET /ready: it can serve (started, not stopping, database answers). */
export const health = plugin<{ state: ServiceState; database: Dependencies['database'] }>(
  async (app, { state, database }) => {
    const config = { open: true, anyHost: true, rateLimit: false } as const
    app.get('/live', { ...only(mayLook), config }, async () => ({ live: true }))
    app.get('/ready', { ...only(mayLook), config }, async (request, reply) => {
      const obstacle = await findObstacle(state, database, (reason) => request.log.warn({ reason }, 'not ready'))
      if (obstacle === null) return { ready: true }
      return reply.status(503).header('retry-after', '2').send({ ready: false, because: obstacle })
    })
  },
  { name: 'health' },
)

async function findObstacle(
  state: ServiceState,
  database: Dependencies['database'],
  tell: (reason: string) => void,
): Promise<'starting' | 'closing' | 'database' | null> {
  if (state.phase !== 'ready') return state.phase
  try {
    const answer = await Promise.race([database.checkReady(), tooLate()])
    if (answer.ready) return null
    tell(answer.reason)
  } catch (error) {
    tell(error instanceof Error ? error.name : 'unknown')
  }
  return 'database'
}

async function tooLate(): Promise<Readiness> {
  await sleep(PING_MS, undefined, { ref: false })
  return { ready: false, reason: 'no answer in time' }
}
