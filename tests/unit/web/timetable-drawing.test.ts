import { load } from 'cheerio'
import { describe, expect, it } from 'vitest'
import { axisOf, PX_PER_MINUTE, xOf } from '../../../src/web/timetable-axis.ts'
import { type TimetableOptions, timetableDrawing } from '../../../src/web/timetable-drawing.ts'
import type { TimetableBar } from '../../../src/web/timetable-layout.ts'

const HOSTILE = `<script>alert(1)</script> " onload='x' & \`y\``

const saturday = { label: 'Saturday', from: 540, to: 960 }
const sunday = { label: 'Sunday', from: 2010, to: 2250 }

function bar(from: number, to: number, more: Partial<TimetableBar> = {}): TimetableBar {
  return { from, to, labels: ['Jam'], title: `Jam ${from} to ${to}`, pattern: 'product-1', ...more }
}

function drawn(bars: TimetableBar[], more: Partial<TimetableOptions> = {}) {
  const rows = [{ label: 'Ana', bars }]
  const ticks = (minute: number) => `${(minute / 60) % 24}:00`
  return timetableDrawing({ id: 't', title: 'Who does what', days: [saturday, sunday], rows, ticks, ...more })
}

/** The one to scroll. */
function draw(bars: TimetableBar[], more: Partial<TimetableOptions> = {}) {
  return load(drawn(bars, more).scrolling.text, { xml: true })
}

/** The one for paper. */
function drawFitted(bars: TimetableBar[], more: Partial<TimetableOptions> = {}) {
  return load(drawn(bars, more).fitted.text, { xml: true })
}

const wide = { nightPx: 72, width: null }

type Box = { title: string; x: number; y: number; width: number; height: number }

function boxes($: ReturnType<typeof draw>): Box[] {
  return $('.timetable-bar')
    .toArray()
    .map((element) => {
      const edge = $(element).find('.edge')
      const [x, y, width, height] = ['x', 'y', 'width', 'height'].map((name) => Number(edge.attr(name)))
      return { title: $(element).find('title').text(), x: x ?? 0, y: y ?? 0, width: width ?? 0, height: height ?? 0 }
    })
}

describe('the axis of a timetable', () => {
  it('has days as wide as they are long, with a narrow night between', () => {
    const { panels, width } = axisOf([saturday, sunday], { until: 2250, ...wide })
    expect(panels.map(({ kind, x, width }) => [kind, x, width])).toEqual([
      ['day', 2, 1008],
      ['night', 1010, 72],
      ['day', 1082, 576],
    ])
    expect(width).toBe(1660)
  })

  it('counts more nights than one, and knows a break within a day', () => {
    const words = (from: number) =>
      axisOf([saturday, { label: 'x', from, to: from + 60 }], { until: 0, ...wide }).panels.map(({ label }) => label)
    expect(words(1000)).toEqual(['Saturday', 'closed', 'x'])
    expect(words(1440 + 540)).toEqual(['Saturday', 'night', 'x'])
    expect(words(3 * 1440)).toEqual(['Saturday', '3 nights', 'x'])
    expect(words(960)).toEqual(['Saturday', 'x'])
  })

  it('leads on after the last closing as far as is asked, up to two days', () => {
    expect(axisOf([saturday], { until: 1200, ...wide }).panels.at(-1)).toMatchObject({
      kind: 'after',
      from: 960,
      to: 1200,
    })
    expect(axisOf([saturday], { until: 960 + 2880, ...wide }).to).toBe(3840)
    expect(() => axisOf([saturday], { until: 960 + 2881, ...wide })).toThrow(RangeError)
  })

  it('fits into a width, minutes of all days to one scale', () => {
    const { panels, width } = axisOf([saturday, sunday], { until: 2300, nightPx: 50, width: 764 })
    expect(panels.map(({ kind, x, width }) => [kind, x, width])).toEqual([
      ['day', 2, 420],
      ['night', 422, 50],
      ['day', 472, 240],
      ['after', 712, 50],
    ])
    expect(width).toBe(764)
    expect(() => axisOf([saturday, sunday], { until: 2300, nightPx: 50, width: 104 })).toThrow(RangeError)
  })

  it('refuses a minute off the axis', () => {
    const axis = axisOf([saturday], { until: 960, ...wide })
    expect(xOf(axis, 540)).toBe(2)
    expect(xOf(axis, 960)).toBe(1010)
    expect(() => xOf(axis, 539)).toThrow(RangeError)
    expect(() => xOf(axis, 961)).toThrow(RangeError)
  })

  it.each([
    ['no day', []],
    ['a day without length', [{ label: 'x', from: 540, to: 540 }]],
    ['days out of order', [sunday, saturday]],
    ['days that overlap', [saturday, { label: 'x', from: 959, to: 1000 }]],
    ['a day that is no number', [{ label: 'x', from: Number.NaN, to: 540 }]],
  ])('refuses %s', (_, days) => {
    expect(() => axisOf(days, { until: 0, ...wide })).toThrow(RangeError)
  })
})

