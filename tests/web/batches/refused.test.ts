import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { problemsIn } from '../../support/html.ts'
import { takeIn } from '../lots/lots.ts'
import { plums, plumsForm, preserving } from './kitchen.ts'

let app: TestApp
let lotId: string
beforeAll(async () => {
  app = await testApp()
  const made = await preserving(app)
  lotId = made.lotId
})
afterAll(() => app?.close())

async function finish(fields: Record<string, string> = {}, from = plumsForm): Promise<string> {
  return (await app.postTaken('/batches', { ...plums(lotId), ...small(), ...fields }, { from })).replace(
    '/batches/',
    '',
  )
}
/** A form that must be refused, and leave no batch. */
async function refuse(fields: Record<string, string>, from = plumsForm) {
  const before = await app.prisma.batch.count()
  const $ = await app.postRefused('/batches', { ...plums(lotId), ...small(), ...fields }, { from })
  expect(await app.prisma.batch.count()).toBe(before)
  return $
}
/** So little of the lot that it lasts for all of these. */
const small = () => ({ [`lot.${lotId}.ripe`]: '1 kg' })
const batch = (id: string) => app.prisma.batch.findFirstOrThrow({ where: { id } })

describe('a form that cannot be taken', () => {
  test.each([
    [{ units: '' }, 'Enter how many pints: a whole number'],
    [{ madeOn: '2026-09-12' }, 'Enter today or a day before'],
    [{ handMinutes: 'many' }, 'Enter minutes, a whole number, or leave it empty'],
    [{ 'process.reachedAt': 'soon' }, 'Enter a time of day, like 14:05 or 2:05 pm'],
    [{ 'process.endedAt': '23:50' }, 'Enter a time that is not still to come'],
    [{ unsealed: '2' }, 'Say what became of the jars that did not seal'],
  ])('refuses %o in words', async (fields: Record<string, string>, words) => {
    expect(problemsIn(await refuse(fields))).toContain(words)
  })

  test('needs something that went in', async () => {
    expect(problemsIn(await refuse({ [`lot.${lotId}.ripe`]: '' }))).toContain(
      'Enter what went in: a weight of one lot at least',
    )
  })
})

describe('what departs from the tested process', () => {
  test.each([
    [{ 'process.endedAt': '8:24' }, '25 minutes are due; 24 were given.'],
    [
      { 'process.lostAt': '8:10', 'process.againAt': '8:12' },
      '25 minutes are due; 13 were given since the boil came back.',
    ],
    [{ 'process.headspace': '5 mm' }, '12.7 mm of headspace is due; 5 mm was left.'],
    [{ 'process.by': '' }, 'Say who watched it.'],
    [{ 'process.reachedAt': '', 'process.endedAt': '' }, 'Enter when it was reached, like 14:05'],
  ])('%o is no food for a pantry or a cellar', async (fields: Record<string, string>, words) => {
    const $ = await refuse(fields)
    const problems = problemsIn($)
    expect(problems).toContain(words)
    expect(problems.some((one) => one.startsWith('Not for a shelf') && one.includes('local extension service'))).toBe(
      true,
    )
  })

  test('is kept in the refrigerator for days, or in the freezer', async () => {
    const cold = await finish({ 'process.endedAt': '8:24', placeId: 'fridge' })
    expect(await batch(cold)).toMatchObject({ keeping: 'refrigerator', bestBy: new Date('2026-09-16T00:00:00Z') })
    expect((await app.getPage(`/batches/${cold}`))('main').text()).toContain('25 minutes are due; 24 were given.')
    const frozen = await finish({ 'process.reachedAt': '', 'process.endedAt': '', placeId: 'chest' })
    expect(await batch(frozen)).toMatchObject({ keeping: 'freezer', process: null })
  })

  test('a sound jar is not put in a freezer, where it may crack', async () => {
    expect(problemsIn(await refuse({ placeId: 'chest' })).join()).toContain('glass cracks')
  })

  test('a recipe that follows no tested process is kept cold however it was heated', async () => {
    const row = await app.prisma.recipe.findFirstOrThrow({ where: { id: 'plums-in-light-syrup' } })
    const definition = JSON.parse(JSON.stringify(row.definition))
    definition.process.product = 'plum sauce of our own'
    await app.prisma.recipe.updateMany({ where: { id: row.id }, data: { definition } })
    expect((await app.getPage(plumsForm))('main').text()).toContain('follows no tested process here')
    expect(problemsIn(await refuse({})).join()).toContain(
      'Not for a shelf: this recipe follows no tested process here.',
    )
    const id = await finish({ placeId: 'fridge' })
    expect(await batch(id)).toMatchObject({ keeping: 'refrigerator' })
    await app.prisma.recipe.updateMany({
      where: { id: row.id },
      data: { definition: JSON.parse(JSON.stringify(row.definition)) },
    })
  })

  test('acid that was due and not noted keeps jars off the shelf', async () => {
    const figs = '/batches/new?product=figs-in-light-syrup%3Apint&units=2'
    const figLot = await takeIn(app, { weight: '4 kg', crop: 'fig', class: 'ripe', storage: 'cold' })
    const fields = { [`lot.${lotId}.ripe`]: '', [`lot.${figLot}.ripe`]: '1 kg', units: '2', 'process.endedAt': '9:00' }
    expect(problemsIn(await refuse(fields, figs)).join()).toContain('Acid must be measured into each jar')
    expect(await batch(await finish({ ...fields, 'process.acid': 'yes' }, figs))).toMatchObject({ keeping: 'shelf' })
  })

  test('jars that did not seal are no shelf stock', async () => {
    const seals = { madeOn: '2026-09-10', 'process.sealsOn': '2026-09-11', 'process.sealsAt': '7:30' }
    const id = await finish({ unsealed: '2', unsealedWent: 'refrigerated', ...seals })
    expect(await batch(id)).toMatchObject({ units: 7, unsealed: 2 })
    expect(await app.prisma.jarBatch.findFirstOrThrow({ where: { batchId: id } })).toMatchObject({ stock: 7 })
    expect((await app.getPage(`/batches/${id}`))('main').text()).toContain(
      '2 jars did not seal: in the refrigerator, to eat soon. Eat them within 5 days',
    )
    const late = problemsIn(
      await refuse({ unsealed: '2', unsealedWent: 'refrigerated', ...seals, 'process.date': '2026-09-09' }),
    )
    expect(late.join()).toContain('After 24 they are thrown away')
    const again = await finish({ unsealed: '2', unsealedWent: 'reprocessed', ...seals })
    expect(await batch(again)).toMatchObject({ units: 7, unsealed: 0 })
  })
})
