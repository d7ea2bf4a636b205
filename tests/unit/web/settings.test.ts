import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readSettings, SettingsError, settingNotes } from '../../../src/settings.ts'

describe('settings', () => {
  it('have defaults that suit a first try on one’s own machine', () => {
    const settings = readSettings({})
    expect(settings).toMatchObject({
      port: 8080,
      host: '127.0.0.1',
      dataDir: './data',
      databaseUrl: null,
      secret: null,
      logLevel: 'info',
      trustProxy: false,
      requestsPerMinute: 600,
      solveSeconds: 10,
      solverThreads: 1,
      demo: true,
    })
    expect([...settings.allowedHosts]).toEqual(['localhost', '127.0.0.1', '[::1]'])
    expect(settings.stewardNetworks.check('127.0.0.1', 'ipv4')).toBe(true)
    expect(settings.stewardNetworks.check('192.168.1.1', 'ipv4')).toBe(false)
  })

  it('take an empty value for none, and leave other programs’ variables alone', () => {
    expect(readSettings({ PORT: ' ', DATABASE_URL: '', PATH: '/bin', EDITOR: 'x' })).toEqual(readSettings({}))
  })

  it('are read', () => {
    const settings = readSettings({
      PORT: '0',
      STEWARD_NETWORKS: '192.168.1.0/24, fd00::/8',
      ALLOWED_HOSTS: 'Kitchen.lan, [::1]',
      DEMO: 'no',
    })
    expect(settings.port).toBe(0)
    expect(settings.demo).toBe(false)
    expect([...settings.allowedHosts]).toEqual(['kitchen.lan', '[::1]'])
    expect(settings.stewardNetworks.check('192.168.1.77', 'ipv4')).toBe(true)
    expect(settings.stewardNetworks.check('fd12::1', 'ipv6')).toBe(true)
    expect(settings.stewardNetworks.check('127.0.0.1', 'ipv4')).toBe(false)
  })

  it.each([
    ['PORT', '80a'],
    ['PORT', '65536'],
    ['PORT', '-1'],
    ['HOST', 'a b'],
    ['DATABASE_URL', 'mysql://canary@host/x'],
    ['SECRET', 'canary-too-short'],
    ['LOG_LEVEL', 'loud'],
    ['STEWARD_NETWORKS', '10.9.8.7'],
    ['STEWARD_NETWORKS', '10.9.8.0/33'],
    ['STEWARD_NETWORKS', 'everyone'],
    ['ALLOWED_HOSTS', 'http://kitchen.lan'],
    ['ALLOWED_HOSTS', 'kitchen.lan:8080'],
    ['ALLOWED_HOSTS', '*'],
    ['TRUST_PROXY', 'true'],
    ['SOLVE_SECONDS', '0'],
    ['SOLVER_THREADS', '1.5'],
    ['DEMO', '1'],
  ])('refuse %s=%s, naming the setting and not its value', (name, value) => {
    const error = failureOf({ [name]: value })
    expect(error).toBeInstanceOf(SettingsError)
    expect(error?.message).toContain(`${name}: `)
    if (value.length > 4) expect(error?.message.replaceAll(name, '')).not.toContain(value)
  })

  it('name every one that is wrong at once, and one that is ours by its look but unknown', () => {
    const message = failureOf({ PORT: 'x', DEMO: 'x', GLUTWORKS_PROT: '1' })?.message
    expect(message).toContain('PORT: ')
    expect(message).toContain('DEMO: ')
    expect(message).toContain('GLUTWORKS_PROT: there is no such setting')
  })

  it('have examples that are taken, and defaults that are the defaults', () => {
    for (const { name, example, default: byDefault } of settingNotes) {
      if (name !== 'SECRET') expect(() => readSettings({ [name]: example }), name).not.toThrow()
      if (!/none|made once/.test(byDefault)) {
        expect(JSON.stringify(readSettings({ [name]: byDefault })), name).toBe(JSON.stringify(readSettings({})))
      }
    }
  })

  it('are each in the README, with default and example', () => {
    const readme = new URL('../../../README.md', import.meta.url)
    expect(existsSync(readme), 'README.md').toBe(true)
    const rows = readFileSync(readme, 'utf8')
      .split('\n')
      .filter((line) => line.startsWith('|'))
    for (const { name, default: byDefault } of settingNotes) {
      const row = rows.find((line) => line.includes(`\`${name}\``))?.replaceAll('`', '')
      expect(row, `${name} in the README`).toBeDefined()
      expect(row, `default of ${name} in the README`).toContain(byDefault)
    }
  })
})

function failureOf(environment: Record<string, string>): Error | undefined {
  try {
    readSettings(environment)
  } catch (error) {
    if (error instanceof Error) return error
  }
  return undefined
}