describe('the timetable', () => {
  it('has bars where their minutes are', () => {
    const [first, second] = boxes(draw([bar(600, 690), bar(2010, 2040)]))
    expect(first).toMatchObject({ x: 2 + 60 * PX_PER_MINUTE, width: 90 * PX_PER_MINUTE })
    expect(second).toMatchObject({ x: 1082, width: 30 * PX_PER_MINUTE })
  })

  it('draws what runs on through the night as one bar', () => {
    const [through] = boxes(draw([bar(900, 2070, { alone: true })]))
    expect(through).toMatchObject({ x: 2 + 360 * PX_PER_MINUTE, width: 144 + 72 + 144 })
    const [half] = boxes(draw([bar(900, 960 + 525)]))
    expect(half?.width).toBe(144 + 36)
  })

  it('leads what runs on after the last closing into a column of its own', () => {
    const $ = draw([bar(2190, 3000)])
    expect(boxes($)[0]?.width).toBe(144 + 72)
    expect($('text').text()).toContain('after')
  })

  it('can do without words for nights', () => {
    const $ = draw([bar(900, 2070)], { nights: false })
    expect(boxes($)[0]?.width).toBe(144 + 14 + 144)
    expect($('text').text()).not.toContain('night')
    expect(draw([]).xml()).toContain('>night</text>')
  })

  it('puts bars that overlap into lanes, and uses a lane again', () => {
    const bars = [
      bar(540, 700),
      bar(600, 601),
      bar(601, 800),
      bar(650, 2100),
      bar(700, 710),
      bar(960, 961),
      bar(961, 962),
    ]
    const drawn = boxes(draw(bars))
    expect(drawn.length).toBe(bars.length)
    for (const [i, a] of drawn.entries()) {
      for (const b of drawn.slice(i + 1)) {
        const apart = a.y + a.height <= b.y || b.y + b.height <= a.y
        expect(apart || a.x + a.width <= b.x + 0.001 || b.x + b.width <= a.x + 0.001, `${a.title}, ${b.title}`).toBe(
          true,
        )
      }
    }
    const lane = (title: string) => drawn.find((one) => one.title === title)?.y
    expect(lane('Jam 700 to 710')).toBe(lane('Jam 540 to 700'))
    expect(lane('Jam 601 to 800')).not.toBe(lane('Jam 540 to 700'))
  })

  it('has rows of 44 px at least, one below the other, names and hours in line', () => {
    const rows = [
      { label: 'Ana', bars: [] },
      { label: 'Kettle', bars: [bar(540, 700), bar(600, 700)] },
      { label: 'Somebody with a remarkably long name of many words', bars: [] },
      { label: 'Dov', bars: [] },
    ]
    const $ = draw([], { rows })
    const fields = $('.timetable-field').toArray()
    const heights = fields.map((field) => Number($(field).attr('height')))
    expect(heights).toEqual([44, 88, 72, 44])
    expect(fields.map((field) => Number($(field).attr('y')))).toEqual([58, 102, 190, 262])
    const svgs = $('svg').toArray()
    expect(svgs.map((svg) => $(svg).attr('height'))).toEqual(['308', '308'])
  })

  it('writes a label where it fits, else only its words on asking', () => {
    const $ = draw([bar(600, 630), bar(700, 710, { labels: ['Chutney'] })])
    const written = $('.timetable-bar').toArray()
    expect(written.map((one) => $(one).find('text').text())).toEqual(['Jam', ''])
    expect($(written[1]).find('title').text()).toBe('Jam 700 to 710')
  })

  it('writes the first label that fits, the shortest in the middle of a bar that it nearly fills', () => {
    const labels = ['C Chutney: cut', 'C cut', 'C']
    const $ = draw([
      bar(540, 610, { labels }),
      bar(610, 640, { labels }),
      bar(640, 646, { labels }),
      bar(646, 650, { labels }),
    ])
    expect(
      $('.timetable-bar')
        .toArray()
        .map((one) => $(one).find('text').text()),
    ).toEqual(['C Chutney: cut', 'C cut', 'C', ''])
    expect($('.timetable-bar').eq(2).find('text').attr('text-anchor')).toBe('middle')
  })

  it('keeps every text within its drawing and every label within its bar', () => {
    const label = 'Wide words WWWW'
    const days = [
      { label: 'A day with a very long name', from: 541, to: 600 },
      { label: 'Short', from: 1980, to: 1985 },
    ]
    const rows = [540 + 1, 550, 590].map((from) => ({
      label: 'Unbreakablenameofahelper and more and more and more',
      bars: [bar(from, from + 5, { labels: [label, 'W'] }), bar(from, 1985, { labels: [label] })],
    }))
    const $ = draw([], { days, rows })
    const texts = $('text').toArray()
    expect(texts.length).toBeGreaterThan(9)
    for (const element of texts) {
      const words = $(element).text()
      const wide = [...words].length * 11
      const middle = $(element).attr('text-anchor') === 'middle'
      const left = Number($(element).attr('x')) - (middle ? wide / 2 : 0)
      const edge = $(element).closest('.timetable-bar').find('.edge')
      const from = edge.length > 0 ? Number(edge.attr('x')) : 0
      const width = edge.length > 0 ? Number(edge.attr('width')) : Number($(element).closest('svg').attr('width'))
      expect(left, words).toBeGreaterThanOrEqual(from)
      expect(left + wide, words).toBeLessThanOrEqual(from + width)
    }
  })

  it('has a line and words at each full hour of a day, clear of each other', () => {
    const $ = draw([], { days: [{ label: 'x', from: 550, to: 725 }] })
    const hours = $('.timetable-hour').toArray()
    expect(hours.map((hour) => $(hour).text())).toEqual(['10:00', '11:00', '12:00'])
    expect(Number($(hours[0]).attr('x'))).toBe(2 + 50 * PX_PER_MINUTE)
    const long = draw([], { ticks: () => 'a quarter of a day and an hour' })
    const places = long('.timetable-hour')
      .toArray()
      .map((hour) => Number(long(hour).attr('x')))
    expect(places.length).toBeGreaterThan(1)
    for (const [i, x] of places.slice(1).entries()) expect(x - (places[i] ?? 0)).toBeGreaterThanOrEqual(30 * 11)
  })

  it('tells by a dashed outline what runs by itself', () => {
    const $ = draw([bar(600, 630, { alone: true }), bar(700, 710)])
    expect(
      $('.edge')
        .toArray()
        .map((edge) => $(edge).hasClass('timetable-alone')),
    ).toEqual([true, false])
  })

  it('tells what dashes and slanted lines mean when there are any', () => {
    const key = (bars: TimetableBar[], away: { from: number; to: number }[]) =>
      drawn([], { rows: [{ label: 'Ana', bars, away }] }).notes
    expect(key([bar(600, 630)], [])).toEqual([])
    expect(key([bar(600, 630, { alone: true })], [])).toEqual([expect.stringContaining('Dashed')])
    expect(key([], [{ from: 540, to: 600 }])).toEqual([expect.stringContaining('slanted')])
  })

  it('shades absences as far as they are on the axis', () => {
    const rows = [
      {
        label: 'Ana',
        bars: [],
        away: [
          { from: 0, to: 600 },
          { from: 960, to: 2010 },
          { from: 2250, to: 9000 },
        ],
      },
    ]
    const $ = draw([], { rows })
    const shades = $('rect[fill="url(#t-away)"]').toArray()
    expect(shades.map((shade) => [Number($(shade).attr('x')), Number($(shade).attr('width'))])).toEqual([
      [2, 144],
      [1010, 72],
    ])
  })

  it.each([
    ['of no length', bar(600, 600)],
    ['that ends before it begins', bar(700, 600)],
    ['before the first day', bar(530, 600)],
    ['long after the last day', bar(2200, 2250 + 2881)],
    ['that is no number', bar(Number.NaN, 600)],
    ['without end', bar(600, Number.POSITIVE_INFINITY)],
  ])('refuses a bar %s', (_, odd) => {
    expect(() => draw([odd])).toThrow(RangeError)
  })

  it('refuses no rows, an absence of no length and a bad id', () => {
    expect(() => draw([], { rows: [] })).toThrow(RangeError)
    expect(() => draw([], { rows: [{ label: 'x', bars: [], away: [{ from: 600, to: 600 }] }] })).toThrow(RangeError)
    expect(() => draw([], { id: 'A b' })).toThrow(RangeError)
  })

  it('lets text be text', () => {
    const odd = bar(600, 900, { labels: [HOSTILE], title: HOSTILE, href: `/x?a="<b>` })
    const $ = draw([], {
      title: HOSTILE,
      rows: [{ label: HOSTILE, href: '/y', bars: [odd], away: [{ from: 900, to: 960 }] }],
      days: [{ label: HOSTILE, from: 540, to: 960 }],
      ticks: () => '<b>&',
    })
    expect($('script, b').length).toBe(0)
    expect($('[onload]').length).toBe(0)
    expect($('#t-title').text()).toBe(HOSTILE)
    expect($('.timetable-bar').attr('href')).toBe('/x?a="<b>')
    expect($('.timetable-bar > title').text()).toBe(HOSTILE)
    expect($('.timetable-rows a').attr('aria-label')).toBe(HOSTILE)
  })

  it('has ids that are valid, its own, and there for what points to them', () => {
    const $ = draw([bar(600, 630), bar(600, 700, { pattern: 'set-aside' }), bar(700, 800)])
    const ids = $('[id]')
      .toArray()
      .map((one) => $(one).attr('id') ?? '')
    expect(new Set(ids).size).toBe(ids.length)
    for (const id of ids) expect(id).toMatch(/^t-[a-z0-9-]+$/)
    for (const one of $('[fill^="url("]').toArray()) expect(ids).toContain($(one).attr('fill')?.slice(5, -1))
    expect(ids).toContain($('.timetable-hours').attr('aria-labelledby'))
  })

  it('does not name a day that is alone', () => {
    const $ = draw([bar(600, 630)], { days: [saturday] })
    expect($('.timetable-name').length).toBe(0)
    expect(draw([bar(600, 630)])('.timetable-name').length).toBe(2)
  })

  it('is as wide as portrait A4 within its margins for paper, with letters of at least 9 pt', () => {
    const widthMm = 210 - 2 * 14
    const days = [{ label: 'Saturday', from: 480, to: 1080 }]
    const bars = [bar(480, 481), bar(481, 482), bar(482, 600), bar(1000, 1300, { alone: true })]
    const $ = drawFitted(bars, { days })
    const [, , width] = ($('svg').attr('viewBox') ?? '').split(' ').map(Number)
    // 12 px in the style sheet, in a drawing that is stretched to the page; a point is 1/72 inch
    const letterPt = ((12 * widthMm) / (width ?? 0) / 25.4) * 72
    expect(letterPt).toBeGreaterThanOrEqual(9)
    const drawnBars = boxes($)
    expect(drawnBars.length).toBe(4)
    expect(new Set(drawnBars.map(({ y }) => y)).size).toBe(1)
    for (const { x, width: wide } of drawnBars) expect(x + wide).toBeLessThanOrEqual(width ?? 0)
  })

  it('has the same bars to scroll and for paper, each drawing with ids of its own', () => {
    const bars = [bar(600, 630), bar(640, 700, { alone: true })]
    const [scrolling, fitted] = [draw(bars), drawFitted(bars)]
    expect(boxes(fitted).map(({ title }) => title)).toEqual(boxes(scrolling).map(({ title }) => title))
    const ids = [scrolling, fitted].flatMap(($) =>
      $('[id]')
        .toArray()
        .map((one) => $(one).attr('id')),
    )
    expect(new Set(ids).size).toBe(ids.length)
  })

  it('is one picture unless something in it leads on', () => {
    expect(draw([bar(600, 630)])('.timetable-hours').attr('role')).toBe('img')
    expect(draw([bar(600, 630, { href: '/x' })])('.timetable-hours').attr('role')).toBe('group')
    expect(draw([])('.timetable-rows').attr('aria-hidden')).toBe('true')
  })
})
