import fc from 'fast-check'
import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { type CalendarEvent, utcOf, writeCalendar } from '../../../src/core/calendar/index.ts'

const stamp = new Date('2026-09-01T08:15:30.500Z')
const peeling: CalendarEvent = {
  uid: 'peel-1@kitchen',
  start: { date: '2026-09-12', minuteOfDay: 570 },
  minutes: 95,
  summary: 'Peel apples',
  stamp,
}

function write(events: readonly CalendarEvent[], timeZone = 'Europe/Berlin'): string {
  return writeCalendar({ name: 'Larkrise: Ada', product: '-//Larkrise//Kitchen//EN', events, timeZone })
}

/** Reads a calendar with an independent reader. */
function read(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return { calendar, events: calendar.getAllSubcomponents('vevent').map((one) => new ICAL.Event(one)) }
}

function readOne(event: CalendarEvent, timeZone?: string) {
  const { events } = read(write([event], timeZone))
  expect(events.length).toBe(1)
  const [only] = events
  if (only === undefined) throw new Error('no event')
  return only
}

/** The octets of each line as it is sent. */
function lineOctets(text: string): number[] {
  expect(text.endsWith('\r\n')).toBe(true)
  return text
    .slice(0, -2)
    .split('\r\n')
    .map((line) => new TextEncoder().encode(line).length)
}

describe('a calendar', () => {
  test('says who wrote it, what it is called and how often to look', () => {
    const { calendar } = read(write([peeling]))
    expect(calendar.name).toBe('vcalendar')
    expect(calendar.getFirstPropertyValue('version')).toBe('2.0')
    expect(calendar.getFirstPropertyValue('prodid')).toBe('-//Larkrise//Kitchen//EN')
    expect(calendar.getFirstPropertyValue('name')).toBe('Larkrise: Ada')
    expect(String(calendar.getFirstPropertyValue('refresh-interval'))).toBe('PT1H')
  })

  test('has what is known of an event, and nothing for what is not', () => {
    const full = readOne({
      ...peeling,
      description: 'Firm ones first',
      location: 'Upper Ansley',
      categories: ['peel', 'wash, sort'],
      sequence: 3,
    })
    expect(full.uid).toBe('peel-1@kitchen')
    expect(full.summary).toBe('Peel apples')
    expect(full.description).toBe('Firm ones first')
    expect(full.location).toBe('Upper Ansley')
    expect(full.sequence).toBe(3)
    expect(full.component.getFirstProperty('categories')?.getValues()).toEqual(['peel', 'wash, sort'])
    expect(String(full.component.getFirstPropertyValue('dtstamp'))).toBe('2026-09-01T08:15:30Z')
    const names = readOne(peeling).component.getAllProperties()
    expect(names.map(({ name }) => name)).toEqual(['uid', 'dtstamp', 'dtstart', 'dtend', 'sequence', 'summary'])
  })

  test('keeps the order of its events', () => {
    const uids = ['c', 'a', 'b']
    expect(read(write(uids.map((uid) => ({ ...peeling, uid })))).events.map(({ uid }) => uid)).toEqual(uids)
  })

  test('has one component even without events, and no event', () => {
    const { calendar, events } = read(write([]))
    expect(events).toEqual([])
    const [zone, ...more] = calendar.getAllSubcomponents()
    expect(more).toEqual([])
    if (zone === undefined) throw new Error('no component')
    const utc = new ICAL.Timezone(zone)
    expect(utc.tzid).toBe('Etc/UTC')
    expect(utc.utcOffset(ICAL.Time.fromJSDate(new Date('2026-07-01T12:00:00Z'), true))).toBe(0)
  })
})

