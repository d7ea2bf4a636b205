import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyTables } from '../../support/history.ts'
import { expectSoundPage, formFields, problemsIn, rowsAt, textAt, textsAt } from '../../support/html.ts'
import { addJars } from './jars.ts'

let app: TestApp
beforeAll(async () => {
  app = await testApp()
})
afterAll(() => app?.close())
beforeEach(async () => {
  await emptyTables(app.prisma, 'Batch', 'Place', 'ShelfEntry')
})

const cellar = { name: 'cellar at Mill Lane', kind: 'cellar', householdId: 'pike' }
async function add(fields: Record<string, string> = cellar): Promise<string> {
  await app.postTaken('/shelf/places', fields, { from: '/shelf/places/new' })
  const { coopId } = app
  const place = await app.prisma.place.findFirstOrThrow({ where: { coopId, name: fields['name'] ?? '' } })
  return place.id
}
const stockOf = async (id: string) =>
  (await app.prisma.jarBatch.findUniqueOrThrow({ where: { coopId_id: { coopId: app.coopId, id } } })).stock

describe('places', () => {
  test('are added, in a household’s house or shared, and listed with what stands there', async () => {
    expect(textAt(await app.getPage('/shelf/places'), '.lead')).toMatch(/^No place yet\./)
    await add()
    await addJars(app, 7)
    const $ = await app.getPage('/shelf/places')
    expect(
      rowsAt($, 'table')
        .slice(1)
        .map((row) => row.slice(0, 4)),
    ).toEqual([
      ['cellar at Mill Lane', 'cellar', 'Pike', '0'],
      ['pantry', 'pantry', 'shared', '7'],
    ])
    expect(textAt($, '.foot')).toMatch(/^Last change: cellar at Mill Lane added\. Rosalind Pike/)
  })

  test.each([
    [{ name: '' }, 'Enter a name, like “pantry at Mill Lane”'],
    [{ kind: 'attic' }, 'Choose what kind of place it is'],
    [{ householdId: 'nobody' }, 'Choose a household, or “shared”'],
  ])('are refused with %o, and what was typed stays', async (part, words) => {
    const fields = { ...cellar, ...part }
    const $ = await app.postRefused('/shelf/places', fields, { from: '/shelf/places/new' })
    expect(problemsIn($)).toEqual([words])
    expect(formFields($)['name']).toBe(fields.name)
  })

  test('have names of their own', async () => {
    const first = await add()
    const words = 'Another place has that name already: choose another'
    expect(problemsIn(await app.postRefused('/shelf/places', cellar, { from: '/shelf/places/new' }))).toEqual([words])
    await add({ ...cellar, name: 'larder' })
    expect(problemsIn(await app.postRefused(`/shelf/places/${first}`, { name: 'larder' }))).toEqual([words])
  })

  test('are changed, and a save that read an older state is refused', async () => {
    const id = await add()
    await app.postTaken(`/shelf/places/${id}`, { name: 'cold cellar', householdId: '' })
    expect(await app.prisma.place.findFirst({ where: { id } })).toMatchObject({
      name: 'cold cellar',
      householdId: null,
    })
    const late = await app.postForm(`/shelf/places/${id}`, { version: '1', name: 'my cellar' })
    expect(late.statusCode).toBe(409)
    expect(formFields(expectSoundPage(late.payload))).toMatchObject({ name: 'my cellar', version: '2' })
  })

  test('are not closed while anything stands there; then they are, and can be opened again', async () => {
    await add()
    const { jarBatchId } = await addJars(app, 3)
    const closing = '/shelf/places/pantry/closing'
    const refused = await app.postForm(closing, {}, { from: '/shelf/places/pantry' })
    expect(refused.statusCode).toBe(409)
    expect(refused.payload).toContain('3 units stand in pantry still: move them first, then close it.')
    await app.postTaken(
      `/shelf/jars/${jarBatchId}/break`,
      { 'break.units': '3' },
      { from: `/shelf/jars/${jarBatchId}` },
    )
    await app.postTaken(closing, {}, { from: '/shelf/places/pantry' })
    const $ = await app.getPage('/shelf/places')
    expect(textsAt($, '.index li')).toEqual(['pantrypantry, shared'])
    expect(textsAt($, 'tbody th')).toEqual(['cellar at Mill Lane'])
    await app.postTaken(closing, {}, { from: '/shelf/places/pantry' })
    expect(await app.prisma.place.findFirst({ where: { id: 'pantry' } })).toMatchObject({ closed: false })
  })
})

describe('a stock-take', () => {
  const path = '/shelf/places/pantry/count'

  test('shows every line with what should be there, and writes the differences only', async () => {
    const one = await addJars(app, 7)
    const other = await addJars(app, 4)
    await addJars(app, 0)
    const $ = await app.getPage(path)
    expect(formFields($)).toMatchObject({ [`counted.${one.jarBatchId}`]: '7', [`shown.${other.jarBatchId}`]: '4' })
    expect($('tbody tr').length).toBe(2)
    expect(await app.postTaken(path, { [`counted.${one.jarBatchId}`]: '5' })).toBe('/shelf/places')
    expect([await stockOf(one.jarBatchId), await stockOf(other.jarBatchId)]).toEqual([5, 4])
    const counts = await app.prisma.shelfEntry.findMany({ where: { kind: 'count' } })
    expect(counts).toMatchObject([{ units: -2, by: 'Rosalind Pike' }])
  })

  test('refuses a wrong number at its line', async () => {
    const { jarBatchId } = await addJars(app, 7)
    for (const wrong of ['', '-1', '1.5', 'many', '🍑']) {
      const $ = await app.postRefused(path, { [`counted.${jarBatchId}`]: wrong })
      expect(problemsIn($)).toEqual(['Enter how many there are: a whole number, 0 for none'])
      expect(formFields($)).toMatchObject({ [`counted.${jarBatchId}`]: wrong })
    }
  })

  test('keeps what was typed where something was taken meanwhile, and writes nothing', async () => {
    const one = await addJars(app, 7)
    const other = await addJars(app, 4)
    const began = formFields(await app.getPage(path))
    const { _csrf, _submission, ...shown } = began
    expect([typeof _csrf, typeof _submission]).toEqual(['string', 'string'])
    await app.postTaken(`/shelf/jars/${one.jarBatchId}/take`, {}, { from: `/shelf/jars/${one.jarBatchId}` })
    const late = await app.postForm(path, { ...shown, [`counted.${other.jarBatchId}`]: '3' })
    expect(late.statusCode).toBe(409)
    const $ = expectSoundPage(late.payload)
    expect(textsAt($, '.refused li')).toEqual(['6 should be there now, not 7 as when you began: count again'])
    expect(formFields($)).toMatchObject({
      [`counted.${one.jarBatchId}`]: '7',
      [`shown.${one.jarBatchId}`]: '6',
      [`counted.${other.jarBatchId}`]: '3',
    })
    expect([await stockOf(one.jarBatchId), await stockOf(other.jarBatchId)]).toEqual([6, 4])
  })

  test('does not count what is no line of this co-op', async () => {
    await addJars(app, 7)
    const answer = await app.postForm(path, { 'counted.nowhere': '3', 'shown.nowhere': '3' })
    expect(answer.statusCode).toBe(409)
    expect(expectSoundPage(answer.payload)('.refused').text()).toContain('Open the page again.')
  })
})
