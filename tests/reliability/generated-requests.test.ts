import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { loadDemonstration } from '../../seed/load.ts'
import { openDatabase } from '../../src/db/client.ts'
import { randomId } from '../../src/ids.ts'
import type { KnownRoute } from '../../src/web/known-routes.ts'
import { testApp } from '../support/app.ts'
import { freshPlace } from '../support/database.ts'
import { nonsense, type Schema, valuesOf } from '../support/from-schema.ts'
import { type RunningService, startService } from '../support/service.ts'
import { enterDemonstration, type Visitor } from '../support/visitor.ts'

// Requests to the running service: calls drawn from its own description (fitting, nearly fitting, nonsense), and every
// page and form with what comes to mind. Nothing may answer 500, nothing in a shape of its own, nothing with a trace of
// how it works or with another co-op's data, and its memory must not grow.
const embedded = process.env['GLUTWORKS_TEST_DATABASE'] === 'embedded'
const requests = embedded ? 3_000 : 20_000
const atOnce = 6
const seed = 20_261_125
/** Stands in every text of another co-op. */
const canary = 'Zwetschgenkanarie'

type Operation = {
  method: string
  path: string
  parameters: { name: string; in: string; schema: Schema }[]
  body: Schema | null
}
type Request = { method: string; url: string; payload: string | null; fields: Record<string, string> | null }

let place: Awaited<ReturnType<typeof freshPlace>>
let service: RunningService
let visitor: Visitor
let operations: Operation[]
let components: Record<string, Schema>
let pages: KnownRoute[]
let known: string[]

beforeAll(async () => {
  place = await freshPlace()
  const database = await openDatabase(place.options)
  await loadDemonstration(database.prisma, new Date(), randomId)
  await addCanaries(database.prisma)
  await database.close()
  const { url, dataDir } = place.options
  service = await startService({
    SOLVE_SECONDS: '1',
    LOG_LEVEL: 'error',
    ...(url === undefined ? {} : { DATABASE_URL: url }),
    ...(dataDir === undefined ? {} : { DATA_DIR: dataDir }),
  })
  visitor = await enterDemonstration(service.address)
  const document = (await (await visitor.get('/openapi.json')).json()) as {
    paths: Record<string, Record<string, unknown>>
    components?: { schemas?: Record<string, Schema> }
  }
  components = document.components?.schemas ?? {}
  operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => toOperation(path, method, operation as never)),
  )
  pages = await routesOfPages()
  known = await knownValues()
}, 240_000)
afterAll(async () => {
  await service?.stop()
  await place?.remove()
})

test(`SEC-040 ${requests} generated requests meet no 500, and REL-029 memory stays flat`, async () => {
  expect(operations.length).toBeGreaterThan(20)
  expect(pages.length).toBeGreaterThan(150)
  const counts = new Map<number, number>()
  const faults: string[] = []
  const memory: number[] = []
  let next = 0
  const work = async () => {
    while (next < requests) {
      const number = next++
      if (number % (requests / 10) === 0) memory.push(residentMegabytes(service.pid))
      const request = drawn(number)
      const answer = await send(request)
      const text = await answer.text()
      counts.set(answer.status, (counts.get(answer.status) ?? 0) + 1)
      const said = `${request.method} ${request.url} ${String(request.payload ?? JSON.stringify(request.fields)).slice(0, 200)}: ${answer.status} ${text.slice(0, 200)}`
      if (answer.status >= 500) faults.push(said)
      if (/\n\s+at .*:\d+:\d+|node_modules|PrismaClient|SQLSTATE|\bSELECT "/.test(text))
        faults.push(`tells how it works: ${said}`)
      if (text.includes(canary)) faults.push(`tells of another co-op: ${said}`)
      if (answer.status >= 400 && request.url.startsWith('/api/') && !hasOurShape(text))
        faults.push(`no error in our shape: ${said}`)
      // a request of ours may have signed us out
      if (answer.status === 401) visitor = await enterDemonstration(service.address)
    }
  }
  await Promise.all(Array.from({ length: atOnce }, work))
  memory.push(residentMegabytes(service.pid))
  // So many of each kind were really tried, or the test would say nothing.
  const total = (from: number, to: number) =>
    [...counts].filter(([status]) => status >= from && status < to).reduce((sum, [, count]) => sum + count, 0)
  const byStatus = Object.fromEntries([...counts].sort(([a], [b]) => a - b))
  process.stdout.write(`generated requests by status: ${JSON.stringify(byStatus)}; memory in MB: ${memory.join(' ')}\n`)
  // what the service said of it, for whoever looks for the cause
  if (faults.length > 0) process.stderr.write(`${[...new Set(service.output().split('\n').map(causeOf))].join('\n')}\n`)
  expect(faults).toEqual([])
  expect(total(200, 300)).toBeGreaterThan(requests / 10)
  expect(total(400, 500)).toBeGreaterThan(requests / 4)
  // Flat once it has warmed up: what the first half made it take, the second half adds little to.
  const half = memory[Math.floor(memory.length / 2)] ?? 0
  expect(memory.at(-1)).toBeLessThan(half * 1.25 + 50)
}, 1_200_000)

test('the service still answers as before', async () => {
  for (const path of ['/', '/lots', '/plans', '/coop', '/ready']) {
    expect((await visitor.get(path)).status, path).toBe(200)
  }
})

async function send({ method, url, payload, fields }: Request): Promise<Response> {
  if (fields !== null) return visitor.form(url, fields)
  if (url.startsWith('/api/')) return visitor.call(method, url, payload ?? undefined)
  return visitor.get(url, { accept: 'text/html' })
}

/** A line of the log without what differs each time. */
function causeOf(line: string): string {
  return line.replace(/"(time|request|coop|member)":"[^"]*",?/g, '').slice(0, 700)
}

function hasOurShape(text: string): boolean {
  try {
    return typeof JSON.parse(text).error?.message === 'string'
  } catch {
    return false
  }
}

/** What the process holds in memory, as the system counts it. */
function residentMegabytes(pid: number): number {
  const found = /VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))
  return Math.round(Number(found?.[1]) / 1024)
}