describe('the times of an event', () => {
  // zone, date, minute, length, start and end: offsets of the IANA time zone database
  test.each([
    ['Europe/Berlin', '2026-09-12', 570, 95, '2026-09-12T07:30:00Z', '2026-09-12T09:05:00Z'],
    ['Europe/Berlin', '2026-12-12', 570, 95, '2026-12-12T08:30:00Z', '2026-12-12T10:05:00Z'],
    ['America/Denver', '2026-09-12', 1200, 60, '2026-09-13T02:00:00Z', '2026-09-13T03:00:00Z'],
    ['Asia/Kathmandu', '2026-09-12', 0, 1, '2026-09-11T18:15:00Z', '2026-09-11T18:16:00Z'],
    // the end of the day and beyond it are the next day
    ['Europe/Berlin', '2026-09-30', 1440, 30, '2026-09-30T22:00:00Z', '2026-09-30T22:30:00Z'],
    ['Europe/Berlin', '2026-12-31', 1440 + 480, 30, '2027-01-01T07:00:00Z', '2027-01-01T07:30:00Z'],
    // clocks go back at 3:00: before, twice (the first counts), after, and across
    ['Europe/Berlin', '2026-10-25', 119, 10, '2026-10-24T23:59:00Z', '2026-10-25T00:09:00Z'],
    ['Europe/Berlin', '2026-10-25', 150, 10, '2026-10-25T00:30:00Z', '2026-10-25T00:40:00Z'],
    ['Europe/Berlin', '2026-10-25', 180, 10, '2026-10-25T02:00:00Z', '2026-10-25T02:10:00Z'],
    ['Europe/Berlin', '2026-10-25', 540, 60, '2026-10-25T08:00:00Z', '2026-10-25T09:00:00Z'],
    ['Europe/Berlin', '2026-10-24', 1380, 600, '2026-10-24T21:00:00Z', '2026-10-25T07:00:00Z'],
    ['Europe/Berlin', '2026-10-24', 1440 + 540, 60, '2026-10-25T08:00:00Z', '2026-10-25T09:00:00Z'],
    ['America/New_York', '2026-11-01', 90, 10, '2026-11-01T05:30:00Z', '2026-11-01T05:40:00Z'],
    // clocks go forward at 2:00: before, skipped (as with the offset before), after
    ['Europe/Berlin', '2026-03-29', 119, 10, '2026-03-29T00:59:00Z', '2026-03-29T01:09:00Z'],
    ['Europe/Berlin', '2026-03-29', 150, 10, '2026-03-29T01:30:00Z', '2026-03-29T01:40:00Z'],
    ['Europe/Berlin', '2026-03-29', 180, 10, '2026-03-29T01:00:00Z', '2026-03-29T01:10:00Z'],
    ['Europe/Berlin', '2026-03-29', 540, 60, '2026-03-29T07:00:00Z', '2026-03-29T08:00:00Z'],
    ['America/New_York', '2026-03-08', 150, 10, '2026-03-08T07:30:00Z', '2026-03-08T07:40:00Z'],
  ])('%s %s minute %i for %i min', (timeZone, date, minuteOfDay, minutes, start, end) => {
    const event = readOne({ ...peeling, start: { date, minuteOfDay }, minutes }, timeZone)
    expect([String(event.startDate), String(event.endDate)]).toEqual([start, end])
    expect(event.startDate.zone?.tzid).toBe('UTC')
  })

  test('are those of the wall clock on every day of a year, in any zone, unless the clock skips them', () => {
    const zones = ['Europe/Berlin', 'America/New_York', 'Australia/Lord_Howe', 'Pacific/Auckland', 'Asia/Kolkata']
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: 0, max: 364 }),
        fc.integer({ min: 300, max: 1439 }),
        (timeZone, day, minuteOfDay) => {
          const date = new Date(Date.UTC(2026, 0, 1 + day)).toISOString().slice(0, 10)
          const shown = new Intl.DateTimeFormat('en-CA', {
            timeZone,
            dateStyle: 'short',
            timeStyle: 'short',
            hourCycle: 'h23',
          })
          const hours = String(Math.floor(minuteOfDay / 60)).padStart(2, '0')
          const wanted = `${date}, ${hours}:${String(minuteOfDay % 60).padStart(2, '0')}`
          expect(shown.format(utcOf({ date, minuteOfDay }, timeZone))).toBe(wanted)
        },
      ),
    )
  })
})

