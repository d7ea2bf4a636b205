import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'

const src = fileURLToPath(new URL('../../../src', import.meta.url))

/** Texts that make a pattern that may go back over what it read take long: one character, or a few, over and over. */
const long = 100_000
const pieces = [
  'a',
  ' ',
  '1',
  '-',
  '/',
  '.',
  ',',
  '"',
  '=',
  '&',
  '<',
  'a ',
  '1 ',
  '1.',
  '1,',
  '- ',
  'ab',
  '0.0 ',
  '¼',
  'é',
]

/** Twice, so that a machine busy elsewhere is not taken for a slow pattern. */
function isQuick(pattern: RegExp, piece: string, end: string, length: number, mostMs: number): boolean {
  const text = piece.repeat(length / piece.length) + end
  const take = () => {
    const begun = performance.now()
    text.search(pattern)
    return performance.now() - begun
  }
  return take() <= mostMs || take() <= mostMs
}

/** Patterns that only meet text of our own making, with the reason. */
const ours = new Map([['core/units/format.ts', 'figures that were computed: twenty characters at most']])

/** Every pattern that stands in the source as a literal. */
function patternsOfSource(): { at: string; pattern: RegExp }[] {
  return readdirSync(src, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts') && !name.startsWith('db/generated'))
    .flatMap((name) => {
      const text = readFileSync(`${src}/${name}`, 'utf8')
      const literals = text.matchAll(
        /(?<=[(=,:?!&|[{;]\s*|return |\n\s+)\/((?:[^/\\\n[]|\\.|\[(?:[^\]\\\n]|\\.)*\])+)\/([dgimsuvy]*)(?=[\s),.;\]}])/g,
      )
      return [...literals].flatMap(([, body = '', flags = '']) => {
        if (body.startsWith('*') || body.startsWith('/')) return []
        return [{ at: name, pattern: new RegExp(body, flags) }]
      })
    })
}

test('SEC-052 no pattern takes long over 100 KB of any text', () => {
  const patterns = patternsOfSource()
  expect(patterns.length).toBeGreaterThan(100)
  const slow = new Set<string>()
  for (const { at, pattern } of patterns.filter((one) => !ours.has(one.at))) {
    for (const piece of pieces) {
      for (const end of ['', '\u0001']) {
        // what grows with the square of the length shows at a tenth of it already, and is not waited for
        if (!isQuick(pattern, piece, end, long / 10, 5) || !isQuick(pattern, piece, end, long, 50)) {
          slow.add(`${at} ${pattern} on ${JSON.stringify(piece)}`)
        }
      }
    }
  }
  process.stdout.write(`patterns of the source: ${patterns.length}\n`)
  expect([...slow]).toEqual([])
}, 300_000)
