import { describe, expect, it } from 'vitest'
import { safeNext, signInPath } from '../../../src/web/door.ts'
import { deviceInWords } from '../../../src/web/sessions/index.ts'

describe('SEC-024 where people are led after signing in', () => {
  it.each(['/', '/lots', '/lots?all=1&sort=name', '/plans/abc/sheet#a', '/files?name=50%25', '/search?q=%2F%2Fhost'])(
    'is a path of this service: %s',
    (path) => {
      expect(safeNext(path)).toBe(path)
    },
  )

  it.each([
    '//elsewhere.example',
    '///elsewhere.example',
    '/\\elsewhere.example',
    '\\\\elsewhere.example',
    '\\/elsewhere.example',
    'https://elsewhere.example',
    'https:elsewhere.example',
    'HTTPS://elsewhere.example',
    'javascript:alert(1)',
    'data:text/html,x',
    'elsewhere.example',
    '',
    ' /lots',
    '/%2felsewhere.example',
    '/%2F%2Felsewhere.example',
    '/%5celsewhere.example',
    '/%252felsewhere.example',
    '%2f%2felsewhere.example',
    '%68ttps://elsewhere.example',
    '/\t/elsewhere.example',
    '/%09/elsewhere.example',
    '/\n/elsewhere.example',
    '/lots\r\nset-cookie: a=b',
    '/lots%0d%0aset-cookie:a=b',
    '/%E0%A4%A',
    '/ü',
    `/${'x'.repeat(3000)}`,
    '/sign-in',
    '/sign-in?next=/lots',
    '/sign-out',
    undefined,
    null,
    7,
    ['/lots', '/lots'],
    { toString: () => '/lots' },
  ])('is never %s', (given) => {
    expect(safeNext(given)).toBe('/')
  })

  it('agrees with what a browser makes of an address', () => {
    // the same as the browser's own reading of a Location: WHATWG URL, as Node implements it
    const base = 'https://kitchen.example'
    const tricks = ['//a', '/\\a', '\\\\a', '/%2fa', '/\t/a', 'https:a', '/.//a', '/a/..//b', '/..//b', '/lots?x=//a']
    for (const trick of tricks) expect(new URL(safeNext(trick), base).origin, trick).toBe(base)
  })

  it('is remembered in the address of the door', () => {
    expect(signInPath('/lots?all=1')).toBe('/sign-in?next=%2Flots%3Fall%3D1')
    expect(signInPath('/')).toBe('/sign-in')
  })
})

// User-Agent headers as these browsers send them (from memory)
describe('a device in words', () => {
  it.each([
    ['Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0', 'Firefox on Linux'],
    ['Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0', 'Firefox on Android'],
    [
      'Mozilla/5.0 (Linux; Android 10; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/138.0.0.0 Mobile Safari/537.36',
      'Chrome on Android',
    ],
    [
      'Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/138.0.0.0 Safari/537.36 Edg/138.0.0.0',
      'Edge on Windows',
    ],
    [
      'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Mobile/15E148 Safari/604.1',
      'Safari on an iPhone',
    ],
    [
      'Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.5 Safari/605.1.15',
      'Safari on a Mac',
    ],
    ['<script>alert(1)</script>', 'an unknown browser'],
    [undefined, 'an unknown browser'],
    [`Mozilla/5.0 ${'x'.repeat(100_000)} Firefox/140.0`, 'an unknown browser'],
  ])('%s', (agent, words) => {
    expect(deviceInWords(agent)).toBe(words)
  })
})
