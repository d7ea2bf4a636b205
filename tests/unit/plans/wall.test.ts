import { expect, it } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { notedPlan, timetableOf } from '../../../src/core/day/index.ts'
import { solveSchedule } from '../../../src/core/scheduling/index.ts'
import { wallDays } from '../../../src/features/plans/timetables/wall.ts'
import { tableWords } from '../../../src/features/plans/timetables/words.ts'
import { formatFor } from '../../../src/web/format.ts'
import { batch, helper, kitchen, recipe, step } from '../../core/day/days.ts'

const format = formatFor({ locale: 'en-GB', timeZone: 'Europe/London', units: 'metric', currency: 'GBP' })

/** What the one line on the wall says of a batch that one helper washes and another cuts. */
function lineFor(washer: 'child' | 'teen') {
  const crew = [helper('Pim', { skills: ['wash'], ageBand: washer }), helper('Ida', { skills: ['cut'] })]
  const steps = [
    step({ station: 'wash', work: 'wash', minutes: { perKg: 5 } }),
    step({ station: 'cut', work: 'cut', minutes: { perKg: 5 } }),
  ]
  const plan = planDays(kitchen({}, crew), [batch(recipe(steps), 6, { day: 0 })])
  const noted = notedPlan(plan)
  const table = timetableOf(noted, solveSchedule(plan.problem, { maxSchedules: 50 }))
  const [day] = wallDays(noted, table, tableWords(noted, format), [null], format)
  return day?.rows.find(({ does }) => does.includes('cut'))
}

it('a line of the wall says that a child washes only, where others cut', () => {
  expect(lineFor('child')).toMatchObject({ does: 'wash, cut', who: 'Ida; Pim: wash only' })
})

it('a line of the wall names grown people and teens in a row', () => {
  expect(lineFor('teen')).toMatchObject({ does: 'wash, cut', who: 'Pim, Ida' })
})
