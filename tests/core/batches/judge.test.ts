import { describe, expect, test } from 'vitest'
import { type CannedBatch, judgeBatch, type NotedProcess } from '../../../src/core/batches/index.ts'
import { verdictOn } from '../../../src/core/recipes/index.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'

// Plums, hot or raw pack, pints in boiling water: 20 minutes up to 1,000 ft, 25 up to 3,000 ft; headspace 1/2 inch
// (USDA Complete Guide 2015, Guide 2 p. 2-21, 2-22; seen).
const altitudeM = 640
const plums = starters.find(({ key }) => key === 'plums-in-light-syrup') ?? expect.fail('no plums in the library')
const verdict = verdictOn(plums, { altitudeM, gauges: [], local: [] }).packs.find(({ pack }) => pack === 'pint')
if (verdict === undefined) throw new Error('no pints')

const batch: CannedBatch = {
  recipe: { id: 'plums', version: 1 },
  verdict,
  claim: plums.definition.process,
  jar: 'pint',
  jarsIn: 7,
  altitudeM,
  notes: '',
}
const noted: NotedProcess = {
  method: 'boiling-water',
  canner: 'the blue one',
  reachedAt: '2026-09-11T08:00:00Z',
  endedAt: '2026-09-11T08:25:00Z',
  interruptions: [],
  ventedMinutes: null,
  lowestKPa: null,
  headspaceMm: 12.7,
  acidAdded: false,
  by: ['Ines Odell'],
  seals: null,
}
const judged = (more: Partial<NotedProcess>, of: Partial<CannedBatch> = {}) =>
  judgeBatch({ ...batch, ...of }, { ...noted, ...more })
const kinds = (more: Partial<NotedProcess>, of: Partial<CannedBatch> = {}) =>
  judged(more, of).problems.map(({ kind }) => kind)

describe('a canned batch', () => {
  test('that follows the tested process may stand on a shelf, its seals still to be tried', () => {
    expect(judged({})).toMatchObject({ shelfStable: true })
    expect(kinds({})).toEqual(['seals-not-checked'])
    expect(judged({ method: 'steam' }).shelfStable).toBe(true)
  })

  test.each([
    [{ endedAt: '2026-09-11T08:24:59Z' }, 'too-short'],
    [{ headspaceMm: 12 }, 'less-headspace'],
    [{ headspaceMm: null }, 'less-headspace'],
    [{ reachedAt: null }, 'times-missing'],
    [{ endedAt: null }, 'times-missing'],
    [{ by: [] }, 'nobody-named'],
    [{ canner: ' ' }, 'canner-not-named'],
    [{ interruptions: [{ lostAt: '2026-09-11T08:10:00Z', reachedAgainAt: null }] }, 'not-restarted'],
    [{ endedAt: '2026-09-11T07:00:00Z' }, 'times-out-of-order'],
  ] satisfies [Partial<NotedProcess>, string][])('%o is kept off the shelf', (more: Partial<NotedProcess>, kind) => {
    expect(kinds(more)).toContain(kind)
    expect(judged(more).shelfStable).toBe(false)
  })

  test('of a recipe that departs stays off the shelf however it was heated', () => {
    const departures = [{ kind: 'bigger-jar', says: 'The jar is bigger.', at: 'packs.0', source: null }] as const
    const of = { verdict: { ...verdict, shelfStable: false, departures: [...departures] } }
    expect(kinds({}, of)).toContain('recipe-departs')
    expect(judged({}, of).shelfStable).toBe(false)
  })

  test('without a claim has no process to be held against, and a higher kitchen asks for more minutes', () => {
    expect(judged({}, { claim: null })).toMatchObject({ due: null, record: null, shelfStable: false })
    expect(kinds({}, { altitudeM: 1300 })).toContain('too-short')
    expect(
      kinds(
        { method: 'weighted-gauge' },
        { claim: { ...(plums.definition.process ?? expect.fail()), product: 'a plum of nobody' } },
      ),
    ).toContain('no-process')
  })
})
