import { readdirSync, readFileSync, statSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

// The table of what must hold (tests/checklist.md) names a test for each line: it is there, under that name.
const root = fileURLToPath(new URL('../..', import.meta.url))
const rows = readFileSync(`${root}/tests/checklist.md`, 'utf8')
  .split('\n')
  .flatMap((line) => {
    const cells = /^\| ((?:SEC|REL)-\d{3}) \| (.*) \| (.*)\|$/.exec(line)
    return cells === null ? [] : [{ id: cells[1] ?? '', what: cells[2] ?? '', by: (cells[3] ?? '').trim() }]
  })

test('each line is there once', () => {
  const ids = rows.map(({ id }) => id)
  expect(new Set(ids).size).toBe(ids.length)
  expect(ids.length).toBeGreaterThan(90)
})

test('each line names a test that is there, or says why there is none', () => {
  const excused = rows.filter(({ what }) => /^(Not ours|Short): .{20}/.test(what))
  const missing = rows.filter((row) => !excused.includes(row) && !isHeld(row.by)).map(({ id, by }) => `${id}: ${by}`)
  process.stdout.write(`checklist: ${rows.length} lines, ${rows.length - excused.length} held by tests\n`)
  expect(missing).toEqual([])
})

/** "path: words", where a test in that file (or in one below that folder) has these words in its name. */
function isHeld(by: string): boolean {
  const [path = '', ...rest] = by.split(': ')
  const words = rest.join(': ')
  return words !== '' && testFiles(`${root}/${path}`).some((file) => namesIn(file).some((name) => name.includes(words)))
}

function testFiles(path: string): string[] {
  const found = statSync(path, { throwIfNoEntry: false })
  if (found === undefined) return []
  if (found.isFile()) return [path]
  return readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.test.ts'))
    .map((name) => `${path}/${name}`)
}

/** The names of a file's tests and groups as they stand in its text. */
function namesIn(file: string): string[] {
  const calls = /\b(?:it|test|describe)(?:\.\w+)?(?:\((?:[^()]|\([^()]*\))*\))?\(\s*(['"`])((?:\\.|(?!\1).)*)\1/gs
  return [...readFileSync(file, 'utf8').matchAll(calls)].map((match) => match[2] ?? '')
}
