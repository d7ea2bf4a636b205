import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { utcOf, writeCalendar } from '../../../src/core/calendar/index.ts'

// Times on nights on which clocks change, held against ical.js with descriptions of the zones written out by hand: the
// rules of the European Union since 1996 and of the United States since 2007, and of Lord Howe Island, where half an
// hour is changed in the other half of the year (from memory; the zone database is what the service goes by).

function described(tzid: string, standard: Change, daylight: Change): ICAL.Timezone {
  const part = (kind: string, from: string, { rule, at, offset }: Change) => [
    `BEGIN:${kind}`,
    `DTSTART:${at}`,
    `RRULE:FREQ=YEARLY;${rule}`,
    `TZOFFSETFROM:${from}`,
    `TZOFFSETTO:${offset}`,
    `END:${kind}`,
  ]
  const lines = [
    'BEGIN:VTIMEZONE',
    `TZID:${tzid}`,
    ...part('STANDARD', daylight.offset, standard),
    ...part('DAYLIGHT', standard.offset, daylight),
    'END:VTIMEZONE',
  ]
  return new ICAL.Timezone(new ICAL.Component(ICAL.parse(lines.join('\r\n'))))
}
type Change = { rule: string; at: string; offset: string }

const zones = {
  'Europe/Berlin': described(
    'Europe/Berlin',
    { rule: 'BYMONTH=10;BYDAY=-1SU', at: '19961027T030000', offset: '+0100' },
    { rule: 'BYMONTH=3;BYDAY=-1SU', at: '19970330T020000', offset: '+0200' },
  ),
  'America/New_York': described(
    'America/New_York',
    { rule: 'BYMONTH=11;BYDAY=1SU', at: '20071104T020000', offset: '-0500' },
    { rule: 'BYMONTH=3;BYDAY=2SU', at: '20070311T020000', offset: '-0400' },
  ),
  'Australia/Lord_Howe': described(
    'Australia/Lord_Howe',
    { rule: 'BYMONTH=4;BYDAY=1SU', at: '20080406T020000', offset: '+1030' },
    { rule: 'BYMONTH=10;BYDAY=1SU', at: '20081005T020000', offset: '+1100' },
  ),
}
type Zone = keyof typeof zones

/** The day of a change, and the minutes of it that are skipped or happen twice: from, to. */
const nights: [Zone, string, 'forward' | 'back', number, number][] = [
  ['Europe/Berlin', '2026-03-29', 'forward', 120, 180],
  ['Europe/Berlin', '2026-10-25', 'back', 120, 180],
  ['America/New_York', '2027-03-14', 'forward', 120, 180],
  ['America/New_York', '2027-11-07', 'back', 60, 120],
  ['Australia/Lord_Howe', '2026-10-04', 'forward', 120, 150],
  ['Australia/Lord_Howe', '2026-04-05', 'back', 90, 120],
]

/** The instant at which a wall clock of the zone shows a time, by ical.js; minutes from the date's midnight. */
function instantOf(date: string, minuteOfDay: number, zone: Zone): string {
  const digits = (number: number) => String(number).padStart(2, '0')
  const time = `${date}T${digits(Math.floor(minuteOfDay / 60))}:${digits(minuteOfDay % 60)}:00`
  const local = ICAL.Time.fromDateTimeString(time)
  local.zone = zones[zone]
  return new Date(local.toUnixTime() * 1000).toISOString()
}

describe.each(nights)('in %s on %s clocks go %s', (timeZone, date, way, from, to) => {
  const at = (minuteOfDay: number) => utcOf({ date, minuteOfDay }, timeZone)

  test('what a wall clock shows once is when it shows it, by night to the minute', () => {
    for (let minute = 0; minute < 1440; minute += minute < 300 ? 1 : 15) {
      if (from <= minute && minute < to) continue
      expect(at(minute).toISOString(), `minute ${minute}`).toBe(instantOf(date, minute, timeZone))
    }
  })

  test('the day is as much shorter or longer as is skipped or happens twice', () => {
    const minutes = (at(1440).getTime() - at(0).getTime()) / 60_000
    expect(minutes).toBe(way === 'forward' ? 1440 - (to - from) : 1440 + (to - from))
  })

  test(way === 'forward' ? 'what is skipped is as much later' : 'what happens twice is meant the first time', () => {
    for (let minute = from; minute < to; minute++) {
      const since = (at(minute).getTime() - at(from - 1).getTime()) / 60_000
      expect(since).toBe(minute - from + 1)
      if (way === 'forward') expect(at(minute)).toEqual(at(minute + to - from))
    }
  })

  test('a calendar that is read has an event over the night, by the stopwatch', () => {
    const before = new Date(Date.parse(date) - 86_400_000).toISOString().slice(0, 10)
    const text = writeCalendar({
      name: 'Slow jobs',
      product: '-//Larkrise//Kitchen//EN',
      timeZone,
      events: [
        {
          uid: 'drying@kitchen',
          start: { date: before, minuteOfDay: 22 * 60 },
          minutes: 600,
          summary: 'Dry pears',
          stamp: new Date('2026-01-01T00:00:00Z'),
        },
      ],
    })
    const [component] = new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent')
    if (!component) throw new Error('no event')
    const event = new ICAL.Event(component)
    expect(event.duration.toSeconds()).toBe(600 * 60)
    const moved = way === 'forward' ? to - from : from - to
    expect([event.startDate, event.endDate].map((time) => time.toJSDate().toISOString())).toEqual([
      instantOf(before, 22 * 60, timeZone),
      instantOf(date, 8 * 60 + moved, timeZone),
    ])
  })
})
