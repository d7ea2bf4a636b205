import { dateAfter } from '../produce/dates.ts'
import { escapeText, foldLine } from './text.ts'
import { utcOf, type WallTime } from './time.ts'

/** When an event is: from a time on for a while, or all day. */
export type CalendarTime =
  | {
      start: WallTime
      /** How long it lasts by a stopwatch, 1 or more: on a night on which clocks change the wall clock shows another end. */
      minutes: number
    }
  | {
      /** ISO date of the day, which is that day wherever it is read. */
      day: string
    }

export type CalendarEvent = CalendarTime &
  CalendarWords & {
    /** The same for as long as it is the same piece of work, and nobody else's anywhere: "<id>@<name of the service>". */
    uid: string
  }

export type CalendarWords = {
  summary: string
  description?: string
  location?: string
  categories?: readonly string[]
  /** When this event was last changed (DTSTAMP, which without METHOD says that: RFC 5545, 3.8.7.2). */
  stamp: Date
  /** How often it was changed; a calendar program takes a higher one for newer. */
  sequence?: number
}

export type Calendar = {
  name: string
  /** Who wrote it: "-//Larkrise Lane//Kitchen//EN" */
  product: string
  events: readonly CalendarEvent[]
  /** IANA name of the zone in which `start` is meant */
  timeZone: string
}

/**
 * A calendar as text (RFC 5545; name and hourly refresh by RFC 7986, 5.1 and 5.7), events in the order given.
 *
 * A day is written as a date (3.3.4), with the day after as its end, which is not part of it (3.6.1), and leaves whoever
 * has it free for other things (3.8.2.7). Every time is written in UTC (3.3.5, form 2), so that no description of the zone is needed and none can be wrong; the
 * reader's program shows it in the reader's zone. Days on which clocks change: see `utcOf`. A calendar must have one
 * component at least (3.6): without events it has the description of UTC, which is true and shows nothing.
 *
 * @throws RangeError for what `utcOf` refuses, for minutes or a sequence that are not whole or too small, for a date
 *   beyond the year 9999, and for an empty uid or one that two events share
 */
export function writeCalendar({ name, product, events, timeZone }: Calendar): string {
  refuseSharedIds(events)
  return [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    `PRODID:${escapeText(product)}`,
    `NAME:${escapeText(name)}`,
    'REFRESH-INTERVAL;VALUE=DURATION:PT1H',
    ...(events.length === 0 ? utcZone : events.flatMap((event) => eventLines(event, timeZone))),
    'END:VCALENDAR',
  ]
    .map(foldLine)
    .join('')
}

function eventLines(event: CalendarEvent, timeZone: string): string[] {
  const { uid, summary, description = '', location = '', categories = [], stamp, sequence = 0 } = event
  if (!Number.isSafeInteger(sequence) || sequence < 0) throw new RangeError('a sequence is a whole number from 0 on')
  return [
    'BEGIN:VEVENT',
    `UID:${escapeText(uid)}`,
    `DTSTAMP:${utcText(stamp)}`,
    ...timeLines(event, timeZone),
    `SEQUENCE:${sequence}`,
    `SUMMARY:${escapeText(summary)}`,
    ...(description === '' ? [] : [`DESCRIPTION:${escapeText(description)}`]),
    ...(location === '' ? [] : [`LOCATION:${escapeText(location)}`]),
    ...(categories.length === 0 ? [] : [`CATEGORIES:${categories.map(escapeText).join(',')}`]),
    'END:VEVENT',
  ]
}

function timeLines(event: CalendarTime, timeZone: string): string[] {
  if ('day' in event) {
    return [
      `DTSTART;VALUE=DATE:${dateText(dateAfter(event.day, 0))}`,
      `DTEND;VALUE=DATE:${dateText(dateAfter(event.day, 1))}`,
      'TRANSP:TRANSPARENT',
    ]
  }
  const { start, minutes } = event
  if (!Number.isSafeInteger(minutes) || minutes < 1) throw new RangeError('an event lasts whole minutes, 1 or more')
  const from = utcOf(start, timeZone)
  return [`DTSTART:${utcText(from)}`, `DTEND:${utcText(new Date(from.getTime() + minutes * 60_000))}`]
}

/** "20260911": RFC 5545, 3.3.4. */
function dateText(isoDate: string): string {
  if (!/^\d{4}-/.test(isoDate)) throw new RangeError('a calendar has years of four digits')
  return isoDate.replaceAll('-', '')
}

/** "20260911T070000Z": RFC 5545, 3.3.5, form 2. */
function utcText(at: Date): string {
  const iso = at.toISOString()
  if (!/^\d{4}-/.test(iso)) throw new RangeError('a calendar has years of four digits')
  return `${iso.slice(0, 19).replace(/[-:]/g, '')}Z`
}

function refuseSharedIds(events: readonly CalendarEvent[]): void {
  const seen = new Set<string>()
  for (const { uid } of events) {
    if (uid === '' || seen.has(uid)) throw new RangeError(`not an id of one event: ${uid.slice(0, 40)}`)
    seen.add(uid)
  }
}

const utcZone = [
  'BEGIN:VTIMEZONE',
  'TZID:Etc/UTC',
  'BEGIN:STANDARD',
  'DTSTART:19700101T000000',
  'TZOFFSETFROM:+0000',
  'TZOFFSETTO:+0000',
  'TZNAME:UTC',
  'END:STANDARD',
  'END:VTIMEZONE',
]
