import { describe, expect, it } from 'vitest'
import { lookUpProcess, type ProcessQuery, type TestedProcess } from '../../../src/core/process/index.ts'

// How a question is read and answered. Minutes of plums: Guide 2 p. 2-22 of the USDA guide of 2015, pints 20, 25, 30, 35
// and quarts 25, 30, 35, 40 in either pack.

const plums: ProcessQuery = { product: 'plums', jar: 'pint', altitudeM: 0, method: 'boiling-water' }
const ask = (more: Partial<ProcessQuery>) => lookUpProcess({ ...plums, ...more })

function tested(more: Partial<ProcessQuery>): TestedProcess {
  const answer = ask(more)
  if (answer.answer !== 'tested') throw new Error(`${answer.answer}: ${answer.says}`)
  return answer
}
const reason = (more: Partial<ProcessQuery>) => {
  const answer = ask(more)
  return answer.answer === 'refused' ? answer.reason : answer.answer
}

describe('products', () => {
  it.each(['plums', 'plum', ' Plums ', 'PLUM', 'damson', 'damsons', 'greengage', 'GREENGAGES', 'prune plums'])(
    'reads "%s" as plums',
    (product) => {
      expect(tested({ product }).row.product).toBe('plums')
    },
  )

  it.each([
    ['sliced apples', 'apples'],
    ['Apples, sliced', 'apples'],
    ['apple slices', 'apples'],
    ['apple sauce', 'applesauce'],
    ['apple-sauce', 'applesauce'],
    ['halved pears', 'pears'],
    ['crushed tomatoes', 'tomatoes, crushed'],
    ['tomatoes, crushed', 'tomatoes, crushed'],
    ['apple pie filling', 'apple pie filling'],
    ['peach jam', 'jam, no added pectin'],
    ['plum jam', 'jam or jelly, added pectin'],
    ['plum puree', 'fruit purees'],
    ['Asian pears', 'Asian pears'],
    ['fresh plums', 'plums'],
    ['plums, ripe', 'plums'],
  ])('reads "%s" as %s', (product, row) => {
    expect(tested({ product }).row.product).toBe(row)
  })

  it.each([
    'apple pie',
    'plum pie',
    'plumbs',
    'plun',
    'plums and custard',
    'white plums',
    'plum duff',
    'peach melba',
    'pear drops',
    'pickles',
    'jelly beans',
    'crab apples',
    'wineberries',
    '',
    '   ',
    'constructor',
    '__proto__',
  ])('knows no table for "%s": nothing is matched by likeness', (product) => {
    expect(ask({ product }).answer).not.toBe('tested')
  })
})

describe('forms', () => {
  it.each(['halved', 'whole', 'halved or whole', 'Halves', 'whole or halved', 'halved, whole'])(
    'has plums %s',
    (form) => {
      expect(tested({ form }).row.form).toBe('halved or whole')
    },
  )

  it.each(['sliced', 'mashed', 'butter', 'diced', 'halved or sliced', 'whole, spiced'])('has no plums %s', (form) => {
    expect(reason({ form })).toBe('form-not-tested')
  })

  it.each(['plum butter', 'plum juice', 'whole peaches', 'pear sauce', 'sliced pears'])('has no %s', (product) => {
    expect(reason({ product })).toBe('form-not-tested')
  })

  it('takes an empty form for none', () => {
    expect(tested({ form: '' }).minutes).toBe(20)
  })

  it.each([
    ['apples', 'sauce', 'applesauce'],
    ['apples', 'puree', 'fruit purees'],
    ['apples', 'butter', 'apple butter'],
    ['peaches', 'jam', 'jam, no added pectin'],
    ['tomatoes', 'crushed', 'tomatoes, crushed'],
    ['tomatoes', 'sauce', 'tomato sauce, standard'],
    ['beets', 'pickled', 'pickled beets'],
    ['cabbage', 'fermented', 'sauerkraut'],
    ['zucchini', 'pickled', 'pickled bread-and-butter zucchini'],
  ])('leads from %s as %s to %s', (product, form, row) => {
    expect(tested({ product, form }).row.product).toBe(row)
  })

  it('narrows tomatoes by each part of the form', () => {
    const answer = tested({ product: 'tomatoes', form: 'whole, packed in water', pack: 'hot' })
    expect(answer.row).toMatchObject({ product: 'tomatoes, whole or halved', form: 'packed in water' })
    // Guide 3 p. 3-11: 40 minutes in pints.
    expect(answer.minutes).toBe(40)
  })

  it('shows the form that needs most where none is named, and the others beside it', () => {
    // Guide 3: raw without liquid and in tomato juice 85 minutes, crushed in pints 35.
    const answer = tested({ product: 'tomatoes' })
    expect(answer.minutes).toBe(85)
    expect(answer.others.map(({ minutes }) => minutes)).toContain(35)
    expect(answer.notes.join(' ')).toContain('Several forms')
  })

  it.each(['sliced', 'whole'])('has no %s pears: they are tested halved (Guide 2 p. 2-20)', (form) => {
    expect(reason({ product: 'pears', form })).toBe('form-not-tested')
  })
})

