import { describe, expect, test } from 'vitest'
import type { LocalProcess } from '../../../src/core/process/local.ts'
import { checkRecord, minutesOf, minutesThatCount, type ProcessRecord } from '../../../src/core/process/record.ts'
import { seen } from '../../../src/core/process/sources.ts'
import type { TestedProcess } from '../../../src/core/process/types.ts'

// Peaches, hot pack, quarts: 30 minutes at 2,500 ft in boiling water, 10 minutes at 7 psi by a dial (Guide 1 p. 1-23, 1-24).
const source = seen('usda-2015', 'Guide 1 p. 1-23 and 1-24')
const boiling = tested({ method: 'boiling-water', minutes: 30, psi: null, kPa: null })
const dial = tested({ method: 'dial-gauge', minutes: 10, psi: 7, kPa: 7 * 6.894757 })

const good: ProcessRecord = {
  recipe: { id: 'peaches-in-syrup', version: 3 },
  process: { kind: 'row', id: 'peaches' },
  method: 'boiling-water',
  pack: 'hot',
  altitudeM: 762,
  jar: 'quart',
  jarsIn: 7,
  canner: 'the big enamel one',
  gauge: null,
  ventedMinutes: null,
  reachedAt: '2026-08-14T10:00:00+02:00',
  endedAt: '2026-08-14T08:30:00Z',
  lowestKPa: null,
  interruptions: [],
  by: ['Ines'],
  seals: { checkedAt: '2026-08-15T07:00:00Z', by: 'Ines', sealed: 7, broken: 0, notSealed: [] },
  notes: '',
}
const goodUnderPressure: ProcessRecord = {
  ...good,
  method: 'dial-gauge',
  gauge: 'dial',
  ventedMinutes: 10,
  lowestKPa: 48.3,
  reachedAt: 1000,
  endedAt: 1010,
  seals: { checkedAt: 1010 + 730, by: 'Ines', sealed: 6, broken: 1, notSealed: [] },
}

const kinds = (record: ProcessRecord, process: TestedProcess | LocalProcess = boiling) =>
  checkRecord(record, process).map(({ kind, at }) => `${kind} ${at}`)

describe('a record with nothing wrong', () => {
  test('has no problem, in boiling water and under pressure', () => {
    expect(kinds(good)).toEqual([])
    expect(kinds(goodUnderPressure, dial)).toEqual([])
  })

  test('may have lost its boil, if the whole time was given anew', () => {
    const restarted = {
      ...good,
      interruptions: [{ lostAt: '2026-08-14T08:10:00Z', reachedAgainAt: '2026-08-14T08:15:00Z' }],
      endedAt: '2026-08-14T08:45:00Z',
    }
    expect(kinds(restarted)).toEqual([])
    expect(minutesThatCount(restarted)).toBe(30)
  })
})

