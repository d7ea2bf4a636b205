import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { inTransaction, type TransactionClient } from '../../../db/transaction.ts'
import { Failure } from '../../../errors.ts'
import { noteEvent } from '../../../web/events.ts'
import { blankForm, type ReadForm, readForm, refusedForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { aloneIn } from '../../../web/lengths.ts'
import { hasCoop } from '../../../web/queries.ts'
import { beginSessionHere, giveToken } from '../../../web/sessions/index.ts'
import { countTry, doorKey, takeTryBack, waitInWords } from '../../../web/tries.ts'
import { hashPassword } from '../passwords.ts'
import { doorPath, setUpPath } from '../paths.ts'
import { createAccount, type Entrant } from '../queries.ts'
import { network } from '../signing-in.ts'
import { foundingForm, letInForm, passwordProblems, typedCode } from './forms.ts'
import { foundingBlank, foundingPage, letInPage } from './page.ts'
import { findLocked, found, hasUsableCode, isUsableCode, type Locked, useCode, wrongCode } from './queries.ts'

type Account = { signInName: string; mail: string | null; newPassword: string; setUpCode: string }

const closedWords =
  'Nothing can be set up here now: a code works once. Sign in, or ask whoever hosts the service for another code.'

/** The founding of a co-op by a one-time code. Not there while no code holds, whatever is sent. */
export const setUpRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const open = { config: { open: true } }

  const refuseClosed = async (): Promise<void> => {
    if (await hasUsableCode(app.prisma, app.clock.now())) return
    if (!(await hasCoop(app.prisma))) return
    throw new Failure('not-found', closedWords, { onward: { href: doorPath(), text: 'Sign in' } })
  }

  const show = (reply: FastifyReply, form: TypedForm, locked: Locked | null, status = 200) =>
    locked === null
      ? reply.page('accounts/set-up', foundingPage(form, aloneIn(form.typed, 'metric')), { status })
      : reply.page('accounts/let-in', letInPage(form, locked.coopName), { status })

  app.get(setUpPath(), open, async (_request, reply) => {
    await refuseClosed()
    const locked = await findLocked(app.prisma)
    return show(reply, blankForm(locked === null ? foundingBlank : {}), locked)
  })

  app.post(setUpPath(), { ...open, schema: { body: typedBody } }, async (request, reply) => {
    await refuseClosed()
    const locked = await findLocked(app.prisma)
    const { body } = request
    const asksToWait = await tryCode(request, typedCode({ typed: body, errors: {} }))
    if (asksToWait !== null) {
      reply.header('retry-after', asksToWait.seconds)
      return show(reply, { typed: body, errors: { setUpCode: asksToWait.words } }, locked, 429)
    }
    if (locked !== null) {
      const form = readForm(letInForm, body)
      return enter(request, reply, form, {
        show: (refused, status) => show(reply, refused, locked, status),
        coopName: () => locked.coopName,
        write: async () => locked,
        what: ({ name }) => `${name} was let in by the set-up code`,
      })
    }
    const form = readForm(foundingForm(aloneIn(body, 'metric')), body)
    return enter(request, reply, form, {
      show: (refused, status) => show(reply, refused, null, status),
      coopName: ({ name }) => name,
      write: async (transaction, values) => {
        const { setUpCode: _code, signInName: _name, mail: _mail, newPassword: _password, ...founding } = values
        return found(transaction, founding, app.newId)
      },
      what: ({ name }) => `set up by ${name}`,
    })
  })

  /** Counts a wrong code against the address it came from; null: go on, right or wrong. */
  async function tryCode(request: FastifyRequest, code: string): Promise<{ seconds: number; words: string } | null> {
    if (code === '') return null
    const now = app.clock.now()
    const key = doorKey('set-up', network(request.ip))
    const seconds = await countTry(app.prisma, key, now)
    if (seconds > 0) {
      return { seconds, words: `There were too many wrong codes. Wait ${waitInWords(seconds)}, then try again` }
    }
    if (await isUsableCode(app.prisma, code, now)) await takeTryBack(app.prisma, key)
    return null
  }

  async function enter<V extends Account>(
    request: FastifyRequest,
    reply: FastifyReply,
    form: ReadForm<V>,
    does: {
      show(form: TypedForm, status: number): FastifyReply
      coopName(values: V): string
      write(transaction: TransactionClient, values: V): Promise<Entrant>
      what(entrant: Entrant): string
    },
  ): Promise<FastifyReply> {
    const now = app.clock.now()
    const code = typedCode(form)
    const codeProblem = code !== '' && !(await isUsableCode(app.prisma, code, now)) ? { setUpCode: wrongCode } : {}
    if (!form.ok) return does.show(refusedForm(form, codeProblem), 422)
    const { values } = form
    const problems = { ...codeProblem, ...passwordProblems(values, does.coopName(values)) }
    if (Object.keys(problems).length > 0) return does.show(refusedForm(form, problems), 422)
    const passwordHash = await hashPassword(values.newPassword)
    try {
      const token = await inTransaction(app.prisma, async (transaction) => {
        await useCode(transaction, values.setUpCode, now)
        const entrant = await does.write(transaction, values)
        const { coopId, memberId } = entrant
        const { signInName, mail } = values
        await createAccount(transaction, { coopId, memberId, signInName, mail, passwordHash }, now)
        const event = { kind: 'set-up', coopId, memberId, who: entrant.name, what: does.what(entrant) } as const
        await noteEvent(transaction, event, { now, newId: app.newId })
        return beginSessionHere(request, transaction, entrant)
      })
      giveToken(reply, token)
      return reply.redirect('/', 303)
    } catch (error) {
      if (!(error instanceof Failure) || error.meaning !== 'refused') throw error
      return does.show(refusedForm(form, { ...error.fields }), 422)
    }
  }
}