describe('a text', () => {
  const summaries = {
    marks: 'Jars; lids, rings \\ bands: "all" of them',
    breaks: 'one\ntwo\r\nthree\rfour',
    backslashes: 'not a break: \\n, nor \\\\n; \\;',
    long: `Äpfel schälen 🍎 ${'für das Mus – größere zuerst 🍏 '.repeat(20)}`,
  }

  test.each(Object.entries(summaries))('with %s comes back as it went', (_, summary) => {
    const { events } = read(write([{ ...peeling, summary, description: summary, location: summary }]))
    const wanted = summary.replace(/\r\n?/g, '\n')
    expect(events.map((one) => [one.summary, one.description, one.location])).toEqual([[wanted, wanted, wanted]])
  })

  test('is escaped by the letter of the standard', () => {
    expect(write([{ ...peeling, summary: 'a;b,c\\d\ne:f' }])).toContain('\r\nSUMMARY:a\\;b\\,c\\\\d\\ne:f\r\n')
  })

  test('loses characters that may not stand in a calendar', () => {
    const summary = 'a\u0000b\u0007c\td\u007fe\ud800f'
    expect(readOne({ ...peeling, summary }).summary).toBe('abc\tde\ufffdf')
  })

  test('is folded at 75 octets, never inside a character', () => {
    const text = write([{ ...peeling, summary: summaries.long }])
    const octets = lineOctets(text)
    expect(Math.max(...octets)).toBeLessThanOrEqual(75)
    expect(octets.filter((many) => many >= 72).length).toBeGreaterThan(5)
    const parts = text.split('\r\n')
    for (const part of parts) expect(part.isWellFormed()).toBe(true)
    expect(parts.filter((part) => part.startsWith(' ')).length).toBeGreaterThan(5)
  })

  test('of exactly 75 octets stays on its line, and one more is folded', () => {
    const room = 75 - 'SUMMARY:'.length
    const lines = (length: number) =>
      lineOctets(write([{ ...peeling, summary: 'x'.repeat(length) }])).length - lineOctets(write([peeling])).length
    expect([lines(room), lines(room + 1), lines(room + 74), lines(room + 75)]).toEqual([0, 1, 1, 2])
  })

  test('of any kind comes back, on lines of 75 octets at most', () => {
    const unseen = /[^\P{Cc}\t\n\u0080-\u009f]/gu
    const text = fc
      .string({ unit: 'binary', maxLength: 300 })
      .map((one) => one.replace(/\r\n?/g, '\n').replace(unseen, ''))
    fc.assert(
      fc.property(
        text,
        text,
        fc.array(
          text.filter((one) => one !== ''),
          { maxLength: 4 },
        ),
        (summary, description, categories) => {
          const written = write([{ ...peeling, summary, description, categories }])
          expect(Math.max(...lineOctets(written))).toBeLessThanOrEqual(75)
          const [event] = read(written).events
          expect(event?.summary).toBe(summary)
          expect(event?.description ?? '').toBe(description)
          expect(event?.component.getFirstProperty('categories')?.getValues() ?? []).toEqual(categories)
        },
      ),
    )
  })
})

describe('what is refused', () => {
  test.each<[string, Partial<CalendarEvent>, RegExp]>([
    ['a day that does not exist', { start: { date: '2026-02-30', minuteOfDay: 0 } }, /not an ISO date/],
    ['half a minute', { start: { date: '2026-02-03', minuteOfDay: 0.5 } }, /not a minute/],
    ['a minute before midnight', { start: { date: '2026-02-03', minuteOfDay: -1 } }, /not a minute/],
    ['an event without length', { minutes: 0 }, /1 or more/],
    ['a length of part of a minute', { minutes: 1.5 }, /whole minutes/],
    ['a sequence below 0', { sequence: -1 }, /from 0 on/],
    ['a year of five digits', { stamp: new Date(Date.UTC(10_000, 0, 1)) }, /four digits/],
    ['an empty id', { uid: '' }, /id of one event/],
  ])('%s', (_, part, words) => {
    expect(() => write([{ ...peeling, ...part }])).toThrow(words)
    expect(() => write([{ ...peeling, ...part }])).toThrow(RangeError)
  })

  test('one id for two events', () => {
    expect(() => write([peeling, { ...peeling, summary: 'Core' }])).toThrow(/id of one event/)
  })

  test('a zone that is not known', () => {
    expect(() => write([peeling], 'Europe/Larkrise')).toThrow(/not a time zone/)
  })
})
