import { validate } from '@apidevtools/swagger-parser'
import { describe, expect, it } from 'vitest'
import { testApp } from '../../support/app.ts'
import { htmlOf, textAt } from '../../support/html.ts'
import { crates } from './routes.ts'

describe('health', () => {
  it('is alive and ready, under any host name and for any address', async () => {
    const kitchen = await testApp()
    for (const url of ['/live', '/ready']) {
      const answer = await kitchen.app.inject({ url, headers: { host: '10.1.2.3' }, remoteAddress: '10.9.9.9' })
      expect(answer.statusCode).toBe(200)
      expect(Object.keys(answer.json())).toHaveLength(1)
    }
    await kitchen.close()
  })

  it('is not ready while it starts and stops, but alive', async () => {
    const kitchen = await testApp()
    for (const phase of ['starting', 'closing'] as const) {
      kitchen.state.phase = phase
      const answer = await kitchen.app.inject({ url: '/ready' })
      expect(answer.statusCode).toBe(503)
      expect(answer.json()).toEqual({ ready: false, because: phase })
      expect((await kitchen.app.inject({ url: '/live' })).statusCode).toBe(200)
    }
    await kitchen.close()
  })

  it('is ready without a co-op, so that one can be set up, and every page leads there', async () => {
    const kitchen = await testApp({ coop: false })
    expect((await kitchen.app.inject({ url: '/ready' })).json()).toEqual({ ready: true })
    let url = '/coop'
    for (const next of ['/sign-in?next=%2Fcoop', '/set-up']) {
      const led = await kitchen.app.inject({ url })
      expect(led.statusCode).toBe(303)
      expect(led.headers.location).toBe(next)
      url = next
    }
    expect(textAt(htmlOf((await kitchen.app.inject({ url })).payload), 'h1')).toBe('Set up a co-op')
    await kitchen.close()
  })

  it('is not ready when the database does not answer, and tells nothing of it', async () => {
    const good = await testApp()
    const database = {
      prisma: good.prisma,
      kind: 'embedded' as const,
      checkReady: async () => ({ ready: false as const, reason: 'no route to db.internal' }),
      close: async () => {},
      withMigrationConnection: async () => {
        throw new Error('nobody migrates here')
      },
    }
    const kitchen = await testApp({ database })
    const answer = await kitchen.app.inject({ url: '/ready' })
    expect(answer.statusCode).toBe(503)
    expect(answer.json()).toEqual({ ready: false, because: 'database' })
    await kitchen.close()
    await good.close()
  })
})

describe('the description of the calls', () => {
  it('is valid, and has the calls below /api and nothing else', async () => {
    const kitchen = await testApp({ more: crates() })
    const answer = await kitchen.app.inject({ url: '/openapi.json' })
    expect(answer.statusCode).toBe(200)
    const description = answer.json()
    expect(description.openapi).toBe('3.1.0')
    expect(Object.keys(description.paths)).toContain('/api/crates')
    expect(Object.keys(description.paths).filter((path) => !path.startsWith('/api/'))).toEqual([])
    for (const path of Object.values<object>(description.paths)) {
      for (const call of Object.values(path)) expect(Object.keys(call.responses)).toContain('default')
    }
    await validate(structuredClone(description))
    await kitchen.close()
  })
})
