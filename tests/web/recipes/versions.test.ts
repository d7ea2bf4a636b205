import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { seedRecipes } from '../../../seed/recipes.ts'
import { findRecipeVersion, listRecipeVersions } from '../../../src/features/recipes/queries.ts'
import type { Asking } from '../../../src/web/asking.ts'
import { findSteward } from '../../../src/web/sessions/index.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

let app: TestApp
let asking: Asking
beforeAll(async () => {
  app = await testApp()
  await addNeighbours(app)
  const steward = await findSteward(app.prisma)
  if (steward === null) throw new Error('no steward')
  asking = steward
})
afterAll(() => app?.close())
beforeEach(() => app.prisma.recipe.deleteMany({ where: { coopId: app.coopId } }))

const [seeded] = seedRecipes
if (seeded === undefined) throw new Error('no recipe to begin with')
const { name, method } = seeded
const definition = { ...seeded.definition, source: 'our own' }

async function add(): Promise<string> {
  const answer = await app.call('POST', '/api/recipes', { name, method, definition })
  expect(answer.statusCode, answer.payload).toBe(201)
  return answer.json().id
}

async function change(id: string, version: number, part: object): Promise<void> {
  const body = { name, method, definition: { ...definition, ...part }, version }
  const answer = await app.call('PUT', `/api/recipes/${id}`, body)
  expect(answer.statusCode, answer.payload).toBe(200)
}

const list = (id: string) => listRecipeVersions(app.prisma, asking, id)
const find = (id: string, version: number) => findRecipeVersion(app.prisma, asking, id, version)

describe('the versions of a recipe', () => {
  test('begin with the one that was added', async () => {
    const id = await add()
    const at = new Date('2026-09-11T09:00:00Z')
    expect(await list(id)).toEqual([{ version: 1, name, method, changedBy: 'Rosalind Pike', at }])
    const asRead = (await app.call('GET', `/api/recipes/${id}`)).json()
    expect(await find(id, 1)).toEqual({
      id,
      version: 1,
      name,
      method,
      definition: asRead.definition,
      changedBy: 'Rosalind Pike',
      at,
    })
  })

  test('grow with each change, and every older one stays as it was', async () => {
    const id = await add()
    const first = await find(id, 1)
    await change(id, 1, { source: 'our own, with more sugar' })
    await change(id, 2, { cautions: ['Boiling sugar sticks and burns.'] })
    expect((await list(id)).map(({ version }) => version)).toEqual([3, 2, 1])
    expect(await find(id, 1)).toEqual(first)
    expect((await find(id, 2)).definition).toEqual({ ...first.definition, source: 'our own, with more sugar' })
    expect((await find(id, 3)).definition.cautions).toEqual(['Boiling sugar sticks and burns.'])
    expect((await find(id, 3)).definition.source).toBe('our own')
  })

  test('keep the name that a recipe had', async () => {
    const id = await add()
    const body = { name: 'Something else', method, definition, version: 1 }
    expect((await app.call('PUT', `/api/recipes/${id}`, body)).statusCode).toBe(200)
    expect((await list(id)).map((one) => one.name)).toEqual(['Something else', name])
    expect((await find(id, 1)).name).toBe(name)
  })

  test('go on when a recipe is retired and taken back, and not when nothing comes of it', async () => {
    const id = await add()
    for (const retired of [true, true, false]) await app.call('PUT', `/api/recipes/${id}/retirement`, { retired })
    const now = (await app.call('GET', `/api/recipes/${id}`)).json()
    expect(now.version).toBe(3)
    expect((await list(id)).map(({ version }) => version)).toEqual([3, 2, 1])
    expect((await find(id, 3)).definition).toEqual(now.definition)
  })

  test('are not written by a save that was refused', async () => {
    const id = await add()
    await change(id, 1, { source: 'second' })
    const late = await app.call('PUT', `/api/recipes/${id}`, { name, method, definition, version: 1 })
    expect(late.statusCode).toBe(409)
    expect((await list(id)).map(({ version }) => version)).toEqual([2, 1])
  })

  test('say whose change it was', async () => {
    const id = await add()
    await app.prisma.member.updateMany({ where: { coopId: app.coopId }, data: { name: 'Mara Fenwick' } })
    await change(id, 1, { source: 'second' })
    await app.prisma.member.updateMany({ where: { coopId: app.coopId }, data: { name: 'Rosalind Pike' } })
    expect((await list(id)).map(({ changedBy }) => changedBy)).toEqual(['Mara Fenwick', 'Rosalind Pike'])
  })
})

describe('a recipe that came without versions', () => {
  const id = 'old-recipe'
  beforeEach(() =>
    app.prisma.recipe.create({
      data: { coopId: app.coopId, id, name, method, definition, createdAt: new Date('2026-01-02T00:00:00Z') },
    }),
  )

  test('has the one in force, by nobody in particular', async () => {
    const [only, ...more] = await list(id)
    expect(only).toMatchObject({ version: 1, changedBy: 'not noted', at: new Date('2026-01-02T00:00:00Z') })
    expect(more).toEqual([])
    expect((await find(id, 1)).definition.source).toBe('our own')
  })

  test.each(['change', 'retire'])('keeps that one through a %s', async (what) => {
    if (what === 'change') await change(id, 1, { source: 'second' })
    else await app.call('PUT', `/api/recipes/${id}/retirement`, { retired: true })
    expect((await list(id)).map(({ version, changedBy }) => [version, changedBy])).toEqual([
      [2, 'Rosalind Pike'],
      [1, 'not noted'],
    ])
    expect((await find(id, 1)).definition.source).toBe('our own')
  })
})

test('a version that never was, an unknown recipe and that of another co-op are not found', async () => {
  const id = await add()
  for (const version of [0, 2, -1]) await expect(find(id, version)).rejects.toThrow('There is no such version')
  await expect(list('nowhere')).rejects.toThrow('There is no such recipe here.')
  await expect(list('their-jam')).rejects.toThrow('There is no such recipe here.')
  await expect(find('their-jam', 1)).rejects.toThrow('There is no such recipe here.')
  expect(await app.prisma.recipeVersion.count({ where: { coopId: neighboursId } })).toBe(0)
})
