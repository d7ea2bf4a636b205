import { describe, expect, test } from 'vitest'
import { createRooms } from '../../../src/web/rooms.ts'

const MINUTE = 60_000

/** Rooms of 1 MB over what a test says that a co-op takes, with a clock that it moves; each measure takes 10 ms. */
function rooms(bytes: Record<string, number>, limitBytes = 1_000_000) {
  const state = { bytes, time: 0, measures: 0, broken: false }
  const made = createRooms({
    limitBytes,
    now: () => state.time,
    measure: async (coopId) => {
      state.measures += 1
      state.time += 10
      if (state.broken) throw new Error('the database is away')
      return { rows: 1, bytes: state.bytes[coopId] ?? 0, tables: [], tookMs: 10 }
    },
  })
  return { ...made, state }
}

describe('SEC-050 room', () => {
  test('is measured once, however many ask at once and often, where little comes in', async () => {
    const { fullFor, state } = rooms({ larkrise: 10_000 })
    const answers = await Promise.all(Array.from({ length: 20 }, () => fullFor('larkrise', 100)))
    for (let n = 0; n < 10; n++) answers.push(await fullFor('larkrise', 100))
    expect(new Set(answers)).toEqual(new Set([null]))
    expect(state.measures).toBe(1)
    state.time += 10 * MINUTE
    await fullFor('larkrise', 100)
    expect(state.measures, 'ten minutes later').toBe(2)
  })

  test('is measured again when what came in may have filled a quarter of what is left', async () => {
    const { fullFor, state } = rooms({ larkrise: 500_000 })
    let sent = 0
    while (state.measures < 2 && sent < 100) {
      expect(await fullFor('larkrise', 1_000)).toBeNull()
      sent += 1
      state.time += 1_000
    }
    // 125,000 bytes at 4,096 and twenty times what was sent each
    expect(sent).toBe(7)
  })

  test('that may be full by now is measured again sooner, yet not each time', async () => {
    const { fullFor, state } = rooms({ larkrise: 999_000 })
    await fullFor('larkrise', 0)
    state.time += 30
    await fullFor('larkrise', 0)
    expect(state.measures).toBe(1)
    state.time += 10
    await fullFor('larkrise', 0)
    expect(state.measures).toBe(2)
  })

  test('that is full is told with what is taken; measured again when something was removed, or after a minute', async () => {
    const { fullFor, freed, state } = rooms({ larkrise: 1_000_000 })
    for (let n = 0; n < 5; n++) expect(await fullFor('larkrise', 0)).toMatchObject({ bytes: 1_000_000 })
    expect(state.measures).toBe(1)
    state.bytes = { larkrise: 999_999 }
    freed('larkrise')
    expect(await fullFor('larkrise', 0), 'not yet: after a rest').not.toBeNull()
    state.time += 200
    expect(await fullFor('larkrise', 0)).toBeNull()
    state.bytes = { larkrise: 2_000_000 }
    state.time += 10 * MINUTE
    expect(await fullFor('larkrise', 0)).not.toBeNull()
    state.bytes = { larkrise: 0 }
    state.time += MINUTE - 20
    expect(await fullFor('larkrise', 0)).not.toBeNull()
    state.time += 20
    expect(await fullFor('larkrise', 0), 'another process removed something').toBeNull()
  })

  test('of one co-op is nothing to another, and without a limit nobody measures', async () => {
    const { fullFor } = rooms({ larkrise: 2_000_000, tanner: 5 })
    expect(await fullFor('larkrise', 0)).not.toBeNull()
    expect(await fullFor('tanner', 0)).toBeNull()
    const without = rooms({ larkrise: 2_000_000 }, 0)
    expect(await without.fullFor('larkrise', 0)).toBeNull()
    expect(without.state.measures).toBe(0)
    expect(await without.look('larkrise')).toMatchObject({ bytes: 2_000_000 })
  })

  test('that could not be measured is measured for whoever asks next', async () => {
    const { fullFor, state } = rooms({ larkrise: 5 })
    state.broken = true
    await expect(fullFor('larkrise', 0)).rejects.toThrow('the database is away')
    state.broken = false
    expect(await fullFor('larkrise', 0)).toBeNull()
    expect(state.measures).toBe(2)
  })
})