describe('packs', () => {
  it('shows the pack that needs most where none is named, the other beside it, and says so', () => {
    // Guide 2 p. 2-13: cherries in pints hot 15, raw 25 minutes.
    const answer = tested({ product: 'cherries' })
    expect([answer.pack, answer.minutes]).toEqual(['raw', 25])
    expect(answer.others.map(({ pack, minutes }) => [pack, minutes])).toEqual([['hot', 15]])
    expect(answer.notes.join(' ')).toContain('Both packs')
  })

  it.each(['hot', 'Hot pack', 'hot-pack'])('reads "%s"', (pack) => {
    const answer = tested({ product: 'cherries', pack })
    expect([answer.pack, answer.minutes, answer.others]).toEqual(['hot', 15, []])
  })

  it('does not know a third pack', () => {
    expect(ask({ pack: 'lukewarm' }).answer).toBe('unknown')
  })

  it.each(['blueberries', 'currants', 'blackcurrant', 'gooseberry', 'huckleberries'])(
    'has %s in the hot pack only',
    (product) => {
      expect(tested({ product }).pack).toBe('hot')
      expect(reason({ product, pack: 'raw' })).toBe('pack-not-tested')
    },
  )

  it.each(['blackberries', 'raspberry', 'loganberries'])('has %s in the raw pack only', (product) => {
    expect(tested({ product }).pack).toBe('raw')
    expect(reason({ product, pack: 'hot' })).toBe('pack-not-tested')
  })
})

describe('jars', () => {
  it.each([
    ['half-pint', 'half-pint', 20],
    ['8-ounce', 'half-pint', 20],
    ['½ pint', 'half-pint', 20],
    ['1/2 pt.', 'half-pint', 20],
    ['Pints', 'pint', 20],
    ['pt', 'pint', 20],
    ['16 oz', 'pint', 20],
    ['1.5-pint', '1.5-pint', 25],
    ['1½ pints', '1.5-pint', 25],
    ['24 ounces', '1.5-pint', 25],
    ['quart(s)', 'quart', 25],
    ['qts', 'quart', 25],
    ['Quart jars', 'quart', 25],
  ] as const)('reads "%s" as %s', (jar, size, minutes) => {
    expect([tested({ jar }).jar, tested({ jar }).minutes]).toEqual([size, minutes])
  })

  it.each(['500 ml', '1 l', 'litre', 'jam jar', '1.2 pint', '5 pints', '', 'gallon'])('does not know "%s"', (jar) => {
    expect(ask({ jar }).answer).toBe('unknown')
  })

  it('refuses a jar larger than the largest listed, and others that are not listed', () => {
    expect(reason({ jar: 'half-gallon' })).toBe('jar-too-large')
    expect(reason({ jar: '12-ounce' })).toBe('jar-not-tested')
    // Guide 2: mango sauce in half-pints only.
    expect(reason({ product: 'mango sauce', jar: 'pint' })).toBe('jar-too-large')
  })
})

