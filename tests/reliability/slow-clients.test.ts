import { connect, type Socket } from 'node:net'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'

const halfOpen = 200
let service: RunningService
beforeAll(async () => {
  service = await startService({ DEMO: 'no', LOG_LEVEL: 'fatal' })
}, 120_000)
afterAll(() => service?.stop())

test(`SEC-073 ${halfOpen} visitors who never finish their request hold up nobody else`, async () => {
  const { hostname, port } = new URL(service.address)
  const sockets = await Promise.all(
    Array.from(
      { length: halfOpen },
      () =>
        new Promise<Socket>((resolve, reject) => {
          const socket = connect(Number(port), hostname, () => {
            socket.write(
              'POST /sign-in HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\n',
            )
            resolve(socket)
          })
          socket.once('error', reject)
        }),
    ),
  )
  // one that goes away must not end this test
  for (const socket of sockets) socket.on('error', () => socket.destroy())
  for (let asked = 0; asked < 20; asked++) expect((await fetch(`${service.address}/live`)).status).toBe(200)
  expect((await fetch(`${service.address}/sign-in`)).status).toBeLessThan(500)
  for (const socket of sockets) socket.destroy()
  expect((await fetch(`${service.address}/ready`)).status).toBe(200)
})

test('a stop does not wait for connections on which nothing was asked yet', async () => {
  const own = await startService({ DEMO: 'no', LOG_LEVEL: 'info' })
  const { hostname, port } = new URL(own.address)
  // as browsers do ahead of need, and one that never came to the end of what it asks
  const sockets = await Promise.all(
    ['', '', 'GET / HTTP/1.1\r\n'].map(
      (begun) =>
        new Promise<Socket>((resolve, reject) => {
          const socket = connect(Number(port), hostname, () => socket.write(begun, () => resolve(socket)))
          socket.once('error', reject)
        }),
    ),
  )
  const ended = sockets.map(
    (socket) => new Promise<void>((resolve) => socket.on('error', () => undefined).once('close', () => resolve())),
  )
  expect((await fetch(`${own.address}/live`)).status).toBe(200)
  await own.stop()
  await Promise.all(ended)
  expect(own.output()).not.toContain('stopping took too long')
}, 120_000)
