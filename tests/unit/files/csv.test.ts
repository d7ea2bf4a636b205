import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { LONGEST_ROW, readCsv, writeCsv } from '../../../src/features/files/csv.ts'

const cellsOf = (text: string, most = 10_000) => {
  const read = readCsv(text, most)
  if (!read.ok) throw new Error(`line ${read.line}: ${read.says}`)
  return read.rows.map(({ cells }) => cells)
}

describe('CSV', () => {
  // RFC 4180, section 2, rules 1, 2, 5, 6 and 7 and its grammar (from memory).
  test('is written with CRLF, and quotes where there must be some', () => {
    const rows = [
      ['aaa', 'b,b', 'c"c'],
      ['', 'b\nb', 'c;c'],
    ]
    expect(writeCsv(rows)).toBe('aaa,"b,b","c""c"\r\n,"b\nb","c;c"\r\n')
  })

  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '＝1', '－1'])('makes the formula %j harmless', (cell) => {
    expect(writeCsv([[cell, 'x']]).replace(/^"/, '')).toMatch(/^'/)
    expect(cellsOf(writeCsv([[cell, 'x']]))).toEqual([[cell, 'x']])
  })

  test('leaves numbers numbers, below 0 too', () => {
    expect(writeCsv([[-3, 4, null]])).toBe('-3,4,\r\n')
  })

  test('takes one apostrophe away and only where writing puts one', () => {
    expect(cellsOf(`a,b,c\n'twas,'=1,''tis\n`)[1]).toEqual(["'twas", '=1', "'tis"])
  })

  test('out and in changes nothing, whatever the cells hold', () => {
    const odd = fc.constantFrom("'", "''=", '=', '+', '-', '@', '\t', '"', '""', ',', ';', '\n', ' ', '＝', '\uFEFF')
    const cell = fc.oneof(
      fc.string({ unit: 'grapheme', maxLength: 12 }),
      fc.array(fc.oneof(odd, fc.string({ maxLength: 3 })), { maxLength: 5 }).map((parts) => parts.join('')),
    )
    const table = fc.integer({ min: 2, max: 5 }).chain((width) =>
      fc.array(fc.array(cell, { minLength: width, maxLength: width }), { maxLength: 8 }).map((rows) => {
        // the first line is ours, as in every table
        const head = Array.from({ length: width }, (_, i) => `column ${i}`)
        return [head, ...rows]
      }),
    )
    fc.assert(
      fc.property(table, (rows) => {
        expect(cellsOf(writeCsv(rows))).toEqual(rows)
      }),
      { numRuns: 2_000 },
    )
  })

  test.each([
    ['a;b\n1;"2,5"\n', ['1', '2,5']],
    ['a\tb\r\n1\t2\r\n', ['1', '2']],
    ['\uFEFFa,b\n"1","2"\n', ['1', '2']],
    ['"a;b;c",b\n1,2\n', ['1', '2']],
  ])('reads %j as people’s programs write it', (text, row) => {
    expect(cellsOf(text)[1]).toEqual(row)
  })

  test('tells the line on which a row begins, after a field of several lines and an empty line', () => {
    const read = readCsv('a,b\n\n1,"x\ny"\n2,z\n', 10)
    expect(read.ok && read.rows.map(({ line }) => line)).toEqual([1, 3, 5])
  })

  test.each([
    ['a,b\n1,"2\n3,4\n', 2, /never closed/],
    ['a,b\n1,2\n"3"4,5\n', 3, /middle of a field/],
    ['a,b\n1,2"x\n', 2, /middle of a field/],
    [`a,b\n1,${'x'.repeat(LONGEST_ROW + 10)}\n`, 2, /longer than/],
  ])('refuses what is no table, with its line', (text, line, words) => {
    const read = readCsv(text, 10)
    expect(read).toMatchObject({ ok: false, line })
    expect(!read.ok && read.says).toMatch(words)
  })
})