/** The pages and forms, save those that would take our own session or the co-op itself away. */
async function routesOfPages(): Promise<KnownRoute[]> {
  const app = await testApp()
  const found = app.app.knownRoutes.filter(
    ({ method, url }) =>
      (method === 'GET' || method === 'POST') &&
      !/^\/(api|assets|sign-out|account|demonstration|set-up|people|coop\/data|live|ready|openapi)/.test(url),
  )
  await app.close()
  return found
}

/** A second co-op whose every text has the canary in it. */
async function addCanaries(prisma: Awaited<ReturnType<typeof openDatabase>>['prisma']): Promise<void> {
  const coopId = 'theirs'
  const ways = { altitudeM: 210, timeZone: 'Europe/London', locale: 'en-GB', units: 'metric', currency: 'GBP' }
  await prisma.coop.create({ data: { id: coopId, name: canary, town: canary, ...ways } })
  await prisma.household.create({ data: { coopId, id: 'their-household', name: canary } })
  await prisma.equipment.create({ data: { coopId, id: 'their-canner', kind: 'canner', name: canary, count: 1 } })
  await prisma.helper.create({
    data: { coopId, id: 'their-helper', name: canary, ageBand: 'adult', skills: ['wash'] },
  })
  const lids = { key: 'lid', unit: 'lid', onHand: 5, packSize: 12, packPriceMinor: 400, packsAtMost: 2 }
  await prisma.supply.create({ data: { coopId, id: 'their-lids', name: canary, ...lids } })
  await prisma.place.create({ data: { coopId, id: 'their-place', name: canary, kind: 'pantry' } })
  const pigs = { kind: 'feed', rank: 1, worthPerKgMinor: 5, takesProduce: true }
  await prisma.outlet.create({ data: { coopId, id: 'their-pigs', name: canary, ...pigs } })
  await prisma.recipe.create({
    data: { coopId, id: 'their-jam', name: canary, method: 'water-bath-canned', definition: {} },
  })
}

function drawn(number: number): Request {
  const kind = number % 5
  if (kind < 3) return draw(operations[Math.floor(number / 5) % operations.length] as Operation, number)
  const route = pages[Math.floor(number / 5) % pages.length] as KnownRoute
  const one = <T>(values: fc.Arbitrary<T>, salt: number): T =>
    fc.sample(values, { numRuns: 1, seed: seed + number * 31 + salt })[0] as T
  const text = (salt: number) => {
    const value = one(fc.oneof(fc.constantFrom<unknown>(...known), fc.constantFrom<unknown>(...known), nonsense), salt)
    return (typeof value === 'string' ? value : (JSON.stringify(value) ?? '')).toWellFormed().slice(0, 500)
  }
  const url = route.url.replace(
    /:\w+/g,
    () => encodeURIComponent(kind === 3 ? one(fc.constantFrom(...known), 7) : text(8)) || '%20',
  )
  const fields = Object.fromEntries(
    fieldNames
      .filter((_, at) => one(fc.integer({ min: 0, max: 3 }), 20 + at) === 0)
      .map((name, at) => [name, text(50 + at)]),
  )
  if (route.method === 'POST')
    return { method: 'POST', url, payload: null, fields: { _submission: randomId(), ...fields } }
  const search = new URLSearchParams(fields)
  return {
    method: 'GET',
    url: search.size > 0 && number % 2 === 0 ? `${url}?${search}` : url,
    payload: null,
    fields: null,
  }
}

