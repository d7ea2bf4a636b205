import { escapeText, foldLine } from './text.ts'
import { utcOf, type WallTime } from './time.ts'

export type CalendarEvent = {
  /** The same for as long as it is the same piece of work, and nobody else's anywhere: "<id>@<name of the service>". */
  uid: string
  start: WallTime
  /** How long it lasts by a stopwatch, 1 or more: on a night on which clocks change the wall clock shows another end. */
  minutes: number
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
 * Every time is written in UTC (3.3.5, form 2), so that no description of the zone is needed and none can be wrong; the
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
  const { uid, minutes, summary, description = '', location = '', categories = [], stamp, sequence = 0 } = event
  if (!Number.isSafeInteger(minutes) || minutes < 1) throw new RangeError('an event lasts whole minutes, 1 or more')
  if (!Number.isSafeInteger(sequence) || sequence < 0) throw new RangeError('a sequence is a whole number from 0 on')
  const start = utcOf(event.start, timeZone)
  return [
    'BEGIN:VEVENT',
    `UID:${escapeText(uid)}`,
    `DTSTAMP:${utcText(stamp)}`,
    `DTSTART:${utcText(start)}`,
    `DTEND:${utcText(new Date(start.getTime() + minutes * 60_000))}`,
    `SEQUENCE:${sequence}`,
    `SUMMARY:${escapeText(summary)}`,
    ...(description === '' ? [] : [`DESCRIPTION:${escapeText(description)}`]),
    ...(location === '' ? [] : [`LOCATION:${escapeText(location)}`]),
    ...(categories.length === 0 ? [] : [`CATEGORIES:${categories.map(escapeText).join(',')}`]),
    'END:VEVENT',
  ]
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
