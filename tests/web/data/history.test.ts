import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { randomId } from '../../../src/ids.ts'
import { deleteCoop, eraseFormerMember } from '../../../src/keeping/deleting.ts'
import { type TestApp, testApp } from '../../support/app.ts'
import { emptyHistory } from '../../support/history.ts'
import { addNeighbours, neighboursId } from '../../support/neighbours.ts'

// The history and the audit in the database itself: what stands there stays, whoever asks for it.

const app: TestApp = await testApp()
const { prisma, coopId } = app
const at = new Date('2026-09-10T08:00:00Z')
const now = new Date('2026-09-11T08:00:00Z')
afterAll(() => app.close())
await addNeighbours(app)

beforeEach(async () => {
  await emptyHistory(prisma)
  for (const id of [coopId, neighboursId]) {
    const who = 'Lots Marsh'
    await prisma.change.create({ data: { coopId: id, id: 'c', at, who, noun: 'lots', nounId: 'x', what: 'for lots' } })
    await prisma.securityEvent.create({
      data: { coopId: id, id: `e-${id}`, at, who, kind: 'signed-in', what: 'Lots Marsh came in' },
    })
  }
  await prisma.securityEvent.create({
    data: { coopId: null, id: 'nobody', at, who: '', kind: 'sign-in-failed', what: 'a wrong password' },
  })
})

async function lines() {
  const changes = await prisma.change.findMany({ orderBy: { coopId: 'asc' } })
  const events = await prisma.securityEvent.findMany({ orderBy: { id: 'asc' } })
  return { changes, events }
}

const refusal = /never changed or erased/

describe('SEC-068 what happened stays', () => {
  test('no line is changed or erased, through Prisma or by SQL, nor by the co-op’s own row going', async () => {
    const before = await lines()
    await expect(prisma.change.updateMany({ data: { what: 'other' } })).rejects.toThrow(refusal)
    await expect(prisma.change.deleteMany()).rejects.toThrow(refusal)
    await expect(prisma.securityEvent.updateMany({ data: { who: 'other' } })).rejects.toThrow(refusal)
    await expect(prisma.securityEvent.deleteMany({ where: { coopId: null } })).rejects.toThrow(refusal)
    for (const table of ['Change', 'SecurityEvent']) {
      await expect(prisma.$executeRawUnsafe(`UPDATE "${table}" SET "at" = now()`)).rejects.toThrow(refusal)
      await expect(
        prisma.$executeRawUnsafe(`DELETE FROM "${table}" WHERE "id" LIKE 'e-%' OR "id" = 'c'`),
      ).rejects.toThrow(refusal)
    }
    await expect(prisma.coop.delete({ where: { id: neighboursId } })).rejects.toThrow()
    expect(await lines()).toEqual(before)
  })

  test.each([
    ['glutworks.coop_deleted', 'what is deleted with a co-op is not changed', 'UPDATE "Change" SET "what" = \'other\''],
    ['glutworks.coop_deleted', 'nor goes of another', `DELETE FROM "Change" WHERE "coopId" = '${neighboursId}'`],
    ['glutworks.coop_deleted', 'nor of nobody’s', 'DELETE FROM "SecurityEvent" WHERE "coopId" IS NULL'],
    ['glutworks.name_erased', 'where names are erased no line goes', 'DELETE FROM "SecurityEvent"'],
    ['glutworks.name_erased', 'nor another co-op’s changes', 'UPDATE "SecurityEvent" SET "who" = \'other\''],
    [
      'glutworks.name_erased',
      'nor anything but the words',
      `UPDATE "Change" SET "at" = now() WHERE "coopId" = 'larkrise-lane'`,
    ],
  ])('with %s set: %s', async (setting, _words, sql) => {
    const before = await lines()
    const work = prisma.$transaction([
      prisma.$queryRaw`SELECT set_config(${setting}, ${coopId}, true)`,
      prisma.$executeRawUnsafe(sql),
    ])
    await expect(work).rejects.toThrow(refusal)
    expect(await lines()).toEqual(before)
  })

  test('no table of it is emptied, by itself or with another', async () => {
    const supply = { id: 'lids', key: 'lid', name: 'lids', unit: 'lid', onHand: 3, packSize: 12, packPriceMinor: 400 }
    await prisma.supply.create({ data: { coopId, ...supply, packsAtMost: 2 } })
    const before = await lines()
    for (const tables of ['"Change"', '"SecurityEvent"', '"ShelfEntry"', '"Change", "Submission"']) {
      await expect(prisma.$executeRawUnsafe(`TRUNCATE ${tables}`), tables).rejects.toThrow(/is never emptied/)
    }
    for (const table of ['Coop', 'Supply', 'Batch', 'Household']) {
      const work = prisma.$executeRawUnsafe(`TRUNCATE "${table}" CASCADE`)
      await expect(work, table).rejects.toThrow(/is never emptied/)
    }
    expect(await lines()).toEqual(before)
    expect(await prisma.shelfEntry.count({ where: { supplyId: 'lids' } })).toBe(1)
    expect(await prisma.coop.count()).toBe(2)
  })

  test('a name that is erased goes from who and what alone, although kinds of things have the same', async () => {
    for (const [id, name] of [
      ['lots', 'lots'],
      ['marsh', 'Lots Marsh'],
    ] as const) {
      const member = { coopId, id, householdId: app.householdId, name, role: 'member', leftAt: at }
      await prisma.member.create({ data: member })
    }
    const by = { name: 'Rosalind Pike', memberId: 'rosalind' }
    for (const memberId of ['lots', 'marsh']) {
      const erasing = eraseFormerMember(app.app.longTransactions, { coopId, memberId, by }, { now, newId: randomId })
      expect(await erasing).toBe('erased')
    }
    const { changes, events } = await lines()
    expect(changes).toEqual([
      { coopId, id: 'c', at, who: 'a former member', noun: 'lots', nounId: 'x', what: 'for a former member' },
      expect.objectContaining({ coopId: neighboursId, who: 'Lots Marsh', what: 'for lots' }),
    ])
    expect(events.filter(({ coopId: whose }) => whose === neighboursId)).toMatchObject([{ who: 'Lots Marsh' }])
    expect(events.filter(({ kind }) => kind === 'data-deleted')).toHaveLength(2)
    expect(events.find(({ id }) => id === `e-${coopId}`)).toMatchObject({
      kind: 'signed-in',
      who: 'a former member',
      what: 'a former member came in',
    })
    // it held for that transaction alone
    await expect(prisma.change.updateMany({ where: { coopId }, data: { who: 'other' } })).rejects.toThrow(refusal)
  })

  test('a co-op that is deleted takes its lines along, and no others', async () => {
    expect(await deleteCoop(app.app.longTransactions, neighboursId, { now, newId: randomId })).toBe(true)
    const { changes, events } = await lines()
    expect(changes.map((line) => line.coopId)).toEqual([coopId])
    expect(events.map(({ id, kind }) => (kind === 'data-deleted' ? kind : id)).sort()).toEqual(
      ['data-deleted', `e-${coopId}`, 'nobody'].sort(),
    )
    await expect(prisma.change.deleteMany({ where: { coopId } })).rejects.toThrow(refusal)
  })
})