describe('methods', () => {
  it.each(['boiling-water', 'Boiling water', 'water bath', 'water-bath-canned', 'boiling-water-canner'])(
    'reads "%s"',
    (method) => {
      expect(tested({ method })).toMatchObject({ method: 'boiling-water', minutes: 20 })
    },
  )

  it.each(['dial-gauge', 'dial', 'pressure-dial', 'Dial gauge'])('reads "%s" as a dial gauge', (method) => {
    expect(tested({ method })).toMatchObject({ method: 'dial-gauge', minutes: 10, psi: 6 })
  })

  it.each(['weighted-gauge', 'weighted', 'Weighted gauge'])('reads "%s" as a weighted gauge', (method) => {
    expect(tested({ method })).toMatchObject({ method: 'weighted-gauge', minutes: 10, psi: 5 })
  })

  it('asks for the gauge of a pressure canner', () => {
    expect(reason({ method: 'pressure-canned' })).toBe('gauge-unknown')
    expect(reason({ method: 'pressure-canned', gauge: 'brass' })).toBe('gauge-unknown')
    expect(reason({ method: 'dial-gauge', gauge: 'weighted' })).toBe('gauge-unknown')
    expect(tested({ method: 'pressure-canned', gauge: 'dial gauge' }).method).toBe('dial-gauge')
  })

  it.each([
    'open-kettle',
    'oven',
    'microwave',
    'dishwasher',
    'inversion',
    'paraffin',
    'electric multi-cooker',
    'slow cooker',
    'pressure cooker',
  ])('refuses %s whatever is in the jar', (method) => {
    expect(reason({ method })).toBe('unsafe-method')
    expect(reason({ method, product: 'anything' })).toBe('unsafe-method')
  })

  it.each(['frozen', 'dried', 'canner', '', 'boil', 'steam pressure cooker'])('knows no table for "%s"', (method) => {
    expect(ask({ method }).answer).not.toBe('tested')
  })

  it('refuses pickles under pressure: no table has them', () => {
    expect(reason({ product: 'bread-and-butter pickles', method: 'dial-gauge' })).toBe('method-not-tested')
  })
})

describe('altitude', () => {
  const minutesAt = (altitudeM: number) => tested({ altitudeM }).minutes

  it('ends a band at its printed edge in feet, though the edge is no whole number of metres', () => {
    expect(minutesAt(304.8)).toBe(20)
    expect(minutesAt(304.8 + 1e-9)).toBe(20)
    expect(minutesAt(304.801)).toBe(25)
    expect(minutesAt(305)).toBe(25)
    expect(minutesAt(1000.4 * 0.3048)).toBe(25)
    expect(minutesAt(914.4)).toBe(25)
    expect(minutesAt(914.41)).toBe(30)
    expect(minutesAt(1828.8)).toBe(30)
    expect(minutesAt(1828.81)).toBe(35)
  })

  it('takes the first band below the sea', () => {
    expect(minutesAt(-400)).toBe(20)
  })

  it.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -500.1, 9000.1])(
    'refuses %d m',
    (altitudeM) => {
      expect(reason({ altitudeM })).toBe('altitude-unknown')
    },
  )

  it('refuses a dial gauge above 8,000 ft', () => {
    expect(tested({ method: 'dial-gauge', altitudeM: 8000 * 0.3048 }).psi).toBe(9)
    expect(reason({ method: 'dial-gauge', altitudeM: 8000.1 * 0.3048 })).toBe('above-the-table')
  })

  it('leaves the lines out that end at 1,000 ft where others answer', () => {
    const crushed = { product: 'tomatoes, crushed', method: 'weighted-gauge' }
    // Guide 3: 20 minutes at 5 and 10 psi, 15 at 10 and 15, 10 at 15 up to 1,000 ft only.
    const psiAt = (altitudeM: number) => {
      const answer = tested({ ...crushed, altitudeM })
      return [answer, ...answer.others].map(({ minutes, psi }) => [minutes, psi])
    }
    expect(psiAt(0)).toEqual([
      [20, 5],
      [15, 10],
      [10, 15],
    ])
    expect(psiAt(305)).toEqual([
      [20, 10],
      [15, 15],
    ])
  })

  it('says so above 10,000 ft, where the last column has no upper edge', () => {
    const notes = (feet: number) => tested({ altitudeM: feet * 0.3048 }).notes.join(' ')
    expect(notes(10_000)).not.toContain('10,000 ft')
    expect(notes(10_001)).toContain('10,000 ft')
  })
})

