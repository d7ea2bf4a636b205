import { describe, expect, it } from 'vitest'
import type { Entry } from '../../../src/core/day/index.ts'
import { piecesOf } from '../../../src/features/plans/timetables/pieces.ts'

function entry(from: number, to: number, more: Partial<Entry> = {}): Entry {
  return {
    activity: `${from}-${to}`,
    phase: 0,
    batch: 'jam',
    portion: 0,
    step: 1,
    part: 'hands',
    units: 8,
    station: 'cut',
    from,
    to,
    helpers: ['ana'],
    machines: [],
    ...more,
  }
}

const spans = (entries: Entry[]) => piecesOf(entries).map(({ from, to, helpers, units }) => [from, to, helpers, units])

describe('pieces of work', () => {
  it('are one where the same work by the same person goes on', () => {
    const four = [540, 570, 600, 630].map((from) => entry(from, from + 30))
    expect(spans(four)).toEqual([[540, 660, ['ana'], 8]])
    expect(spans([...four].reverse())).toEqual([[540, 660, ['ana'], 8]])
  })

  it('add up the units of different portions, each once', () => {
    expect(spans([entry(540, 570), entry(570, 600), entry(600, 630, { portion: 1, units: 7 })])).toEqual([
      [540, 630, ['ana'], 15],
    ])
  })

  it.each([
    ['a pause', { from: 571 }],
    ['another step', { step: 2 }],
    ['another batch', { batch: 'chutney' }],
    ['another machine', { machines: [{ kind: 'burner' as const, number: 2 }] }],
    ['nobody', { helpers: [] }],
    ['another person', { helpers: ['ben'] }],
    ['another part', { part: 'lift-out' as const }],
  ])('are apart where there is %s between', (_, more) => {
    expect(piecesOf([entry(540, 570), entry(570, 600, more)]).length).toBe(2)
  })

  it('go on beside the work of others', () => {
    const entries = [
      entry(540, 570),
      entry(545, 575, { helpers: ['ben'] }),
      entry(570, 600),
      entry(575, 610, { helpers: ['ben'] }),
    ]
    expect(spans(entries)).toEqual([
      [540, 600, ['ana'], 8],
      [545, 610, ['ben'], 8],
    ])
  })

  it('hold everybody who begins and ends together', () => {
    expect(spans([entry(540, 570), entry(540, 570, { helpers: ['ben'], portion: 1 })])).toEqual([
      [540, 570, ['ana', 'ben'], 16],
    ])
  })

  it('hold a load of a canner until its lid may be opened, with each part’s time', () => {
    const alone = { helpers: [], station: 'canner' as const, machines: [{ kind: 'canner' as const, number: 1 }] }
    const [piece, ...more] = piecesOf([
      entry(600, 621, { ...alone, part: 'come-up' }),
      entry(621, 631, { ...alone, part: 'process' }),
      entry(631, 637, { ...alone, part: 'settle' }),
    ])
    expect(more).toEqual([])
    expect(piece?.parts).toEqual([
      { part: 'come-up', from: 600, to: 621 },
      { part: 'process', from: 621, to: 631 },
      { part: 'settle', from: 631, to: 637 },
    ])
  })

  it('leave out what takes no time', () => {
    expect(piecesOf([entry(540, 540)])).toEqual([])
  })
})