describe('time', () => {
  test('that is short is told in figures', () => {
    const [problem, ...others] = checkRecord({ ...good, endedAt: '2026-08-14T08:29:00Z' }, boiling)
    expect(others).toEqual([])
    expect(problem).toMatchObject({ kind: 'too-short', at: 'endedAt' })
    expect(problem?.says).toBe('30 minutes are due; 29 were given.')
  })

  test('counts from the restart, not from the first boil', () => {
    const record = {
      ...good,
      interruptions: [{ lostAt: '2026-08-14T08:10:00Z', reachedAgainAt: '2026-08-14T08:12:00Z' }],
    }
    expect(checkRecord(record, boiling)).toEqual([
      { kind: 'too-short', at: 'endedAt', says: '30 minutes are due; 18 were given since the boil came back.' },
    ])
  })

  test('counts from the last of several restarts', () => {
    const interruptions = [
      { lostAt: 10, reachedAgainAt: 12 },
      { lostAt: 30, reachedAgainAt: 40 },
    ]
    const times = { reachedAt: 0, interruptions }
    expect(minutesThatCount({ ...times, endedAt: 70 })).toBe(30)
    expect(kinds({ ...good, ...times, endedAt: 69, seals: null })).toEqual([
      'too-short endedAt',
      'seals-not-checked seals',
    ])
    // The first loss was never made good in writing, but the last was: the process is whole, the record is not.
    const first = [{ lostAt: 10, reachedAgainAt: null }, ...interruptions.slice(1)]
    expect(kinds({ ...good, ...times, interruptions: first, endedAt: 70, seals: null })).toEqual([
      'not-restarted interruptions.0',
      'seals-not-checked seals',
    ])
  })

  test('does not count where a lost boil was not started again', () => {
    const lost = { lostAt: '2026-08-14T08:10:00Z', reachedAgainAt: null }
    expect(kinds({ ...good, interruptions: [lost], endedAt: '2026-08-14T09:30:00Z' })).toEqual([
      'not-restarted interruptions.0',
    ])
  })

  test('runs forward', () => {
    expect(kinds({ ...good, endedAt: '2026-08-14T07:30:00Z' })).toContain('times-out-of-order endedAt')
    const outside = { lostAt: '2026-08-14T07:50:00Z', reachedAgainAt: '2026-08-14T07:55:00Z' }
    expect(kinds({ ...good, interruptions: [outside] })).toEqual([
      'times-out-of-order interruptions.0.lostAt',
      'times-out-of-order interruptions.0.reachedAgainAt',
    ])
  })

  test.each(['', '2026-08-14 10:00', '2026-08-14T10:00:00', 'ten', Number.NaN])('%o is none', (instant) => {
    expect(minutesOf(instant)).toBeNull()
    expect(kinds({ ...good, endedAt: instant })).toContain('time-unreadable endedAt')
  })

  test('is one instant in any zone', () => {
    expect(minutesOf('2026-08-14T10:00:00+02:00')).toBe(minutesOf('2026-08-14T08:00:00Z'))
    expect(minutesOf(12.5)).toBe(12.5)
  })
})

describe('pressure', () => {
  test('may be written with a decimal, and not lower', () => {
    // 7 psi are 48.263 kPa.
    expect(kinds({ ...goodUnderPressure, lowestKPa: 48.2 }, dial)).toEqual([])
    expect(kinds({ ...goodUnderPressure, lowestKPa: 48 }, dial)).toEqual(['pressure-too-low lowestKPa'])
    expect(kinds({ ...goodUnderPressure, lowestKPa: null }, dial)).toEqual(['pressure-not-noted lowestKPa'])
  })

  test('needs a vented canner and the gauge it was meant for', () => {
    expect(kinds({ ...goodUnderPressure, ventedMinutes: 9 }, dial)).toEqual(['not-vented ventedMinutes'])
    expect(kinds({ ...goodUnderPressure, ventedMinutes: null }, dial)).toEqual(['not-vented ventedMinutes'])
    expect(kinds({ ...goodUnderPressure, gauge: 'weighted' }, dial)).toEqual(['other-gauge gauge'])
    expect(kinds({ ...goodUnderPressure, gauge: null }, dial)).toEqual(['gauge-not-named gauge'])
  })

  test('that was lost starts the time again', () => {
    const record = { ...goodUnderPressure, interruptions: [{ lostAt: 1004, reachedAgainAt: 1006 }] }
    expect(kinds(record, dial)).toEqual(['too-short endedAt'])
    expect(kinds({ ...record, endedAt: 1016 }, dial)).toEqual([])
  })
})

