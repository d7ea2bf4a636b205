import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkValue, satisfies } from '../../../src/core/labels/check-character.ts'
import { batchCode, batchCodes, readBatchCode } from '../../../src/core/labels/index.ts'

const alphanumeric = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*'
const valuesOf = (text: string) => [...text].map((one) => alphanumeric.indexOf(one))

describe('pure systems of ISO/IEC 7064', () => {
  test('give the standard’s own examples', () => {
    // MOD 11-2: "079" is protected by X; MOD 1271-36: "ISO79" by "3W". Seen as quoted by the crate iso-7064 0.2.2 (docs.rs);
    // another reader of the standard names its section 8.2 for the second.
    expect(checkValue([0, 7, 9], { modulus: 11, radix: 2 })).toBe(10)
    expect(satisfies(valuesOf('ISO793W'), { modulus: 1271, radix: 36 })).toBe(true)
    expect(satisfies(valuesOf('ISO793V'), { modulus: 1271, radix: 36 })).toBe(false)
  })

  test('give the check digits of published researcher numbers', () => {
    // ORCID's own sheet "Calculating the ORCID Checksum" (MOD 11-2), seen, with its two examples.
    const check = (digits: string) => checkValue([...digits].map(Number), { modulus: 11, radix: 2 })
    expect(check('000000028205121')).toBe(10)
    expect(check('000000031415926')).toBe(9)
  })
})

const anyNumber = fc.integer({ min: 0, max: batchCodes - 1 })
const letters = '23456789ABCDEFGHJKMNPQRSTUVWXYZ'

describe('a batch’s code', () => {
  test('is five characters without 0, O, 1, I and L, and each number has its own', () => {
    const codes = Array.from({ length: 5000 }, (_, number) => batchCode(number))
    expect(codes.every((code) => /^[2-9A-HJKMNP-Z]{5}$/.test(code))).toBe(true)
    expect(new Set(codes).size).toBe(5000)
  })

  test('is read back as its number, to the last that there is', () => {
    fc.assert(
      fc.property(anyNumber, (number) => {
        const code = batchCode(number)
        expect(readBatchCode(code)).toEqual({ ok: true, code, number })
      }),
      { numRuns: 2000, seed: 5 },
    )
    expect(readBatchCode(batchCode(batchCodes - 1))).toMatchObject({ number: batchCodes - 1 })
  })

  test('does not look like its neighbours: no two in a row share their first two characters', () => {
    for (let number = 1; number < 2000; number++) {
      expect(batchCode(number).slice(0, 2)).not.toBe(batchCode(number - 1).slice(0, 2))
    }
  })

  test('is read in small letters, with spaces, hyphens and points', () => {
    const code = batchCode(17)
    const [a, b] = [code.slice(0, 2), code.slice(2)]
    for (const typed of [code.toLowerCase(), ` ${a} ${b} `, `${a}-${b}`, `${a}–${b}`, [...code].join('.')]) {
      expect(readBatchCode(typed)).toEqual({ ok: true, code, number: 17 })
    }
  })

  test('notices every single wrong character, every two that changed places and every wrong pair of twins', () => {
    fc.assert(
      fc.property(anyNumber, (number) => {
        const code = [...batchCode(number)]
        for (let at = 0; at < code.length; at++) {
          for (const other of letters) {
            if (other !== code[at]) expectMisread(code.with(at, other))
            const twin = at + 1 < code.length && code[at] === code[at + 1] && other !== code[at]
            if (twin) expectMisread(code.with(at, other).with(at + 1, other))
          }
          for (const apart of [1, 2]) {
            const [one, two] = [code[at], code[at + apart]]
            if (one !== undefined && two !== undefined && one !== two)
              expectMisread(code.with(at, two).with(at + apart, one))
          }
        }
      }),
      { numRuns: 60, seed: 6 },
    )
  })

  test('is refused for what it is', () => {
    expect(readBatchCode(' - ')).toEqual({ ok: false, reason: 'empty' })
    expect(readBatchCode('7KO4M')).toEqual({ ok: false, reason: 'wrong-character', character: 'O' })
    expect(readBatchCode('7k1')).toEqual({ ok: false, reason: 'wrong-character', character: '1' })
    expect(readBatchCode('7KQ4')).toEqual({ ok: false, reason: 'wrong-length' })
    for (const bad of [-1, 0.5, batchCodes, Number.NaN]) expect(() => batchCode(bad)).toThrow(RangeError)
  })
})

function expectMisread(code: string[]): void {
  expect(readBatchCode(code.join(''))).toEqual({ ok: false, reason: 'misread' })
}
