import { afterAll, beforeAll, expect, test } from 'vitest'
import { countTry, doorKey, forgetTries, waitAfter, waitInWords } from '../../../src/web/tries.ts'
import { type FreshDatabase, freshDatabase } from '../../support/database.ts'

let fresh: FreshDatabase
beforeAll(async () => {
  fresh = await freshDatabase()
})
afterAll(() => fresh?.dispose())

const at = (seconds: number) => new Date(Date.UTC(2026, 8, 11, 9, 0, seconds))
const take = (key: string, seconds: number) => countTry(fresh.database.prisma, key, at(seconds))

test('SEC-007 five tries are free, then each waits twice as long, up to a quarter of an hour', async () => {
  const key = doorKey('a door', '192.0.2.7')
  for (let n = 0; n < 5; n++) expect(await take(key, n)).toBe(0)
  expect(await take(key, 5)).toBe(29)
  expect(await take(key, 33)).toBe(1)
  expect(await take(key, 34)).toBe(0)
  expect(await take(key, 35)).toBe(59)
  // another one at the same door, and the same one at another, wait for nothing
  expect(await take(doorKey('a door', '192.0.2.8'), 35)).toBe(0)
  expect(await take(doorKey('another', '192.0.2.7'), 35)).toBe(0)
  expect([5, 6, 7, 8, 9, 10, 11, 1000].map((failed) => waitAfter(failed))).toEqual([
    30, 60, 120, 240, 480, 900, 900, 900,
  ])
  expect([1, 40, 60, 61, 900].map(waitInWords)).toEqual([
    '1 second',
    '40 seconds',
    '1 minute',
    '2 minutes',
    '15 minutes',
  ])
})

test('who gets through begins anew, and a day without a try does too', async () => {
  const key = doorKey('a door', 'somebody')
  for (let n = 0; n < 6; n++) await take(key, n)
  expect(await take(key, 6)).toBeGreaterThan(0)
  await forgetTries(fresh.database.prisma, key)
  for (let n = 0; n < 5; n++) expect(await take(key, 7)).toBe(0)
  expect(await take(key, 7)).toBe(30)
  expect(await take(key, 86_500)).toBe(0)
  expect((await fresh.database.prisma.attempt.findMany()).map(({ count }) => count)).toEqual([1])
})

test('fifty tries at the same moment count as fifty: five get through', async () => {
  const key = doorKey('a door', 'a crowd')
  const answers = await Promise.all(Array.from({ length: 50 }, () => take(key, 100_000)))
  expect(answers.filter((wait) => wait === 0).length).toBe(5)
})
