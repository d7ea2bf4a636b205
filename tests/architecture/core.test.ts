import { describe, expect, test } from 'vitest'
import { chainTo, readImports, readSource } from './imports.ts'

// The core computes numbers from numbers. These are all the libraries it may name; a new one is a decision to write down.
const computingLibraries = ['highs', 'luxon', 'd3-sankey', 'd3-shape']

// A time limit of the timetable's search needs a clock. It is this line, which only ends a search; nothing else may have one.
const theOneClock = 'src/core/scheduling/clock.ts:2 export const monotonicMs = (): number => performance.now()'

const core = readImports('src/core')

describe('the core', () => {
  test('has files in it, so that the checks below are about something', () => {
    expect(core.length).toBeGreaterThan(20)
  })

  test('imports nothing but itself and its named libraries', () => {
    const all = new Map(readImports('src').map((entry) => [entry.file, entry]))
    const strays = core.flatMap((entry) => {
      const packages = entry.packages
        .filter((name) => !computingLibraries.includes(name))
        .map((name) => `${entry.file} > ${name}`)
      const chain = chainTo(entry.file, all, (file) => !file.startsWith('src/core/'))
      return chain ? [...packages, chain.join(' > ')] : packages
    })
    expect(strays).toEqual([])
  })

  test('has no clock but one, no chance, no environment and no output of its own', () => {
    const forbidden =
      /\b(Date\.now|new Date\(\)|performance\.now|Math\.random|process\.(?:env|argv|cwd|exit|on|once|emit|stdin|stdout|stderr|nextTick|hrtime|memoryUsage|uptime|pid|platform|version)\b|console\.|globalThis|setTimeout|setInterval|DateTime\.(now|local|utc)\(\))/
    const uses = core.flatMap((entry) =>
      readSource(entry.file)
        .split('\n')
        .map((line, number) => ({ line: line.trim(), where: `${entry.file}:${number + 1}` }))
        .filter(({ line }) => !/^(\*|\/\*\*|\/\/)/.test(line) && forbidden.test(line))
        .map(({ line, where }) => `${where} ${line}`),
    )
    expect(uses).toEqual([theOneClock])
  })

  test('has a vocabulary that imports nothing', () => {
    const vocabulary = core.find((entry) => entry.file === 'src/core/produce/vocabulary.ts')
    expect(vocabulary).toMatchObject({ files: [], packages: [] })
  })
})
