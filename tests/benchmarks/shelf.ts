import { readFileSync } from 'node:fs'
import { loadavg } from 'node:os'
import { parseArgs } from 'node:util'
import { openDatabase } from '../../src/db/client.ts'
import { migrateDatabase } from '../../src/db/migrate.ts'
import {
  emptiesPath,
  jarBatchPath,
  ledgerPath,
  shelfFirstPath,
  shelfPath,
  shelfProductPath,
} from '../../src/features/shelf/paths.ts'
import { randomId } from '../../src/ids.ts'
import { beginSession, randomSecret, sessionCookie } from '../../src/web/sessions/index.ts'
import { startService } from '../support/service.ts'
import { createTestDatabase, dropTestDatabase, urlOf } from '../support/test-server.ts'
import { fillShelf, size } from './shelf-filled.ts'

// How long the shelf's pages take over a full ledger, on PostgreSQL (GLUTWORKS_TEST_PG says where), to many at once:
// `npm run bench:shelf -- --connections 20 --requests 1000 --page 'the shelf'` (without --page all of them).
//
// The clients are in this process and the service in another, so both and the server share the machine. What each page
// takes is told beside what /live takes in the same run, which does nothing: a busy machine spoils that ratio less. So does
// it the processor time of the service for one request (where the system tells it in /proc): 20 at once that take 3 ms
// each of one core are answered within 60.

const { values } = parseArgs({
  options: {
    connections: { type: 'string', default: '20' },
    requests: { type: 'string', default: '1000' },
    page: { type: 'string' },
  },
})
const connections = Number(values.connections)
const requests = Number(values.requests)

const pages = [
  ['/live', '/live'],
  ['the shelf', shelfPath()],
  ['a search', `${shelfPath()}?q=preserve+7`],
  ['a product', shelfProductPath('recipe-7', 'pack-1')],
  ['jars of a batch', jarBatchPath('line-9001')],
  ['what to eat first', shelfFirstPath()],
  ['empties', emptiesPath()],
  ['the ledger', ledgerPath()],
  ['a household’s ledger', ledgerPath('household-3')],
] as const

const database = `bench_shelf_${process.pid}`
await createTestDatabase(database, 'template0')
try {
  const url = urlOf(database)
  const opened = await openDatabase({ url })
  await migrateDatabase(opened)
  await opened.close()
  const begun = Date.now()
  await fillShelf(url)
  const cookie = await signedIn(url)
  console.log(`${size.lines * size.entriesPerLine} entries of ${size.lines} lines written in ${seconds(begun)} s`)

  const service = await startService({ DATABASE_URL: url, DEMO: 'no', LOG_LEVEL: 'error' })
  try {
    console.log(`${connections} connections, ${requests} requests each page; load ${loadText()} before`)
    console.log('median ms  95 % ms  medians of /live  ms of processor  page')
    let live = Number.NaN
    for (const [name, path] of pages) {
      if (values.page !== undefined && ![values.page, '/live'].includes(name)) continue
      const { median, high, processor } = await measured(service.address + path, service.pid, cookie)
      if (path === '/live') live = median
      const columns = [
        median.toFixed(0).padStart(9),
        high.toFixed(0).padStart(7),
        (median / live).toFixed(1).padStart(16),
        processor.toFixed(1).padStart(15),
      ]
      console.log(`${columns.join('  ')}  ${name}`)
    }
    console.log(`load ${loadText()} after`)
  } finally {
    await service.stop()
  }
} finally {
  await dropTestDatabase(database)
}

/** Median and 95th percentile of what one request takes while so many are under way, after as many to warm up; and processor time of the service for each, in ms. */
async function measured(
  url: string,
  pid: number,
  cookie: string,
): Promise<{ median: number; high: number; processor: number }> {
  const ask = async (): Promise<number[]> => {
    const times: number[] = []
    let begun = 0
    const client = async () => {
      while (begun < requests) {
        begun += 1
        times.push(await timed(url, cookie))
      }
    }
    await Promise.all(Array.from({ length: connections }, client))
    return times
  }
  await ask()
  const before = processorMs(pid)
  const times = await ask()
  const processor = (processorMs(pid) - before) / times.length
  times.sort((a, b) => a - b)
  return { median: part(times, 0.5), high: part(times, 0.95), processor }
}

/** The cookie of somebody signed in to the first co-op there, who is put there where nobody is. */
async function signedIn(url: string): Promise<string> {
  const opened = await openDatabase({ url })
  const household = await opened.prisma.household.findFirstOrThrow()
  const member = { coopId: household.coopId, id: 'measures', householdId: household.id, name: 'Bench', role: 'steward' }
  await opened.prisma.member.create({ data: member })
  const session = { id: randomId(), token: randomSecret(), coopId: member.coopId, memberId: member.id, device: 'bench' }
  await beginSession(opened.prisma, session, new Date())
  await opened.close()
  return `${sessionCookie({ publicAddress: null })}=${session.token}`
}

/** Processor time that a process has taken, all threads together: proc(5), utime and stime in hundredths of a second. */
function processorMs(pid: number): number {
  const [, after = ''] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')
  const fields = after.split(' ')
  return (Number(fields[11]) + Number(fields[12])) * 10
}

async function timed(url: string, cookie: string): Promise<number> {
  const begun = performance.now()
  const answer = await fetch(url, { headers: { accept: 'text/html', cookie } })
  await answer.arrayBuffer()
  if (answer.status !== 200) throw new Error(`${url} answered ${answer.status}`)
  return performance.now() - begun
}

/** The nearest rank: at least so great a part of the sorted times is no longer than this. */
function part(sorted: readonly number[], share: number): number {
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN
}

function seconds(since: number): string {
  return ((Date.now() - since) / 1000).toFixed(0)
}

function loadText(): string {
  return (loadavg()[0] ?? 0).toFixed(1)
}
