import type { FastifyRequest } from 'fastify'
import plugin from 'fastify-plugin'
import { createMeasure } from '../db/room.ts'
import { Failure } from '../errors.ts'
import type { CoopWays } from './asking.ts'
import { formatFor } from './format.ts'
import { BODY_LIMIT_BYTES } from './limits.ts'
import { loggedError } from './log.ts'
import { createRooms, type Rooms } from './rooms.ts'
import { wasActedOn } from './submissions.ts'

declare module 'fastify' {
  interface FastifyInstance {
    /** What each co-op takes of the room that the setting MEGABYTES_PER_COOP gives it. */
    rooms: Pick<Rooms, 'look'>
  }
}

const MEGABYTE = 1_000_000
const READING = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * What a full co-op may still do, by the last word of the address: take back, end, leave, take data out. What is deleted
 * by a call has the method DELETE.
 */
export const worksWhenFull: readonly string[] = [
  'removal',
  'undo',
  'reversal',
  'back',
  'stop',
  'drop',
  'end',
  'closure',
  'closing',
  'retirement',
  'withdrawal',
  'leaving',
  'everything.json',
  'tables.zip',
  'sign-out',
  'sign-out-everywhere',
  'end-others',
]
/** And by the whole address: who may, a new password, and a warning of bad jars must not wait for room. */
export const addressesWhenFull: readonly string[] = [
  '/account/password',
  '/coop/data/former-members/:id',
  '/people/:id',
  '/api/people/:id',
  '/recalls',
  '/api/recalls',
  '/recalls/:id/lift',
  '/api/recalls/:id/lift',
]

/**
 * Refuses, with 507 and nothing done, what a member or a kitchen screen sends when their co-op has filled its room, so
 * that one co-op cannot fill the disk for the others on the same service. What was typed is on the page of the refusal, to
 * be sent again. Whoever is not signed in (the door, an invitation) is not asked about: the one has no co-op yet, and
 * invitations cannot be made when it is full. What was acted on before is told again. Where the room cannot be measured
 * nobody is refused. How exact it is stands at createRooms.
 */
export const room = plugin(
  async (app) => {
    const limit = app.settings.megabytesPerCoop
    const measure = createMeasure({ ...app.longTransactions, prisma: app.prisma })
    const rooms = createRooms({ limitBytes: limit * MEGABYTE, measure, now: () => performance.now() })
    app.decorate('rooms', rooms)
    if (limit === 0) return

    app.addHook('preHandler', async (request) => {
      const asking = request.askingOrNobody
      if (asking === null || request.is404 || READING.has(request.method) || isAllowedWhenFull(request)) return
      let full: Awaited<ReturnType<Rooms['fullFor']>>
      try {
        full = await rooms.fullFor(asking.coopId, sentBytes(request))
      } catch (error) {
        request.log.warn({ error: loggedError(error) }, 'what a co-op takes was not measured')
        return
      }
      if (full === null || (await wasActedOn(request))) return
      throw new Failure('full', fullInWords(full.bytes, limit, asking.coop), {
        ...(asking.role === 'steward' ? { onward: { href: '/coop/data', text: 'See what takes the room' } } : {}),
      })
    })
    app.addHook('onResponse', async (request, reply) => {
      const asking = request.askingOrNobody
      if (asking === null || reply.statusCode >= 400 || !isAllowedWhenFull(request)) return
      if (!READING.has(request.method)) rooms.freed(asking.coopId)
    })
  },
  { name: 'room', dependencies: ['dependencies', 'asking', 'submissions'] },
)

/** "12.3 of 1,000 MB", for eyes. */
export function roomInWords(bytes: number, limitMegabytes: number, ways: CoopWays): string {
  const format = formatFor(ways)
  return `${format.number(bytes / MEGABYTE, 1)} of ${format.number(limitMegabytes)} MB`
}

function fullInWords(bytes: number, limit: number, coop: CoopWays): string {
  return `Your co-op has filled the room that it has here, ${roomInWords(bytes, limit, coop)}, so nothing can be added. Looking, undoing, deleting and taking data out still work. Delete what is not needed, or ask the person who hosts the kitchen for more room (MEGABYTES_PER_COOP).`
}

function isAllowedWhenFull({ method, routeOptions }: FastifyRequest): boolean {
  const url = routeOptions.url ?? ''
  return method === 'DELETE' || worksWhenFull.includes(url.split('/').at(-1) ?? '') || addressesWhenFull.includes(url)
}

/** As the request says of itself; where it does not say, as much as it may be. */
function sentBytes({ headers }: FastifyRequest): number {
  const said = headers['content-length']
  return said === undefined ? BODY_LIMIT_BYTES : Number(said)
}
