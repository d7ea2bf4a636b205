import ICAL from 'ical.js'
import { describe, expect, test } from 'vitest'
import { type Calendar, type CalendarEvent, writeCalendar } from '../../../src/core/calendar/index.ts'

const event: CalendarEvent = {
  uid: 'one@kitchen',
  start: { date: '2026-09-12', minuteOfDay: 570 },
  minutes: 30,
  summary: 'Peel',
  stamp: new Date('2026-09-01T08:15:30Z'),
}

function octetsOf(more: Partial<Calendar>): Uint8Array {
  const calendar = { name: 'Kitchen', product: '-//Larkrise//Kitchen//EN', timeZone: 'Europe/Berlin', events: [event] }
  return new TextEncoder().encode(writeCalendar({ ...calendar, ...more }))
}

/** The content lines as RFC 5545, 3.1, has them read: CRLF and a space are taken out, and what is left is UTF-8. */
function unfolded(octets: Uint8Array): { pieces: Uint8Array[]; lines: string[] } {
  const pieces: Uint8Array[] = []
  let from = 0
  for (let at = 0; at + 1 < octets.length; at++) {
    if (octets[at] !== 13 || octets[at + 1] !== 10) continue
    pieces.push(octets.slice(from, at))
    from = at + 2
  }
  expect(from).toBe(octets.length)
  const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true })
  const lines: string[] = []
  for (const piece of pieces) {
    // Each piece is text by itself, which it would not be if a character were cut.
    const text = strict.decode(piece)
    if (text.startsWith(' ')) lines.push(`${lines.pop() ?? ''}${text.slice(1)}`)
    else lines.push(text)
  }
  return { pieces, lines }
}

// One, two, three and four octets a character in UTF-8, and letters that are made of several characters.
const alphabets = { ascii: 'Pear ', two: 'Äöüß', three: '梨のジャム–', four: '🍐🫙', joined: '👩🏽‍🍳é' }

describe('lines of octets', () => {
  test.each(Object.entries(alphabets))(
    'of %s letters are 75 at most, whole characters, and come back',
    (_, letters) => {
      for (let length = 60; length <= 160; length++) {
        const summary = letters.repeat(80).slice(0, length).toWellFormed()
        const { pieces, lines } = unfolded(octetsOf({ events: [{ ...event, summary }] }))
        expect(Math.max(...pieces.map((piece) => piece.length))).toBeLessThanOrEqual(75)
        expect(lines).toContain(`SUMMARY:${summary}`)
      }
    },
  )

  test('are filled as far as characters allow: 75 octets of one, 74 of two after the space', () => {
    const longest = (summary: string) =>
      unfolded(octetsOf({ events: [{ ...event, summary }] })).pieces.map((piece) => piece.length)
    expect(longest('x'.repeat(300)).filter((many) => many === 75).length).toBe(4)
    // "SUMMARY:" and 33 letters of two octets are 74; then a space and 37 letters are 75.
    expect(longest('ä'.repeat(33 + 37 + 1)).filter((many) => many >= 74)).toEqual([74, 75])
  })

  test('end with CR and LF together, and neither stands by itself, whatever was typed', () => {
    const typed = 'one\rtwo\ntree\r\nfour\u2028five\u0085six'
    const octets = octetsOf({
      name: typed,
      events: [{ ...event, summary: typed, description: typed, categories: [typed] }],
    })
    for (const [at, octet] of octets.entries()) {
      if (octet === 13) expect(octets[at + 1]).toBe(10)
      if (octet === 10) expect(octets[at - 1]).toBe(13)
    }
  })

  test('of long names, ids, places and descriptions are folded like any other', () => {
    const long = `Straße ${'über den Höfen; links, dann rechts '.repeat(8)}`
    const octets = octetsOf({
      name: long,
      product: `-//${long}//EN`,
      events: [{ ...event, uid: `${'ä'.repeat(100)}@kitchen`, location: long, description: long, categories: [long] }],
    })
    const { pieces, lines } = unfolded(octets)
    expect(Math.max(...pieces.map((piece) => piece.length))).toBeLessThanOrEqual(75)
    const calendar = new ICAL.Component(ICAL.parse(new TextDecoder().decode(octets)))
    const read = calendar.getFirstSubcomponent('vevent')
    // The reader does not know the property of RFC 7986 and leaves its value as it stands in the line.
    expect(lines).toContain(`NAME:${long.replace(/[;,]/g, '\\$&')}`)
    expect(calendar.getFirstPropertyValue('prodid')).toBe(`-//${long}//EN`)
    expect(read?.getFirstPropertyValue('uid')).toBe(`${'ä'.repeat(100)}@kitchen`)
    expect(['location', 'description', 'categories'].map((name) => read?.getFirstPropertyValue(name))).toEqual([
      long,
      long,
      long,
    ])
  })

  test('cannot be made to say something else: what is typed begins no property and ends no event', () => {
    const typed = 'Peel\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:other@kitchen\nATTACH:file'
    const { lines } = unfolded(octetsOf({ name: typed, events: [{ ...event, summary: typed, location: typed }] }))
    expect(lines.filter((line) => /^(BEGIN|END|UID|ATTACH)/.test(line))).toEqual([
      'BEGIN:VCALENDAR',
      'BEGIN:VEVENT',
      'UID:one@kitchen',
      'END:VEVENT',
      'END:VCALENDAR',
    ])
  })
})
