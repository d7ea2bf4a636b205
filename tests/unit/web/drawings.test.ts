import { load } from 'cheerio'
import { describe, expect, it } from 'vitest'
import { beam, type Segment } from '../../../src/web/beam.ts'
import { flow } from '../../../src/web/flow.ts'
import { ripeningPlot } from '../../../src/web/line.ts'
import { patternDefinitions, patternKeys, productPattern } from '../../../src/web/patterns.ts'

const HOSTILE = `<script>alert(1)</script> " onload='x' & \`y\``

describe('the beam', () => {
  const segments: Segment[] = [
    { label: 'Damson jam', amount: 60_000, text: '60 kg', pattern: 'product-1', href: '/plans/p#jam' },
    { label: 'Vinegar', amount: 25_000, text: '25 kg', pattern: 'vinegar' },
    { label: 'Feed', amount: 0, text: '0 g', pattern: 'feed' },
    { label: 'Lost', amount: 15_000, text: '15 kg', pattern: 'lost' },
  ]

  it('has segments in proportion that fill it, in their order', () => {
    const $ = load(beam({ id: 'b', title: 'Damsons', whole: 100_000, segments }).drawing.text)
    const edges = $('svg > g > rect.edge, svg > a > rect.edge').toArray()
    expect(edges.map((edge) => [$(edge).attr('x'), $(edge).attr('width')])).toEqual([
      ['0%', '60%'],
      ['60%', '25%'],
      ['85%', '15%'],
    ])
    expect($('svg > a').attr('href')).toBe('/plans/p#jam')
  })

  it('says the same in its description and in the list beside it', () => {
    const made = beam({ id: 'b', title: 'Damsons', whole: 100_000, segments })
    const $ = load(made.drawing.text)
    expect($('#b-title').text()).toBe('Damsons')
    expect($('#b-finding').text()).toBe('Damson jam 60 kg, Vinegar 25 kg, Lost 15 kg')
    expect(made.rows.map(({ key, label, text, percent }) => [key, label, text, percent])).toEqual([
      ['A', 'Damson jam', '60 kg', '60 %'],
      ['B', 'Vinegar', '25 kg', '25 %'],
      ['C', 'Feed', '0 g', '0 %'],
      ['D', 'Lost', '15 kg', '15 %'],
    ])
  })

  it.each([
    [100_001, 'the beam is not full: its parts sum to 100000 of 100001'],
    [99_999, 'the beam is not full: its parts sum to 100000 of 99999'],
    [0, 'a beam divides a whole number above 0'],
    [0.5, 'a beam divides a whole number above 0'],
  ])('with a whole of %s is refused: a gap is a fault', (whole, words) => {
    expect(() => beam({ id: 'b', title: 'Damsons', whole, segments })).toThrow(words)
  })

  it.each([-1, 0.5, Number.NaN])('with a part of %s is refused', (amount) => {
    const odd = { label: 'Odd', amount, text: '', pattern: 'lost' as const }
    expect(() => beam({ id: 'b', title: 'x', whole: 10, segments: [odd] })).toThrow('whole numbers')
  })

  it('writes words where they fit, else the key, else nothing', () => {
    const parts = (amounts: number[]): Segment[] =>
      amounts.map((amount) => ({ label: 'Damsons', amount, text: '', pattern: 'ripe' }))
    const $ = load(beam({ id: 'b', title: 'x', whole: 1000, segments: parts([700, 200, 95, 5]) }).drawing.text)
    expect(
      $('.in-beam.narrow-only text, .in-beam:not(.wide-only) text')
        .toArray()
        .map((e) => $(e).text().trim()),
    ).toEqual(['Damsons', 'B', 'C'])
  })
})

describe('the flow', () => {
  const nodes = [
    { id: 'lot', label: 'Damsons from the lane' },
    { id: 'jam', label: 'Damson jam' },
    { id: 'stones', label: 'Compost' },
  ]
  const options = { id: 'f', title: 'From lot to jar', finding: '30 kg become jam.' }

  it('has bands as thick as they are heavy', () => {
    const links = [
      { from: 'lot', to: 'jam', grams: 24_000, label: '24 kg' },
      { from: 'lot', to: 'stones', grams: 6000, label: '6 kg' },
    ]
    const $ = load(flow({ ...options, nodes, links }).drawing.text)
    const widths = $('.flow-link')
      .toArray()
      .map((path) => Number($(path).attr('stroke-width')))
    expect((widths[0] ?? 0) / (widths[1] ?? 1)).toBeCloseTo(4, 3)
    expect($('g > title').first().text()).toBe('Damsons from the lane to Damson jam: 24 kg')
    expect($('.flow-node').length).toBe(3)
    expect($('#f-finding').text()).toBe('30 kg become jam.')
  })

  it.each([
    ['no link', []],
    ['a node that is not there', [{ from: 'lot', to: 'elsewhere', grams: 1, label: '' }]],
    ['nothing flowing', [{ from: 'lot', to: 'jam', grams: 0, label: '' }]],
    [
      'a circle',
      [
        { from: 'lot', to: 'jam', grams: 1, label: '' },
        { from: 'jam', to: 'lot', grams: 1, label: '' },
      ],
    ],
  ])('refuses %s', (_, links) => {
    expect(() => flow({ ...options, nodes, links })).toThrow(RangeError)
  })
})

