import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const folder = new URL('../../../src/core/scheduling/', import.meta.url)

/** What a file and all that it imports take in, each as a path from the folder of scheduling. */
function importsOf(file: URL, seen = new Set<string>()): Set<string> {
  for (const [, path = ''] of readFileSync(fileURLToPath(file), 'utf8').matchAll(/\bfrom '([^']+)'|\bimport\('/g)) {
    const found = new URL(path, file)
    const name = found.href.slice(folder.href.length)
    if (!path.startsWith('.') || seen.has(name)) continue
    seen.add(name)
    importsOf(found, seen)
  }
  return seen
}

test('the checker takes in nothing but its own parts and what a problem is', () => {
  expect([...importsOf(new URL('check.ts', folder))].sort()).toEqual([
    'check/layout.ts',
    'check/people.ts',
    'check/resources.ts',
    'problem.ts',
  ])
  // And that is types alone: a definition has nothing that could be wrong in both.
  expect(readFileSync(fileURLToPath(new URL('problem.ts', folder)), 'utf8')).not.toMatch(
    /\bexport (?:const|function|class)\b/,
  )
})

test('neither the solver nor the bounds take in the checker', () => {
  const all = importsOf(new URL('solve.ts', folder))
  expect([...all].filter((name) => name.startsWith('check'))).toEqual([])
  expect(all).toContain('search.ts')
  expect(all).toContain('bounds.ts')
})
