import { afterAll, beforeAll, expect, test } from 'vitest'
import { hashOfSecret } from '../../../src/web/sessions/index.ts'
import { htmlOf } from '../../support/html.ts'
import { type Everything, everything } from './everything.ts'

/** What would break out of text, an attribute, a title, a template, a line of a calendar or a cell of a table. */
const hostile = `=1+1"'><script>evil()</script><img src=x onerror=evil()>{{constructor}}</textarea></svg>`
const broken = `${hostile}\r\nX-EVIL:1\r\nBEGIN:VALARM`
const secret = 'a-secret-that-only-this-test-knows'

let whole: Everything
let lines: string[] = []
beforeAll(async () => {
  lines = []
  whole = await everything({ logLine: (line) => lines.push(line) })
  const { prisma } = whole.app
  const { coopId } = await prisma.member.findFirstOrThrow()
  const where = { coopId }
  await prisma.helper.updateMany({ where, data: { name: hostile } })
  await prisma.equipment.updateMany({ where, data: { name: hostile } })
  await prisma.outlet.updateMany({ where, data: { name: hostile } })
  await prisma.supply.updateMany({ where, data: { name: hostile } })
  for (const { id } of await prisma.place.findMany({ where })) {
    // names of places differ
    await prisma.place.update({ where: { coopId_id: { coopId, id } }, data: { name: `${hostile}${id}` } })
  }
  await prisma.lot.updateMany({ where, data: { variety: hostile, note: hostile, broughtBy: hostile } })
  await prisma.batch.updateMany({ where, data: { product: hostile, variety: hostile, note: hostile } })
  await prisma.slowJob.updateMany({ where, data: { name: hostile } })
  await prisma.recall.updateMany({ where, data: { reason: hostile, todo: broken } })
  await prisma.plan.updateMany({ where, data: { name: hostile } })
  await prisma.member.updateMany({ where, data: { name: hostile } })
  await prisma.$transaction([
    prisma.$queryRaw`SELECT set_config('glutworks.name_erased', ${coopId}, true)`,
    prisma.change.updateMany({ where, data: { who: hostile, what: broken } }),
  ])
  await prisma.household.updateMany({ where: { coopId, id: whole.app.householdId }, data: { name: hostile } })
  const link = { coopId, helperId: null, madeBy: hostile, createdAt: whole.app.app.clock.now() }
  await prisma.calendarLink.create({ data: { ...link, id: 'hostile', secretHash: hashOfSecret(secret) } })
}, 120_000)
afterAll(() => whole?.app.close())

test('SEC-042 hostile text stands as text on every page that shows it', async () => {
  const faults: string[] = []
  const waiting = ['/']
  const seen = new Set<string>()
  const kinds = new Map<string, number>()
  let shown = 0
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const kind = path.replace(/[2-9a-z]{12}/g, ':id').replace(/=[^&]*/g, '')
    const count = kinds.get(kind) ?? 0
    if (seen.has(path) || count >= 2 || /\.(csv|pdf)/.test(path)) continue
    seen.add(path)
    kinds.set(kind, count + 1)
    const answer = await whole.app.app.inject({ url: path })
    if (answer.statusCode >= 500) faults.push(`${path}: ${answer.statusCode}`)
    if (!String(answer.headers['content-type']).startsWith('text/html')) continue
    const $ = htmlOf(answer.payload)
    if ($.text().includes('evil()') || answer.payload.includes('evil()')) shown++
    if ($('script:not([src^="/assets/"])').length > 0) faults.push(`${path}: a script of its own`)
    if ($('img[src="x"]').length > 0) faults.push(`${path}: an image out of a text`)
    const handlers = $('*').filter(
      (_, one) => 'attribs' in one && Object.keys(one.attribs).some((name) => /^on/.test(name)),
    )
    if (handlers.length > 0) faults.push(`${path}: a handler out of a text`)
    for (const link of $('a[href^="/"]').toArray()) waiting.push(String($(link).attr('href')).split('#')[0] ?? '')
  }
  process.stdout.write(`pages with hostile text: ${shown} of ${seen.size}\n`)
  expect(shown).toBeGreaterThan(30)
  expect(faults).toEqual([])
}, 300_000)

test('SEC-042 hostile text begins no line of its own in a calendar, and no formula in a table', async () => {
  const feed = await whole.app.app.inject({ url: `/calendar/${secret}.ics` })
  expect(feed.statusCode).toBe(200)
  expect(feed.payload).toContain('BEGIN:VEVENT')
  expect(feed.payload).not.toMatch(/^X-EVIL/m)
  const lots = await whole.app.app.inject({ url: '/files/lots.csv' })
  expect(lots.payload).toContain('evil()')
  expect(lots.payload).not.toMatch(/(^|[,\n])"?=1\+1/)
})

test('SEC-042 none of it reaches the log', () => {
  expect(lines.length).toBeGreaterThan(50)
  expect(lines.filter((line) => line.includes('evil()'))).toEqual([])
})
