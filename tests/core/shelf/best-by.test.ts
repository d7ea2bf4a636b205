import { describe, expect, test } from 'vitest'
import { ageOf } from '../../../src/core/shelf/index.ts'

const today = '2026-09-11'

describe('a best-by date', () => {
  test.each([
    ['2026-09-10', 'past', -1],
    ['2026-09-11', 'soon', 0],
    ['2026-11-10', 'soon', 60],
    ['2026-11-11', 'later', 61],
    ['2028-02-29', 'later', 536],
  ])('%s is %s', (bestBy, state, days) => {
    expect(ageOf(bestBy, today)).toEqual({ state, days })
  })

  test('that nobody noted says nothing', () => {
    expect(ageOf(null, today)).toEqual({ state: 'unknown' })
  })
})