describe('steam', () => {
  const steam = (more: Partial<ProcessQuery>) => ask({ method: 'steam', ...more })

  it.each(['steam', 'steam canner', 'atmospheric steam'])('takes the time of boiling water: "%s"', (method) => {
    expect(tested({ method, altitudeM: 500 })).toMatchObject({ method: 'steam', minutes: 25 })
  })

  it.each(['12-ounce', '1.5-pint'])('refuses %s jars: the research had half-pints, pints and quarts', (jar) => {
    expect(steam({ jar })).toMatchObject({ reason: 'jar-not-tested' })
  })

  it('allows 45 minutes and no more', () => {
    // Guide 2 p. 2-19: raw-packed peaches in quarts take 45 minutes above 6,000 ft. Tomatoes in quarts 45, 50 (Guide 3 p. 3-8).
    expect(steam({ product: 'peaches', pack: 'raw', jar: 'quart', altitudeM: 2000 })).toMatchObject({ minutes: 45 })
    const crushed = { product: 'tomatoes, crushed', jar: 'quart' }
    expect(steam({ ...crushed, altitudeM: 304.8 })).toMatchObject({ minutes: 45 })
    expect(steam({ ...crushed, altitudeM: 305 })).toMatchObject({ reason: 'too-long-for-steam' })
  })

  it('goes by the longest where the form is left open', () => {
    expect(steam({ product: 'tomatoes' })).toMatchObject({ reason: 'too-long-for-steam' })
  })

  it.each(['beets', 'corn', 'pumpkin', 'soup'])('refuses %s', (product) => {
    expect(steam({ product })).toMatchObject({ reason: 'low-acid' })
  })
})

describe('amounts', () => {
  it('measures acid for the jar and never rounds it down', () => {
    // Guide 3 p. 3-5: a pint 1 tbsp of lemon juice or 1/4 tsp of citric acid, a quart twice that.
    const acid = (jar: string) => tested({ product: 'tomatoes, crushed', jar }).acid.map(({ amount }) => amount)
    expect(acid('half-pint').slice(0, 2)).toEqual([0.5, 0.125])
    expect(acid('pint').slice(0, 2)).toEqual([1, 0.25])
    expect(acid('1.5-pint')).toEqual([2, 0.5, 4])
    expect(acid('quart')).toEqual([2, 0.5, 4])
  })

  it('gives millilitres, kilopascals and millimetres of the published measures', () => {
    const answer = tested({ product: 'tomatoes, crushed', jar: 'quart', method: 'dial-gauge' })
    // 1 US tablespoon is 14.787 ml, 1 teaspoon 4.929 ml; 6 psi is 41.369 kPa; half an inch is 12.7 mm.
    expect(answer.acid.map(({ ml }) => Number(ml.toFixed(2)))).toEqual([29.57, 2.46, 59.15])
    expect(answer.kPa).toBeCloseTo(41.369, 3)
    expect(answer.headspaceMm).toBeCloseTo(12.7, 6)
  })

  it('asks for lemon juice alone in Asian pears (Guide 2 p. 2-20) and for no vinegar in figs (p. 2-14)', () => {
    expect(tested({ product: 'Asian pears' }).acid.map(({ acid }) => acid)).toEqual(['bottled-lemon-juice'])
    expect(tested({ product: 'figs' }).acid.map(({ acid }) => acid)).toEqual(['bottled-lemon-juice', 'citric-acid'])
  })
})
