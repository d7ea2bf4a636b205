import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkAllocation } from '../../../src/core/allocation/index.ts'
import { writeCalendar } from '../../../src/core/calendar/index.ts'
import { timetableOf } from '../../../src/core/day/index.ts'
import { askDivision } from '../../../src/core/division/index.ts'
import { checkSchedule } from '../../../src/core/scheduling/index.ts'
import { readAnswer, readQuestion } from '../../../src/features/plans/documents.ts'
import { startTimetable } from '../../../src/features/plans/timetables/actions.ts'
import { timetableEntries } from '../../../src/features/plans/timetables/calendar.ts'
import { readWorkedOut } from '../../../src/features/plans/timetables/documents.ts'
import { piecesOf } from '../../../src/features/plans/timetables/pieces.ts'
import { findSteward } from '../../../src/web/sessions/index.ts'
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

  it('tells every phase of every task that is in the work days in one line of a day’s table', async () => {
    const { plan, schedule } = await stored()
    const { entries } = timetableOf(plan, schedule)
    const phases = entries.filter(({ from, to }) => to > from)
    const pieces = piecesOf(entries)
    for (const { batch, step, from, to, helpers } of phases) {
      const of = pieces.filter(
        (one) =>
          one.batch === batch &&
          one.step === step &&
          one.from <= from &&
          one.to >= to &&
          helpers.every((id) => one.helpers.includes(id)) &&
          helpers.length > 0 === one.helpers.length > 0,
      )
      expect(of.length, `${batch} ${step} at ${from}`).toBeGreaterThanOrEqual(1)
    }
    // nobody works a minute more or less than before
    const minutes = (of: readonly { helpers: string[]; from: number; to: number }[]) =>
      of.reduce((sum, { helpers, from, to }) => sum + helpers.length * (to - from), 0)
    expect(minutes(pieces)).toBe(minutes(phases))
    expect(pieces.length).toBeLessThan(phases.length)
    const $ = await kitchen.getPage(timetable)
    expect($('.timetable-table tbody tr').length).toBe(pieces.length)
    expect(textAt($, '.lead')).toContain('tasks for ')
  })

  it('has a section for each day with its drawing above its table, linked at the top, and tells the night', async () => {
    const { plan } = await stored()
    const $ = await kitchen.getPage(timetable)
    const links = $('.timetable-days a').toArray()
    expect(links.length).toBe(plan.kitchen.days.length)
    for (const link of links) {
      const section = $($(link).attr('href') ?? 'nowhere')
      expect(section.find('h2').text()).toBe($(link).text())
      expect(section.find('svg.timetable-fitted').length).toBe(1)
      expect(section.find('.timetable-key li').length).toBeGreaterThan(2)
      expect(section.find('h3').text()).toMatch(/Overnight|After closing/)
    }
    // Jars that were processed on the first day stand until the second, whatever else dries or drips.
    expect(textsAt($, `${$(links[0] ?? '').attr('href')} h3 + ul li`).join(' ')).toMatch(
      /Let the jars stand apart for 12 to 24 hours without touching the lids: .*\. The first are ready at .*, the last at /,
    )
    // all that go through the canner on the first day stand together at its end
    const processed = plan.batches.flatMap(({ batch }) =>
      batch.day === 0 && batch.process !== null ? [batch.units] : [],
    )
    const jars = processed.reduce((sum, units) => sum + units, 0)
    expect(textsAt($, `${$(links[0] ?? '').attr('href')} h3 + ul li`).at(-1)).toMatch(
      new RegExp(`^Keep the counter free: ${jars} jars stand and cool there at `),
    )
    expect(
      $('details.fold')
        .toArray()
        .map((fold) => $(fold).attr('open') !== undefined),
    ).toEqual(links.map((_, n) => n === 0))
    expect(textsAt($, `a[href="${timetable}/worth"]`)).toEqual([
      expect.stringMatching(/^What would (help most|have saved it)$/),
    ])
    // what is folded is beside the fold: without a style sheet that folds it, it is there
    expect($('details.fold > :not(summary)').length).toBe(0)
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

  it('has a sheet for the wall, a part for each day, with a box for whatever takes hands', async () => {
    const { plan, schedule } = await stored()
    const wall = await kitchen.getPage(`${timetable}/sheet`)
    expect(textsAt(wall, '.wall-day h2').length).toBe(plan.kitchen.days.length)
    const lines = wall('.wall tbody tr').toArray()
    expect(lines.length).toBeGreaterThan(30)
    expect(lines.length).toBeLessThan(piecesOf(timetableOf(plan, schedule).entries).length)
    for (const line of lines) {
      expect(wall(line).find('.box').length).toBe(wall(line).hasClass('alone') ? 0 : 1)
      expect(wall(line).find('.wall-what > strong').text() === '').toBe(wall(line).hasClass('alone'))
    }
    expect(textsAt(wall, '.caution').join(' ')).toContain('local extension service')
    // each load says when its tested minutes run
    const loads = timetableOf(plan, schedule).entries.filter(({ part }) => part === 'process')
    expect(loads.length).toBeGreaterThan(3)
    expect(
      textsAt(wall, '.wall')
        .join(' ')
        .match(/tested minutes/g)?.length,
    ).toBe(loads.length)
  })

  it('has a sheet for each helper, with that helper’s work only and the recipe’s words', async () => {
    const { plan, schedule } = await stored()
    const { entries } = timetableOf(plan, schedule)
    for (const { id, name } of plan.kitchen.helpers) {
      const own = await kitchen.getPage(`${timetable}/sheet?helper=${id}`)
      expect(textAt(own, 'h1')).toContain(name)
      const pieces = piecesOf(entries.filter(({ helpers }) => helpers.includes(id)))
      expect(own('.ticks > li').length).toBe(pieces.length)
      expect(own('.ticks .box').length).toBe(pieces.length)
      const says = pieces.flatMap(({ batch, step }) =>
        batch === null || step === null
          ? []
          : [plan.batches.find((one) => one.batch.id === batch)?.steps[step]?.step.says ?? ''],
      )
      const text = own('.ticks').text().replace(/\s+/g, ' ')
      for (const words of says) expect(text).toContain(words.replace(/\s+/g, ' ').trim())
    }
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
    expect($('svg.timetable-hours').length).toBe($('.timetable-day').length)
    expect($('svg.timetable-hours .timetable-bar').length).toBeGreaterThan(60)
    expect($('svg.timetable-fitted .timetable-bar').length).toBe($('svg.timetable-hours .timetable-bar').length)
    expect($('.timetable-table tbody tr').length).toBeGreaterThan(60)
  })

  it('stands in a helper’s calendar piece by piece, and slow jobs in one of their own', async () => {
    const { plan } = await stored()
    const { coopId } = await kitchen.prisma.timetable.findFirstOrThrow()
    // the one with most to do: who that is differs from search to search
    const all = await Promise.all(plan.kitchen.helpers.map(({ id }) => timetableEntries(kitchen.prisma, coopId, id)))
    const own = all.sort((a, b) => b.length - a.length)[0] ?? []
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