/** Names that fields and queries of ours have. */
const fieldNames = [
  'name',
  'q',
  'page',
  'note',
  'units',
  'version',
  'kind',
  'count',
  'line',
  'crop',
  'weight',
  'storage',
  'date',
  'opens',
  'product',
  'jar',
  'method',
  'pack',
  'altitude',
  'helperId',
  'householdId',
  'household',
  'plan',
  'batch',
  'start',
  'sheet',
  'a',
  'b',
  'since',
  'before',
  'text',
  'reason',
  'placeId',
  'people',
  'rule',
  'next',
  'code',
  'print',
]

function draw(operation: Operation, number: number): Request {
  const kind = (['fitting', 'nearly', 'nonsense'] as const)[number % 3] ?? 'fitting'
  const one = <T>(values: fc.Arbitrary<T>, salt: number): T =>
    fc.sample(values, { numRuns: 1, seed: seed + number * 31 + salt })[0] as T
  const fill = (schema: Schema, salt: number) =>
    one(kind === 'nonsense' ? nonsense : valuesOf(schema, known, look), salt)

  let url = operation.path
  const query = new URLSearchParams()
  operation.parameters.forEach((parameter, salt) => {
    const value =
      kind === 'fitting' && parameter.in === 'path'
        ? one(fc.constantFrom(...known), salt)
        : fill(parameter.schema, salt)
    const text = typeof value === 'string' ? value : (JSON.stringify(value) ?? '')
    // A lone surrogate cannot be written into an address at all.
    const written = encodeURIComponent(text.toWellFormed().slice(0, 500)) || '%20'
    if (parameter.in === 'path') url = url.replace(`{${parameter.name}}`, written)
    else if (parameter.in === 'query') query.set(parameter.name, text.toWellFormed().slice(0, 500))
  })
  const search = query.size > 0 ? `?${query}` : ''
  const method = operation.method.toUpperCase()
  if (operation.body === null) return { method, url: url + search, payload: null, fields: null }

  const fitting = fill(operation.body, 99)
  const body = kind === 'nearly' ? spoil(fitting, one(nonsense, 100), number) : fitting
  const broken = number % 41 === 0
  const payload = broken ? `{"weight": ${'['.repeat(30)}` : (JSON.stringify(body) ?? 'undefined')
  return { method, url: url + search, payload, fields: null }
}

/** One field of an object becomes nonsense. */
function spoil(value: unknown, other: unknown, number: number): unknown {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return other
  const names = Object.keys(value)
  const name = names[number % Math.max(1, names.length)] ?? 'unknown'
  return { ...value, [name]: other }
}

function look(reference: string): Schema {
  const found = components[reference.split('/').at(-1) ?? '']
  if (!found) throw new Error(`the document refers to ${reference}, which is not in it`)
  return found
}

/** Ids and words of the demonstration, so that fitting requests reach something. */
async function knownValues(): Promise<string[]> {
  const ids: string[] = []
  const nouns = ['lots', 'recipes', 'work-days', 'equipment', 'helpers', 'supplies', 'outlets', 'plans']
  for (const noun of [...nouns, 'shelf/stock', 'shelf/places', 'batches', 'slow-jobs']) {
    const answer = await visitor.get(`/api/${noun}`)
    ids.push(...[...(await answer.text()).matchAll(/"id":"([a-z0-9-]+)"/g)].map((match) => match[1] ?? ''))
  }
  expect(ids.length).toBeGreaterThan(30)
  return [...new Set(ids), '2 bushels', '12 1/2 lb', '90 kg', 'damson', 'apple', '2026-09-18', '8:30', '4.50']
}

function toOperation(
  path: string,
  method: string,
  operation: { parameters?: Operation['parameters']; requestBody?: { content: Record<string, { schema: Schema }> } },
): Operation {
  const body = operation.requestBody?.content['application/json']?.schema ?? null
  return { method, path, parameters: operation.parameters ?? [], body }
}