describe('the ripening plot', () => {
  const days = ['Fri 11', 'Sat 12', 'Sun 13'].map((label) => ({ label, words: `${label}: so much` }))
  const options = { id: 'p', title: 'Ripening', finding: 'All soft by Sunday.', unit: 'kg', days }

  it('stacks from zero, in proportion, and leaves a gap for what is not known', () => {
    const layers = [
      { label: 'firm', pattern: 'firm' as const, values: [40, null, 10] },
      { label: 'soft', pattern: 'soft' as const, values: [0, null, 30] },
    ]
    const made = ripeningPlot({ ...options, layers })
    const $ = load(made.drawing.text)
    const base = Number($('.axis').attr('y1'))
    const bars = $('rect.edge')
      .toArray()
      .map((bar) => ({ y: Number($(bar).attr('y')), height: Number($(bar).attr('height')) }))
    expect(bars).toHaveLength(3)
    const [first, firm, soft] = bars
    if (!first || !firm || !soft) throw new Error('bars')
    expect(first.y + first.height).toBeCloseTo(base, 6)
    expect(firm.height / first.height).toBeCloseTo(0.25, 6)
    expect(soft.y + soft.height).toBeCloseTo(firm.y, 6)
    expect(soft.height / firm.height).toBeCloseTo(3, 6)
    expect($('.axis-line').length).toBe(5) // 0, 10, 20, 30, 40
    expect(
      $('text')
        .toArray()
        .map((e) => $(e).text()),
    ).toContain('40 kg')
    expect(made.key.map(({ label }) => label)).toEqual(['soft', 'firm'])
  })

  it.each([{ values: [1, 2] }, { values: [1, 2, -3] }, { values: [1, 2, Number.NaN] }])(
    'refuses a layer of %o',
    ({ values }) => {
      expect(() => ripeningPlot({ ...options, layers: [{ label: 'x', pattern: 'firm', values }] })).toThrow(RangeError)
    },
  )
})

describe('every drawing', () => {
  const all = [
    beam({
      id: 'b',
      title: HOSTILE,
      whole: 10,
      segments: [{ label: HOSTILE, amount: 10, text: HOSTILE, pattern: 'lost', href: `/x?${HOSTILE}` }],
    }).drawing,
    flow({
      id: 'f',
      title: HOSTILE,
      finding: HOSTILE,
      nodes: [
        { id: HOSTILE, label: HOSTILE },
        { id: 'b', label: HOSTILE },
      ],
      links: [{ from: HOSTILE, to: 'b', grams: 5, label: HOSTILE }],
    }).drawing,
    ripeningPlot({
      id: 'p',
      title: HOSTILE,
      finding: HOSTILE,
      unit: HOSTILE,
      days: [{ label: HOSTILE, words: HOSTILE }],
      layers: [{ label: HOSTILE, pattern: 'firm', values: [5] }],
    }).drawing,
  ]

  it.each(all)('keeps hostile text as text, case %#', (drawing) => {
    const $ = load(drawing.text)
    expect($('script').length).toBe(0)
    for (const element of $('svg, svg *').toArray()) {
      const names = Object.keys('attribs' in element ? element.attribs : {})
      expect(names.filter((name) => /^on|^style$/i.test(name))).toEqual([])
    }
    expect($('svg > title').first().text()).toBe(HOSTILE)
  })

  it.each(all)('refers to its own definitions only, case %#', (drawing) => {
    const $ = load(drawing.text)
    for (const element of $('[fill^="url("]').toArray()) {
      expect($($(element).attr('fill')?.slice(4, -1) ?? '').length).toBe(1)
    }
  })

  it('refuses an id that would need escaping', () => {
    expect(() => beam({ id: 'a b', title: '', whole: 1, segments: [] })).toThrow('the id of a drawing')
  })
})

describe('patterns', () => {
  it('are told apart without their hues', () => {
    const marks = patternKeys.map((key) => String(patternDefinitions('x', [key])).replaceAll(key, ''))
    const products = marks.slice(patternKeys.indexOf('product-1'))
    const fixed = marks.slice(0, patternKeys.indexOf('product-1'))
    expect(new Set(products).size).toBe(products.length)
    expect(new Set(fixed).size).toBe(fixed.length)
  })

  it('of products begin again after the eighth', () => {
    expect([0, 7, 8].map(productPattern)).toEqual(['product-1', 'product-8', 'product-1'])
  })
})
