import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkAllocation } from '../../../src/core/allocation/index.ts'
import { writeCalendar } from '../../../src/core/calendar/index.ts'
import { askDivision } from '../../../src/core/division/index.ts'
import { checkSchedule } from '../../../src/core/scheduling/index.ts'
import { readAnswer, readQuestion } from '../../../src/features/plans/documents.ts'
import { startTimetable } from '../../../src/features/plans/timetables/actions.ts'
import { timetableEntries } from '../../../src/features/plans/timetables/calendar.ts'
import { readWorkedOut } from '../../../src/features/plans/timetables/documents.ts'
import { findSteward } from '../../../src/web/queries.ts'
import { textAt, textsAt } from '../../support/html.ts'
import { demonstrationApp, divide, type PlanKitchen, workedOut } from './kitchen.ts'

// With the real solver and the real scheduler in their threads.

let kitchen: PlanKitchen
let division: string
let timetable: string
beforeAll(async () => {
  kitchen = await demonstrationApp()
  division = await divide(kitchen)
  await workedOut(kitchen, division)
  timetable = await kitchen.postTaken(`${division}/timetable`, {}, { from: division })
  await kitchen.app.timetables.settled()
  // several divisions and timetables, one after the other
}, 300_000)
afterAll(() => kitchen.close())

async function stored() {
  const { answer } = await kitchen.prisma.timetable.findFirstOrThrow({ where: { number: 1 } })
  return readWorkedOut(answer)
}

describe('a timetable', () => {
  it('is made from a division by its button, and found from there', async () => {
    expect(timetable).toBe(`${kitchen.planPath}/timetables/1`)
    const { division } = await kitchen.prisma.timetable.findFirstOrThrow({ include: { division: true } })
    const $ = await kitchen.getPage(`${kitchen.planPath}/divisions/${division.number}`)
    expect(textsAt($, `a[href="${timetable}"]`)).toEqual(['Timetable 1'])
  })

  it('is stored as a plan and a schedule that the checker finds nothing in', async () => {
    const { plan, schedule } = await stored()
    expect(plan.activities.length).toBeGreaterThanOrEqual(60)
    expect(checkSchedule(plan.problem, schedule)).toEqual([])
  })

  it('makes what its division says, which is another than was asked where the clock did not hold that', async () => {
    const { plan, holds, rounds, gave } = await stored()
    const { division } = await kitchen.prisma.timetable.findFirstOrThrow({ include: { division: true } })
    expect(holds).toBe(true)
    expect(division.fittedFrom).toBe(rounds === 0 ? null : 1)
    const { result } = readAnswer(division.answer)
    expect(checkAllocation(askDivision(readQuestion(division.question)), result)).toEqual([])
    const promised = result.batches.map(({ productId, day, units }) => [`${productId}@${day}`, units]).sort()
    const { start } = (await stored()).schedule
    const made = plan.batches.map(({ batch, portions }) => {
      const out = plan.activities.filter(({ activity }) => (start[activity.id] ?? plan.beyond) >= plan.beyond)
      const done = portions.reduce(
        (sum, units, portion) =>
          sum + (out.some((one) => one.batch === batch.id && one.portion === portion) ? 0 : units),
        0,
      )
      return [batch.id, done]
    })
    expect(made.sort()).toEqual(promised)
    const total = (id: string) => result.batches.reduce((sum, one) => sum + (one.productId === id ? one.units : 0), 0)
    for (const { productId, after } of gave) expect([productId, after]).toEqual([productId, total(productId)])
  })

  it('tells every phase of every task that is in the work days, once, in the day’s table', async () => {
    const { plan, schedule } = await stored()
    const inside = plan.activities.filter(({ activity }) => (schedule.start[activity.id] ?? 0) < plan.beyond)
    const phases = inside.reduce(
      (sum, { activity }) => sum + activity.phases.filter(({ minutes }) => minutes > 0).length,
      0,
    )
    const $ = await kitchen.getPage(timetable)
    expect($('.table tbody tr').length).toBe(phases)
    expect(textAt($, '.lead')).toContain(`${inside.length} tasks for `)
  })

  it('never has a child at the stove, the canner, hot filling or knives, nor a teen there alone', async () => {
    const { plan, schedule } = await stored()
    const bands = new Map(plan.kitchen.helpers.map(({ id, ageBand }) => [id, ageBand]))
    let hot = 0
    for (const { activity } of plan.activities) {
      activity.phases.forEach(({ people = [] }, number) => {
        const crew = (schedule.people[activity.id]?.[number] ?? []).map((id) => bands.get(id))
        if (people.some(({ skill }) => skill === 'cut' || skill.startsWith('hot:') || skill.startsWith('adult:'))) {
          expect([activity.id, crew.includes('child')]).toEqual([activity.id, false])
        }
        if (people.some(({ skill }) => skill.startsWith('adult:'))) {
          hot++
          expect([activity.id, crew.includes('adult')]).toEqual([activity.id, true])
        }
      })
    }
    expect(hot).toBeGreaterThan(5)
  })

  it('has a sheet for the wall and one for each helper, with that helper’s work only', async () => {
    const { plan } = await stored()
    const wall = await kitchen.getPage(`${timetable}/sheet`)
    expect(wall('.ticks > li').length).toBeGreaterThan(60)
    expect(textsAt(wall, '.caution').join(' ')).toContain('local extension service')
    const [first] = plan.kitchen.helpers
    if (!first) throw new Error('a timetable without helpers')
    const own = await kitchen.getPage(`${timetable}/sheet?helper=${first.id}`)
    expect(textAt(own, 'h1')).toContain(first.name)
    for (const line of textsAt(own, '.ticks > li')) expect(line).toContain(first.name)
    expect(own('.ticks > li').length).toBeLessThan(wall('.ticks > li').length)
  })

  it('answers 404 for a helper, a number or a plan that is not there', async () => {
    for (const path of [
      `${timetable}/sheet?helper=nobody`,
      `${kitchen.planPath}/timetables/99`,
      '/plans/none/timetables/1',
    ]) {
      expect([path, (await kitchen.app.inject({ url: path })).statusCode]).toEqual([path, 404])
    }
  })

  it('is refused for a division that has no answer yet', async () => {
    const second = await divide(kitchen)
    const steward = await findSteward(kitchen.prisma)
    const { id: planId } = await kitchen.prisma.plan.findFirstOrThrow()
    if (steward === null) throw new Error('no steward')
    await expect(startTimetable(kitchen.app, steward, planId, Number(second.split('/').at(-1)))).rejects.toThrow(
      'has no answer yet',
    )
    await workedOut(kitchen, second)
  })
})

