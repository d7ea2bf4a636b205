import { afterAll, beforeAll, expect, test } from 'vitest'
import { personRoles } from '../../../src/web/roles.ts'
import { htmlOf } from '../../support/html.ts'
import { type Everything, everything } from './everything.ts'

let whole: Everything
beforeAll(async () => {
  whole = await everything()
  await whole.app.app.timetables.settled()
}, 240_000)
afterAll(() => whole?.app.close())

test('SEC-020 looking changes nothing: every link of every page is followed as every role', async () => {
  const { prisma, signInAs } = whole.app
  const { coopId, householdId } = await prisma.member.findFirstOrThrow()
  let followed = 0
  for (const role of personRoles) {
    const member = { coopId, id: `looks-as-${role}`, householdId, name: `the ${role}`, role }
    await prisma.member.create({ data: member })
    await signInAs(member.id)
    const before = await state()
    followed += await followAll()
    expect(await state(), role).toEqual(before)
  }
  process.stdout.write(`links followed: ${followed}\n`)
  expect(followed).toBeGreaterThan(300)
}, 600_000)

/** Asks for every address that a link leads to, of each kind the first three; says how many there were. */
async function followAll(): Promise<number> {
  const waiting = ['/']
  const seen = new Set<string>()
  const kinds = new Map<string, number>()
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    const kind = path.replace(/[2-9a-z]{12}/g, ':id').replace(/=[^&]*/g, '')
    const count = kinds.get(kind) ?? 0
    if (seen.has(path) || count >= 3) continue
    seen.add(path)
    kinds.set(kind, count + 1)
    const answer = await whole.app.app.inject({ url: path })
    expect(answer.statusCode, path).toBeLessThan(400)
    if (!String(answer.headers['content-type']).startsWith('text/html')) continue
    const $ = htmlOf(answer.payload)
    for (const link of $('a[href^="/"]').toArray()) waiting.push(String($(link).attr('href')).split('#')[0] ?? '')
  }
  return seen.size
}

/** A sum over each table, by name. */
async function state(): Promise<Record<string, string>> {
  const { prisma } = whole.app
  const tables = await prisma.$queryRaw<{ name: string }[]>`
    SELECT table_name AS name FROM information_schema.tables
    WHERE table_schema = current_schema() AND table_type = 'BASE TABLE' ORDER BY 1`
  const sums: Record<string, string> = {}
  for (const { name } of tables) {
    // the name is the catalogue's own
    const [row] = await prisma.$queryRawUnsafe<{ sum: string }[]>(
      `SELECT coalesce(md5(string_agg(t::text, '|' ORDER BY t::text)), '') AS sum FROM "${name}" t`,
    )
    sums[name] = row?.sum ?? ''
  }
  expect(tables.length).toBeGreaterThan(40)
  return sums
}
