import { afterEach, beforeEach, expect, it } from 'vitest'
import { openServerSql } from '../../src/db/server-database.ts'
import { randomId } from '../../src/ids.ts'
import { createHolds } from '../../src/jobs/holds.ts'
import type { JobKey, JobQueue, Work } from '../../src/jobs/queue.ts'
import { createSharedQueue } from '../../src/jobs/shared-queue.ts'
import { describeServer, type FreshDatabase, freshDatabase } from '../support/database.ts'

// The queue on a real server, with work that a test decides on.
let fresh: FreshDatabase
let server: ReturnType<typeof openServerSql>
let queues: JobQueue[]
let open: Set<string>
const troubles: string[] = []

beforeEach(async () => {
  fresh = await freshDatabase()
  server = openServerSql({ url: fresh.options.url ?? '' })
  queues = []
  open = new Set()
  troubles.length = 0
})
afterEach(async () => {
  await Promise.all(queues.map((queue) => queue.close()))
  await server.close()
  await fresh.dispose()
})

const keyOf = (id: string): JobKey => ({ coopId: 'larkrise', id })

function queueWith(work: Partial<Work>, holdSeconds = 2): JobQueue {
  const queue = createSharedQueue({
    sql: server.sql,
    newId: randomId,
    tell: (words) => void troubles.push(words),
    holdSeconds,
    sweepMs: 300,
  })
  queue.work('division', {
    atATime: 1,
    run: async ({ id }) => void open.delete(id),
    heed: async () => {},
    abandon: () => {},
    giveUp: async ({ id }) => void open.delete(id),
    unanswered: async () => [...open].map(keyOf),
    ...work,
  })
  queues.push(queue)
  return queue
}

describeServer('the queue that processes share', () => {
  it('comes up in two at once, makes its tables, and does each row once', async () => {
    const done: string[] = []
    const run = async ({ id }: JobKey) => {
      // a row may stand in line once more after it was answered: nothing for it, as the contract has it
      if (!open.has(id)) return
      await new Promise((resolve) => setTimeout(resolve, 30))
      done.push(id)
      open.delete(id)
    }
    const both = [queueWith({ run }), queueWith({ run })]
    for (let n = 0; n < 20; n++) open.add(`row-${n}`)
    await Promise.all(both.map((queue) => queue.start()))
    both.forEach((queue, at) => {
      for (const id of open) if (Number(id.slice(4)) % 2 === at) queue.enqueue('division', keyOf(id))
    })
    await expect.poll(() => open.size, { timeout: 20_000 }).toBe(0)
    expect(done.sort()).toEqual([...new Set(done)])
    expect(done).toHaveLength(20)
    await expect.poll(() => fresh.database.prisma.jobHold.count(), { timeout: 5_000 }).toBe(0)
  }, 60_000)

  it('finds a row that was noted and never put in line', async () => {
    const queue = queueWith({})
    await queue.start()
    open.add('forgotten')
    await expect.poll(() => open.size, { timeout: 10_000 }).toBe(0)
  }, 60_000)

  it('takes over what a process had that lives no more, and not what one has that lives', async () => {
    open.add('lost')
    const dead = await createHolds(server.sql, 2).take('division', keyOf('lost'), 'a process that was killed')
    expect(dead?.tries).toBe(1)
    const began = performance.now()
    await queueWith({}).start()
    await expect.poll(() => open.size, { timeout: 15_000, interval: 50 }).toBe(0)
    expect(performance.now() - began).toBeGreaterThan(1_500)

    // three holds long: it is renewed all the while
    let starts = 0
    const slow = async ({ id }: JobKey) => {
      starts += 1
      await new Promise((resolve) => setTimeout(resolve, 6_000))
      open.delete(id)
    }
    const others = [queueWith({ run: slow }), queueWith({ run: slow })]
    await queues[0]?.close()
    await Promise.all(others.map((queue) => queue.start()))
    open.add('slow')
    await expect.poll(() => open.size, { timeout: 20_000 }).toBe(0)
    expect(starts).toBe(1)
  }, 90_000)

  it('works again on what could not be saved, and gives up what was begun too often without an end', async () => {
    let tries = 0
    let givenUp = 0
    open.add('fails')
    const run = async () => {
      tries += 1
      throw new Error('nothing could be saved')
    }
    const giveUp = async ({ id }: JobKey) => {
      givenUp += 1
      open.delete(id)
    }
    await queueWith({ run, giveUp }).start()
    await expect.poll(() => open.size, { timeout: 40_000 }).toBe(0)
    expect([tries, givenUp]).toEqual([5, 1])
    expect(troubles.filter((words) => words.includes('nothing of it was saved'))).toHaveLength(5)
  }, 90_000)

  it('gives back what it has when it closes, without counting that as a try', async () => {
    open.add('interrupted')
    let end = () => {}
    const first = queueWith({
      run: () =>
        new Promise((resolve) => {
          end = resolve
        }),
    })
    await first.start()
    await expect.poll(() => fresh.database.prisma.jobHold.count(), { timeout: 10_000 }).toBe(1)
    const closing = first.close()
    end()
    await closing
    expect(await fresh.database.prisma.jobHold.findFirst()).toMatchObject({ tries: 0 })
    await queueWith({}).start()
    await expect.poll(() => open.size, { timeout: 10_000 }).toBe(0)
  }, 60_000)
})