describe('what follows from a timetable', () => {
  it('is a reason for each product of the division that it holds', async () => {
    const { division } = await kitchen.prisma.timetable.findFirstOrThrow({ include: { division: true } })
    const $ = await kitchen.getPage(`${kitchen.planPath}/divisions/${division.number}`)
    const told = textsAt($, '.outcomes li p:first-of-type')
    expect(told.length).toBeGreaterThan(10)
    expect(told.filter((text) => !text.includes(':'))).toEqual([])
  })

  it.each(['helper', 'station', 'batch'])('is drawn by %s, each row named, with the table beside', async (by) => {
    const $ = await kitchen.getPage(`${timetable}?by=${by}`)
    expect($('svg.timetable-hours').length).toBe(1)
    expect($('svg.timetable-hours title').length).toBeGreaterThan(60)
    expect($('.table tbody tr').length).toBeGreaterThan(60)
  })

  it('stands in a helper’s calendar piece by piece, and slow jobs in one of their own', async () => {
    const { plan } = await stored()
    const [first] = plan.kitchen.helpers
    if (!first) throw new Error('a timetable without helpers')
    const { coopId } = await kitchen.prisma.timetable.findFirstOrThrow()
    const own = await timetableEntries(kitchen.prisma, coopId, first.id)
    expect(own.length).toBeGreaterThan(5)
    expect(new Set(own.map(({ id }) => id)).size).toBe(own.length)
    const { days } = plan.kitchen
    for (const { start } of own) expect(days.map(({ date }) => date)).toContain(start.date)
    const slow = await timetableEntries(kitchen.prisma, coopId, null)
    expect(slow.length).toBeGreaterThan(0)
    const calendar = writeCalendar({
      name: 'work',
      product: 'tests',
      timeZone: 'Europe/Berlin',
      events: own.map(({ id, ...event }) => ({ ...event, uid: id })),
    })
    expect(calendar.match(/BEGIN:VEVENT/g)?.length).toBe(own.length)
  })
})
