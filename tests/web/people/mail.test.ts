import type { AddressInfo } from 'node:net'
import { createServer, type Server, type Socket } from 'node:net'
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest'
import { cookiesOf, type TestApp, testApp } from '../../support/app.ts'
import { expectSoundPage, htmlOf, problemsIn, textAt } from '../../support/html.ts'

/** What one client of the mail server said (RFC 5321): the envelope, and the message as it came. */
type Mail = { from: string; to: string[]; data: string }

/** As little of a mail server as takes a message, on 127.0.0.1. */
class MailServer {
  readonly mails: Mail[] = []
  refuses = false
  #server: Server
  #sockets = new Set<Socket>()

  constructor() {
    this.#server = createServer((socket) => this.#talk(socket))
  }

  async listen(): Promise<number> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve))
    return (this.#server.address() as AddressInfo).port
  }

  async close(): Promise<void> {
    for (const socket of this.#sockets) socket.destroy()
    await new Promise((resolve) => this.#server.close(resolve))
  }

  #talk(socket: Socket): void {
    this.#sockets.add(socket)
    let text = ''
    let mail: Mail = { from: '', to: [], data: '' }
    let inData = false
    socket.write('220 kitchen.test\r\n')
    socket.on('error', () => socket.destroy())
    socket.on('data', (chunk) => {
      text += chunk.toString('utf8')
      for (;;) {
        const end = inData ? text.indexOf('\r\n.\r\n') : text.indexOf('\r\n')
        if (end < 0) return
        const line = text.slice(0, end)
        text = text.slice(end + (inData ? 5 : 2))
        if (inData) {
          inData = false
          this.mails.push({ ...mail, data: line })
          mail = { from: '', to: [], data: '' }
          socket.write('250 taken\r\n')
        } else if (/^(EHLO|HELO) /i.test(line)) socket.write('250 kitchen.test\r\n')
        else if (/^MAIL FROM:/i.test(line)) {
          mail.from = line.slice(10)
          socket.write('250 ok\r\n')
        } else if (/^RCPT TO:/i.test(line)) {
          mail.to.push(line.slice(8))
          socket.write(this.refuses ? '550 no such box\r\n' : '250 ok\r\n')
        } else if (/^DATA/i.test(line)) {
          inData = true
          socket.write('354 go on\r\n')
        } else if (/^QUIT/i.test(line)) socket.end('221 bye\r\n')
        else socket.write('250 ok\r\n')
      }
    })
  }
}

let server: MailServer
let app: TestApp
const log: string[] = []

beforeAll(async () => {
  server = new MailServer()
  const port = await server.listen()
  app = await testApp({
    environment: {
      SMTP_URL: `smtp://127.0.0.1:${port}`,
      MAIL_FROM: 'kitchen@larkrise.example',
      PUBLIC_ADDRESS: 'https://kitchen.example',
    },
    logLine: (line) => log.push(line),
  })
  await app.prisma.member.create({
    data: { coopId: app.coopId, id: 'bert', householdId: app.householdId, name: 'Bert Pike', role: 'member' },
  })
})
afterAll(async () => {
  await app?.close()
  await server?.close()
})
beforeEach(async () => {
  server.mails.length = 0
  server.refuses = false
  log.length = 0
  await app.prisma.invitation.deleteMany()
})

const wish = { forName: 'Ines Ödell', household: 'pike', newHousehold: '', role: 'planner', days: '7' }

async function until<T>(look: () => Promise<T | null | undefined | false> | T | null | undefined | false): Promise<T> {
  for (let n = 0; n < 400; n++) {
    const found = await look()
    if (found) return found
    await new Promise((resolve) => setTimeout(resolve, 25))
  }
  throw new Error('it did not come within 10 seconds')
}

const mailing = (state: string) => until(() => app.prisma.invitation.findFirst({ where: { mailing: state } }))

/** Head fields by name in small letters, and the text, of a message (RFC 5322, 2045). */
function read(data: string) {
  const cut = data.indexOf('\r\n\r\n')
  const head = data.slice(0, cut).replace(/\r\n[ \t]+/g, ' ')
  const fields = new Map(
    head.split('\r\n').map((line) => [line.split(':')[0]?.toLowerCase() ?? '', line.slice(line.indexOf(':') + 2)]),
  )
  const body = data.slice(cut + 4)
  const coding = fields.get('content-transfer-encoding')
  const text =
    coding === 'quoted-printable'
      ? Buffer.from(
          body
            .replace(/=\r\n/g, '')
            .replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))),
          'latin1',
        ).toString('utf8')
      : coding === 'base64'
        ? Buffer.from(body, 'base64').toString('utf8')
        : body
  return { fields, text }
}

test('an invitation is sent too: text alone, to one address, with the link that is shown', async () => {
  const answer = await app.postForm('/people/invitations', { ...wish, mail: 'Ines@Kitchen.Example' })
  expect(answer.statusCode).toBe(303)
  const path = String(answer.headers.location)
  const shown = expectSoundPage((await app.app.inject({ url: path, headers: { cookie: cookiesOf(answer) } })).payload)
  const link = textAt(shown, 'main code')
  expect(link).toMatch(/^https:\/\/kitchen\.example\/join\/[\w-]{43}$/)
  await mailing('sent')
  expect(server.mails).toHaveLength(1)
  const [mail] = server.mails
  expect(mail?.from).toContain('<kitchen@larkrise.example>')
  expect(mail?.to).toEqual(['<ines@kitchen.example>'])
  const { fields, text } = read(mail?.data ?? '')
  expect(fields.get('subject')).toBe('Invitation to Larkrise Lane Kitchen')
  expect(fields.get('content-type')).toMatch(/^text\/plain/)
  expect(text).toContain('Rosalind Pike invites Ines Ödell to Larkrise Lane Kitchen, as planner in household Pike.')
  expect(text).toContain(`\r\n${link}\r\n`)
  expect((await app.getPage(path))('main').text()).toContain('The mail server took it.')
  // the address is kept nowhere
  const kept = await Promise.all([
    app.prisma.invitation.findMany(),
    app.prisma.submission.findMany(),
    app.prisma.securityEvent.findMany(),
  ])
  expect(JSON.stringify([kept, log]).toLowerCase()).not.toContain('ines@kitchen')
})