describe('what was followed', () => {
  test.each([
    [{ process: { kind: 'row', id: 'pears' } } as const, 'other-process process'],
    [{ process: { kind: 'local', id: 'peaches' } } as const, 'other-process process'],
    [{ method: 'steam' } as const, 'other-method method'],
    [{ pack: 'raw' } as const, 'other-pack pack'],
    [{ jar: 'half-gallon' } as const, 'other-jar jar'],
    [{ altitudeM: 914.5 }, 'other-altitude altitudeM'],
    [{ altitudeM: 304.8 }, 'other-altitude altitudeM'],
    [{ altitudeM: Number.NaN }, 'other-altitude altitudeM'],
    [{ by: [] }, 'nobody-named by'],
    [{ by: [' '] }, 'nobody-named by'],
    [{ canner: '' }, 'canner-not-named canner'],
  ])('%o differs: %s', (change, problem) => {
    expect(kinds({ ...good, ...change })).toEqual([problem])
  })

  test('at the edges of its band of altitude is the same: above 1,000 ft, up to 3,000', () => {
    expect(kinds({ ...good, altitudeM: 304.9 })).toEqual([])
    expect(kinds({ ...good, altitudeM: 914.4 })).toEqual([])
  })

  test("may be the co-op's own, between its altitudes, until it is withdrawn", () => {
    const local: LocalProcess = {
      id: 'damsons-own',
      product: 'damsons, whole',
      method: 'boiling-water',
      pack: 'hot',
      jars: ['pint', 'quart'],
      fromM: 0,
      toM: 800,
      minutes: 30,
      kPa: null,
      headspaceMm: 13,
      acid: '',
      source: 'the county food office, sheet 4, 2019',
      notedBy: 'Ines',
      notedOn: '2026-05-01',
      withdrawn: false,
    }
    const record: ProcessRecord = { ...good, process: { kind: 'local', id: 'damsons-own' } }
    expect(kinds(record, local)).toEqual([])
    expect(kinds({ ...record, altitudeM: 801 }, local)).toEqual(['other-altitude altitudeM'])
    expect(kinds(record, { ...local, withdrawn: true })).toEqual(['withdrawn process'])
    expect(kinds(record, { ...local, minutes: 31 })).toEqual(['too-short endedAt'])
  })
})

describe('seals', () => {
  const seals = { checkedAt: 800, by: 'Ines', sealed: 7, broken: 0, notSealed: [] }
  const load: ProcessRecord = { ...good, reachedAt: 0, endedAt: 30, seals }

  test('must be checked, after twelve hours, by somebody', () => {
    expect(kinds(load)).toEqual([])
    expect(kinds({ ...load, seals: null })).toEqual(['seals-not-checked seals'])
    expect(kinds({ ...load, seals: { ...seals, checkedAt: 30 + 719 } })).toEqual([
      'seals-checked-early seals.checkedAt',
    ])
    expect(kinds({ ...load, seals: { ...seals, by: '' } })).toEqual(['nobody-named seals.by'])
    expect(kinds({ ...load, seals: { ...seals, checkedAt: 'Saturday' } })).toEqual(['time-unreadable seals.checkedAt'])
  })

  test('account for every jar', () => {
    for (const change of [{ sealed: 6 }, { sealed: 8 }, { sealed: 6.5, broken: 0.5 }, { sealed: 8, broken: -1 }]) {
      expect(kinds({ ...load, seals: { ...seals, ...change } })).toEqual(['seals-do-not-add-up seals'])
    }
    expect(kinds({ ...load, jarsIn: 0 })).toEqual(['no-jars jarsIn', 'seals-do-not-add-up seals'])
  })

  // Guide 1 p. 1-26: an unsealed jar may be processed again within 24 hours.
  test.each([
    ['reprocessed', 30 + 1440, []],
    ['reprocessed', 30 + 1441, ['reprocessed-late seals.notSealed.0']],
    ['refrigerated', 30 + 1440, []],
    ['frozen', 30 + 1500, ['kept-late seals.notSealed.0']],
    ['eaten', 30 + 1500, ['kept-late seals.notSealed.0']],
    ['discarded', 30 + 9000, []],
  ] as const)('%s at minute %d', (went, at, problems) => {
    const record = { ...load, seals: { ...seals, sealed: 5, notSealed: [{ jars: 2, went, at }] } }
    expect(kinds(record)).toEqual(problems)
  })
})

function tested(of: Pick<TestedProcess, 'method' | 'minutes' | 'psi' | 'kPa'>): TestedProcess {
  const band = { fromFt: 1001, toFt: 3000, minutes: of.minutes, psi: of.psi }
  return {
    answer: 'tested',
    row: {
      id: 'peaches',
      product: 'peaches',
      form: 'halved or sliced',
      method: of.method === 'steam' ? 'boiling-water' : of.method,
      pack: 'hot',
      jars: ['1.5-pint', 'quart'],
      bands: [band],
      headspaceIn: 0.5,
      acidity: 'acid',
      acid: [],
      sterileJars: false,
      asPublished: false,
      notes: [],
      source,
    },
    band,
    pack: 'hot',
    jar: 'quart',
    headspaceIn: 0.5,
    headspaceMm: 12.7,
    acid: [],
    sterileJars: false,
    notes: [],
    source,
    others: [],
    ...of,
  }
}
