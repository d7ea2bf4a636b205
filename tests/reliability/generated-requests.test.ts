import fc from 'fast-check'
import type { InjectOptions } from 'fastify'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { loadDemonstration } from '../../seed/load.ts'
import { randomId } from '../../src/ids.ts'
import { type TestApp, testApp } from '../support/app.ts'
import { nonsense, type Schema, valuesOf } from '../support/from-schema.ts'

// Two thousand requests drawn from the service's own description: fitting, nearly fitting, and nonsense. Nothing may
// answer 500, and nothing may be answered in a shape of its own.
const requests = 2_000
const seed = 20_261_125

type Operation = {
  method: string
  path: string
  parameters: { name: string; in: string; schema: Schema }[]
  body: Schema | null
}

let app: TestApp
let operations: Operation[]
let components: Record<string, Schema>
let known: string[]

beforeAll(async () => {
  app = await testApp({ coop: false })
  await loadDemonstration(app.prisma, app.app.clock.now(), randomId)
  const document = (await app.app.inject({ method: 'GET', url: '/openapi.json' })).json()
  components = document.components?.schemas ?? {}
  operations = Object.entries(document.paths as Record<string, Record<string, unknown>>).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => toOperation(path, method, operation as never)),
  )
  known = await knownValues()
})
afterAll(() => app?.close())

test(`${requests} generated requests meet no 500`, async () => {
  expect(operations.length).toBeGreaterThan(20)
  const counts = new Map<number, number>()
  const faults: string[] = []
  for (let number = 0; number < requests; number++) {
    const operation = operations[number % operations.length] as Operation
    const request = draw(operation, number)
    const answer = await app.app.inject(request)
    counts.set(answer.statusCode, (counts.get(answer.statusCode) ?? 0) + 1)
    const said = `${request.method} ${request.url} ${String(request.payload).slice(0, 200)}: ${answer.statusCode} ${answer.body.slice(0, 200)}`
    if (answer.statusCode >= 500) faults.push(said)
    if (answer.statusCode >= 400 && typeof answer.json().error?.message !== 'string')
      faults.push(`no error in our shape: ${said}`)
  }
  // So many of each kind were really tried, or the test would say nothing.
  const total = (from: number, to: number) =>
    [...counts].filter(([status]) => status >= from && status < to).reduce((sum, [, count]) => sum + count, 0)
  process.stdout.write(
    `generated requests by status: ${JSON.stringify(Object.fromEntries([...counts].sort(([a], [b]) => a - b)))}\n`,
  )
  expect(faults).toEqual([])
  expect(total(200, 300)).toBeGreaterThan(200)
  expect(total(400, 500)).toBeGreaterThan(500)
}, 300_000)

test('the service still answers as before', async () => {
  for (const url of ['/', '/lots', '/plans', '/coop', '/ready']) {
    expect((await app.app.inject({ method: 'GET', url })).statusCode, url).toBe(200)
  }
})

function draw(operation: Operation, number: number): InjectOptions {
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
  const method = operation.method.toUpperCase() as 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE'
  if (operation.body === null) return { method, url: url + search }

  const fitting = fill(operation.body, 99)
  const body = kind === 'nearly' ? spoil(fitting, one(nonsense, 100), number) : fitting
  const broken = number % 41 === 0
  const payload = broken ? `{"weight": ${'['.repeat(30)}` : (JSON.stringify(body) ?? 'undefined')
  return { method, url: url + search, payload, headers: { 'content-type': 'application/json' } }
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
  for (const noun of ['lots', 'recipes', 'work-days', 'equipment', 'helpers', 'supplies', 'outlets', 'plans']) {
    const answer = await app.app.inject({ method: 'GET', url: `/api/${noun}` })
    ids.push(...[...answer.body.matchAll(/"id":"([a-z0-9-]+)"/g)].map((match) => match[1] ?? ''))
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