test('a link for a new password is sent too', async () => {
  await app.prisma.account.create({
    data: { coopId: app.coopId, memberId: 'bert', signInName: 'bert', createdAt: new Date(), handle: 'h' },
  })
  await app.postTaken('/people/bert/reset', { mail: 'bert@kitchen.example' })
  await mailing('sent')
  const { fields, text } = read(server.mails[0]?.data ?? '')
  expect(fields.get('subject')).toBe('A new password for Larkrise Lane Kitchen')
  expect(text).toMatch(/https:\/\/kitchen\.example\/reset\/[\w-]{43}/)
  expect(text).toContain('Until it is used, the old password stays')
})

test('SEC-042 what people typed writes no head fields', async () => {
  const forName = 'Eve <x@y.example>, "Q" =?utf-8?b?eA==?= {{7*7}} <b>'
  await app.postTaken('/people/invitations', { ...wish, forName, mail: 'eve@kitchen.example' })
  await mailing('sent')
  expect(server.mails[0]?.to).toEqual(['<eve@kitchen.example>'])
  expect(read(server.mails[0]?.data ?? '').text).toContain(forName)
  for (const mail of [
    'a@b.example, c@d.example',
    'a@b.example\r\nBcc: c@d.example',
    '<a@b.example>',
    'a b@c.example',
  ]) {
    expect(problemsIn(await app.postRefused('/people/invitations', { ...wish, mail })), mail).toHaveLength(1)
  }
  expect(server.mails).toHaveLength(1)
})

test('without an address nothing is sent, and a form sent twice sends one', async () => {
  await app.postTaken('/people/invitations', { ...wish, mail: '' })
  expect((await app.prisma.invitation.findFirstOrThrow()).mailing).toBeNull()
  const page = await app.app.inject({ url: '/people/invitations' })
  const fields = Object.fromEntries(
    htmlOf(page.payload)('main form')
      .serializeArray()
      .map(({ name, value }) => [name, value]),
  )
  const send = () =>
    app.app.inject({
      method: 'POST',
      url: '/people/invitations',
      headers: { 'content-type': 'application/x-www-form-urlencoded', cookie: cookiesOf(page) },
      payload: new URLSearchParams({ ...fields, ...wish, mail: 'twice@kitchen.example' }).toString(),
    })
  const answers = [await send(), await send()]
  expect(answers.map(({ statusCode }) => statusCode)).toEqual([303, 303])
  await mailing('sent')
  await app.postTaken('/people/invitations', { ...wish, mail: 'last@kitchen.example' })
  await until(() => server.mails.some(({ to }) => to[0] === '<last@kitchen.example>'))
  expect(server.mails.map(({ to }) => to[0])).toEqual(['<twice@kitchen.example>', '<last@kitchen.example>'])
})

test('what the mail server does not take is told, and the link holds all the same', async () => {
  server.refuses = true
  const answer = await app.postForm('/people/invitations', { ...wish, mail: 'gone@kitchen.example' })
  await mailing('failed')
  const path = String(answer.headers.location)
  const shown = await app.app.inject({ url: path, headers: { cookie: cookiesOf(answer) } })
  expect(htmlOf(shown.payload)('main').text()).toContain('The mail server did not take it')
  const link = textAt(htmlOf(shown.payload), 'main code')
  expect((await app.app.inject({ url: new URL(link).pathname })).statusCode).toBe(200)
  expect(log.some((line) => line.includes('a mail was not taken by the mail server'))).toBe(true)
  expect(log.filter((line) => line.includes('gone@kitchen'))).toEqual([])
})

test('SEC-051 a demonstration, where anybody may enter, sends none', async () => {
  const change = (demonstration: boolean) =>
    app.prisma.coop.update({ where: { id: app.coopId }, data: { demonstration } })
  await change(true)
  try {
    expect((await app.getPage('/people/invitations'))('input[name=mail]').length).toBe(0)
    await app.postTaken('/people/invitations', { ...wish, mail: 'anybody@kitchen.example' })
    expect((await app.prisma.invitation.findFirstOrThrow()).mailing).toBeNull()
  } finally {
    await change(false)
  }
  await app.postTaken('/people/invitations', { ...wish, mail: 'somebody@kitchen.example' })
  await mailing('sent')
  expect(server.mails.map(({ to }) => to[0])).toEqual(['<somebody@kitchen.example>'])
})

test('SEC-051 where no mail server is set, nothing about mail is shown', async () => {
  const plain = await testApp()
  try {
    await plain.prisma.member.create({
      data: { coopId: plain.coopId, id: 'bert', householdId: plain.householdId, name: 'Bert Pike', role: 'member' },
    })
    for (const url of ['/people/invitations', '/people/bert/invitation', '/people/bert/reset']) {
      expect((await plain.getPage(url))('main').text(), url).not.toMatch(/mail/i)
    }
    await plain.postTaken('/people/invitations', { ...wish, mail: 'ines@kitchen.example' })
    expect((await plain.prisma.invitation.findFirstOrThrow()).mailing).toBeNull()
  } finally {
    await plain.close()
  }
})
