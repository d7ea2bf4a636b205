import { expect, test } from 'vitest'
import { parseTimeOfDay } from '../../../src/core/day/time-of-day.ts'

test.each([
  ['8', 480],
  ['8:00', 480],
  ['08:05', 485],
  ['8 am', 480],
  ['8am', 480],
  ['8 a.m.', 480],
  ['2:15 PM', 855],
  ['12 am', 0],
  ['12 pm', 720],
  ['14.30', 870],
  ['14h30', 870],
  ['0', 0],
  ['24:00', 1440],
  ['noon', 720],
  ['midnight', 1440],
])('%s is minute %i of the day', (typed, minute) => expect(parseTimeOfDay(typed)).toBe(minute))

test.each(['', '25', '24:01', '8:75', '13 pm', '0 am', '-1', '8:0', 'eight', '8:00:00', 'NaN', '1e3', '🕗', '888'])(
  '“%s” is no time of day',
  (typed) => expect(parseTimeOfDay(typed)).toBeNull(),
)
