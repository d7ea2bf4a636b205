import { expect, it } from 'vitest'
import { isLeftOver, runName } from '../support/left-overs.ts'

it('sweeps what a run left behind that is over, and nothing else', () => {
  const now = new Date('2026-09-12T10:00:00Z')
  const mine = runName(now)
  expect(isLeftOver(mine, now)).toBe(false)
  expect(isLeftOver(`${mine}_migrated`, now)).toBe(false)
  // No process has this id: the largest that Linux gives is 4,194,304.
  const gone = mine.replace(`_${process.pid}_`, '_99999999_')
  expect(isLeftOver(`${gone}_migrated`, now)).toBe(true)
  // Another host's processes cannot be asked for; only age tells.
  const elsewhere = gone.replace(/test_[0-9a-f]{6}/, 'test_abcdef')
  expect(isLeftOver(elsewhere, now)).toBe(false)
  expect(isLeftOver(elsewhere, new Date('2026-09-13T10:00:01Z'))).toBe(true)
  expect(isLeftOver('glutworks', now)).toBe(false)
  expect(isLeftOver('postgres', now)).toBe(false)
})
