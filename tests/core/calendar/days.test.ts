import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { type CalendarTime, writeCalendar } from '../../../src/core/calendar/index.ts'

// Events of a whole day, read back by ical.js.

const write = (time: CalendarTime) =>
  writeCalendar({
    name: 'Slow jobs',
    product: '-//Larkrise//Kitchen//EN',
    timeZone: 'Pacific/Kiritimati',
    events: [{ ...time, uid: 'one@kitchen', summary: 'Strain it', stamp: new Date('2026-09-01T08:15:30Z') }],
  })

function eventIn(text: string): ICAL.Event {
  const [component] = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent')
  if (!component) throw new Error('no event')
  return new ICAL.Event(component)
}

describe('an event of a whole day', () => {
  test.each([
    ['2026-09-12', '2026-09-13'],
    ['2026-12-31', '2027-01-01'],
    ['2028-02-28', '2028-02-29'],
    ['2028-02-29', '2028-03-01'],
    ['2027-02-28', '2027-03-01'],
    // clocks change in most zones that change them
    ['2026-10-25', '2026-10-26'],
  ])('%s ends before %s, and is no time of any zone', (day, after) => {
    const event = eventIn(write({ day }))
    expect(event.startDate.isDate).toBe(true)
    expect(event.endDate.isDate).toBe(true)
    expect([String(event.startDate), String(event.endDate)]).toEqual([day, after])
    expect(event.duration.toSeconds()).toBe(86_400)
    expect(event.component.getFirstPropertyValue('transp')).toBe('TRANSPARENT')
  })

  test.each(['2027-02-29', '12 September', '', '9999-12-31'])('is refused for “%s”', (day) => {
    expect(() => write({ day })).toThrow(RangeError)
  })

  test('stands beside events with a time, which are in UTC as before', () => {
    const event = eventIn(write({ start: { date: '2026-09-12', minuteOfDay: 840 }, minutes: 15 }))
    expect(event.startDate.isDate).toBe(false)
    expect(event.startDate.toJSDate().toISOString()).toBe('2026-09-12T00:00:00.000Z')
    expect(event.component.getFirstPropertyValue('transp')).toBeNull()
  })
})
