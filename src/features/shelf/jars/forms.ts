import { z } from 'zod'
import { neededText, optionalText, read, wholeNumber } from '../../../web/forms.ts'

/** No line holds more. */
export const MOST_UNITS = 100_000

const units = wholeNumber('Enter how many: a whole number from 1', 1, MOST_UNITS)
const note = optionalText(200)
const shared = 'shared'

// Several forms stand on one page: each has its fields under its own name.
export const takeForm = z.object({
  'take.units': units,
  'take.householdId': neededText('Choose who takes them', 40),
})
export const giveForm = z.object({ 'give.units': units, 'give.note': note })
export const breakForm = z.object({ 'break.units': units, 'break.note': note })
export const moveForm = z.object({
  'move.units': units,
  'move.placeId': neededText('Choose where they go', 40),
  'move.householdId': read<string | null>((typed) => ({ value: typed === shared || typed === '' ? null : typed }), 40),
})
export const countForm = z.object({
  'count.counted': wholeNumber('Enter how many there are: a whole number, 0 for none', 0, MOST_UNITS),
  'count.shown': wholeNumber('Open the page again', 0, 1_000_000_000),
})
/** The value of a choice of owner that means nobody alone. */
export const SHARED = shared
