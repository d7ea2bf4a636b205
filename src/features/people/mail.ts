import type { FastifyBaseLogger } from 'fastify'
import { createTransport } from 'nodemailer'
import type { Settings } from '../../settings.ts'
import { loggedError } from '../../web/log.ts'

/** One message of plain text. Only its words and its one recipient can be chosen. */
export type Message = { to: string; subject: string; text: string }
export type Mailer = {
  /** Hands a message to the mail server; throws when that does not take it. */
  send(message: Message): Promise<void>
  close(): void
}

/** How long the mail server may take to be reached and to answer, in milliseconds. */
const PATIENCE_MS = 15_000

/** Sends through the server of the setting and to no other; null where there is none. */
export function makeMailer(settings: Pick<Settings, 'mail'>): Mailer | null {
  const { mail } = settings
  if (mail === null) return null
  const url = new URL(mail.server)
  const secure = url.protocol === 'smtps:'
  const transport = createTransport({
    host: url.hostname.replace(/^\[|\]$/g, ''),
    port: url.port === '' ? (secure ? 465 : 587) : Number(url.port),
    secure,
    ...(url.username === ''
      ? {}
      : {
          auth: { user: decodeURIComponent(url.username), pass: decodeURIComponent(url.password) },
          // no password in the clear, whatever the server says it can do
          requireTLS: true,
        }),
    connectionTimeout: PATIENCE_MS,
    greetingTimeout: PATIENCE_MS,
    socketTimeout: PATIENCE_MS,
    // a message is made of text alone: nothing is read from a file or fetched from anywhere
    disableFileAccess: true,
    disableUrlAccess: true,
  })
  return {
    async send({ to, subject, text }) {
      // as parts, so that no name or address is read as a list of several
      await transport.sendMail({
        from: { name: 'Glutworks', address: mail.from },
        to: { name: '', address: to },
        subject,
        text,
      })
    },
    close: () => transport.close(),
  }
}

/** Sends messages beside the answers to requests, so that nobody waits for a mail server. */
export type Post = {
  /** What came of it is told to `then`; a failure is logged without message and address. */
  send(message: Message, then: (state: 'sent' | 'failed') => Promise<void>): void
  /** When all that was begun has ended. */
  settled(): Promise<void>
}

export function makePost(mailer: Mailer, log: FastifyBaseLogger): Post {
  const underway = new Set<Promise<void>>()
  async function deliver(message: Message, then: (state: 'sent' | 'failed') => Promise<void>): Promise<void> {
    let state: 'sent' | 'failed' = 'sent'
    try {
      await mailer.send(message)
    } catch (error) {
      state = 'failed'
      log.warn({ code: codeOf(error) }, 'a mail was not taken by the mail server')
    }
    try {
      await then(state)
    } catch (error) {
      log.error({ error: loggedError(error) }, 'whether a mail was sent was not kept')
    }
  }
  return {
    send(message, then) {
      const sending = deliver(message, then).finally(() => underway.delete(sending))
      underway.add(sending)
    },
    async settled() {
      await Promise.all(underway)
    },
  }
}

/** The failure's short code: its message may quote addresses. */
function codeOf(error: unknown): string {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : 'unknown'
}
