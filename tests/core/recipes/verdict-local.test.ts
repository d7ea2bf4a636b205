import { describe, expect, test } from 'vitest'
import type { LocalProcess } from '../../../src/core/process/index.ts'
import type { KitchenPlace } from '../../../src/core/recipes/index.ts'
import { canned, claimOf, cropInput, judged, lowKitchen, packOf } from './making.ts'

describe('a process that the co-op noted', () => {
  const noted: LocalProcess = {
    id: 'one',
    product: 'damson cheese',
    method: 'boiling-water',
    pack: 'hot',
    jars: ['half-pint', 'pint'],
    fromM: 0,
    toM: 500,
    minutes: 15,
    kPa: null,
    headspaceMm: 6,
    acid: '',
    source: 'invented for tests',
    notedBy: 'Mara',
    notedOn: '2026-09-01',
    withdrawn: false,
  }
  const cheese = canned({
    inputs: [cropInput('damson')],
    packs: [packOf({ key: 'pint', jar: 'pint' })],
    process: claimOf({ product: 'damson cheese', local: 'one' }),
  })
  const withNote = (changes: Partial<LocalProcess> = {}, place: Partial<KitchenPlace> = {}) =>
    judged(cheese, { ...lowKitchen, local: [{ ...noted, ...changes }], ...place })

  test('covers what it says, at both ends of its altitudes', () => {
    for (const altitudeM of [0, 500]) {
      expect(withNote({}, { altitudeM })).toMatchObject({ standing: 'local', shelfStable: true, process: null })
    }
    expect(withNote().local?.minutes).toBe(15)
  })

  test.each([
    [{ withdrawn: true }, 'local-elsewhere process'],
    [{ fromM: 300 }, 'local-elsewhere '],
    [{ toM: 199 }, 'local-elsewhere '],
    [{ jars: ['half-pint'] as const }, 'local-elsewhere packs.0'],
    [{ pack: 'raw' as const }, 'local-elsewhere process'],
    [{ method: 'dial-gauge' as const, kPa: 76 }, 'local-elsewhere process'],
    [{ id: 'another' }, 'local-elsewhere process'],
  ])('does not cover more: %j', (changes, found) => {
    expect(withNote(changes)).toMatchObject({ standing: 'departs', shelfStable: false, found: [found] })
  })

  test('needs to know how high the kitchen lies', () => {
    expect(withNote({}, { altitudeM: null }).found).toEqual(['altitude-unknown '])
  })

  test('is not shortened either', () => {
    const short = {
      ...cheese,
      definition: { ...cheese.definition, process: claimOf({ local: 'one', minutes: 10, headspaceMm: 3 }) },
    }
    expect(judged(short, { ...lowKitchen, local: [noted] }).found).toEqual([
      'shorter-time process',
      'less-headspace process',
    ])
  })

  test('under pressure needs its own gauge', () => {
    const dialed = { ...noted, method: 'dial-gauge' as const, kPa: 76 }
    const recipe = { ...cheese, method: 'pressure-canned' as const }
    expect(judged(recipe, { ...lowKitchen, gauges: ['weighted'], local: [dialed] }).found).toEqual(['gauge-missing '])
    expect(judged(recipe, { ...lowKitchen, gauges: ['dial'], local: [dialed] }).standing).toBe('local')
  })
})
