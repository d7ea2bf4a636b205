import { describe, expect, it } from 'vitest'
import { z } from 'zod'
import { commonCount, isCommon } from '../../../src/features/accounts/common-passwords.ts'
import { passwordProblem } from '../../../src/features/accounts/password-rules.ts'
import { hashPassword, isPassword } from '../../../src/features/accounts/passwords.ts'
import { hashOfSetUpCode, newSetUpCode } from '../../../src/features/accounts/set-up/code.ts'
import { network } from '../../../src/features/accounts/signing-in.ts'
import { passwordText, readForm } from '../../../src/web/forms.ts'

const chance = () => Math.random().toString(36).slice(2)
const form = z.object({ newPassword: passwordText('Choose one') })
const read = (newPassword: string) => readForm(form, { newPassword })

describe('SEC-001 a password', () => {
  it('is kept as argon2id with 19 MiB, two passes and a salt of its own', async () => {
    const password = `plain words ${chance()}`
    const [one, two] = await Promise.all([hashPassword(password), hashPassword(password)])
    // the PHC string format names algorithm and cost
    expect(one).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$[A-Za-z0-9+/]{22,}\$[A-Za-z0-9+/]{43}$/)
    expect(two).not.toBe(one)
    expect(await isPassword(one, password)).toBe(true)
    expect(await isPassword(two, password)).toBe(true)
    expect(await isPassword(one, `${password} `)).toBe(false)
    expect(await isPassword(null, password)).toBe(false)
  })
})

describe('SEC-002 the rules for a password', () => {
  it('ask for 8 characters, counted as people count them', () => {
    expect(passwordProblem('zebraqx')).toMatch(/^Use 8 characters or more/)
    expect(passwordProblem('zebraqxv')).toBeNull()
    // seven emoji are fourteen units of UTF-16
    expect(passwordProblem('🍑🍐🍎🍇🍒🍓🫐')).toMatch(/^Use 8/)
    expect(passwordProblem('🍑🍐🍎🍇🍒🍓🫐🥝')).toBeNull()
  })

  it('ask for no kinds of characters, and take 64 and more of any', () => {
    for (const one of [
      'zebra lantern fig',
      '    a    b    ',
      'ПятьСливВСаду',
      '桃のジャムを作る日',
      'x7'.repeat(32),
      'y3'.repeat(100),
    ]) {
      expect(passwordProblem(one), one).toBeNull()
      expect(read(one).ok, one).toBe(true)
    }
    expect(read('y'.repeat(201)).ok).toBe(false)
  })

  it('change nothing of what was typed, save how accents are written', () => {
    const spaced = read('  two  spaces ')
    expect(spaced.ok && spaced.values.newPassword).toBe('  two  spaces ')
    const decomposed = read('cafe\u0301 cafe\u0301')
    expect(decomposed.ok && decomposed.values.newPassword).toBe('caf\u00e9 caf\u00e9')
    expect(read('tab\tinside it').ok).toBe(false)
    expect(read('').ok).toBe(false)
  })
})

describe('SEC-003 the most common passwords', () => {
  it('are refused with a reason, in any capitals', () => {
    expect(commonCount()).toBeGreaterThanOrEqual(3000)
    // at the top of every published list
    for (const one of [
      'password',
      '12345678',
      '123456789',
      'Password1',
      'QWERTYUIOP',
      'iloveyou',
      'sunshine',
      'football',
    ]) {
      expect(passwordProblem(one), one).toMatch(/^This is one of the most common passwords, .* Choose another/)
    }
    expect(passwordProblem('zzzzzzzzzzzz')).toMatch(/^This is one of the most common/)
    expect(isCommon('zebra lantern fig')).toBe(false)
  })

  it('and the own names as well', () => {
    expect(passwordProblem('Rosalind.Pike', ['rosalind.pike', 'Larkrise Lane Kitchen'])).toMatch(/guessed at once/)
    expect(passwordProblem('larkrise lane kitchen', ['rosalind.pike', 'Larkrise Lane Kitchen'])).toMatch(/guessed/)
  })
})

describe('the set-up code', () => {
  it('has 100 bits in groups that are easy to type', () => {
    const codes = Array.from({ length: 500 }, newSetUpCode)
    for (const code of codes) expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{4}-){4}[0-9A-HJKMNP-TV-Z]{4}$/)
    expect(new Set(codes).size).toBe(500)
    // each of the 32 characters comes up among 10,000
    expect(new Set(codes.join('').replaceAll('-', '')).size).toBe(32)
  })

  it('is the same whatever the capitals, spaces and dashes, and with O for 0, I or L for 1', () => {
    const hash = hashOfSetUpCode('7K0M-W1XA-22AB-CDEF-GHJK')
    for (const typed of [
      '7k0mw1xa22abcdefghjk',
      ' 7K0M W1XA 22AB CDEF GHJK ',
      '7KOM-WIXA-22AB-CDEF-GHJK',
      '7koM-wlXA-22ab-cdef-ghjk',
    ]) {
      expect(hashOfSetUpCode(typed), typed).toBe(hash)
    }
    expect(hashOfSetUpCode('7K0M-W1XA-22AB-CDEF-GHJM')).not.toBe(hash)
  })
})

describe('an address that is slowed', () => {
  it('is one of IPv4, or the network of 64 bits of one household', () => {
    expect(network('192.0.2.7')).toBe('192.0.2.7')
    expect(network('::ffff:192.0.2.7')).toBe('192.0.2.7')
    expect(network('2001:db8:1:2:3:4:5:6')).toBe('2001:db8:1:2::/64')
    expect(network('2001:db8:1:2::9')).toBe('2001:db8:1:2::/64')
    expect(network('2001:DB8:1::9')).toBe('2001:db8:1:0::/64')
    expect(network('::1')).toBe('0:0:0:0::/64')
    expect(network('fe80::1%eth0')).toBe('fe80:0:0:0::/64')
  })
})
