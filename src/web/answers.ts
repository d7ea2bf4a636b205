import type { FastifyReply } from 'fastify'
import { z } from 'zod'
import type { TransactionClient } from '../db/transaction.ts'
import { conflict, Failure, refused } from '../errors.ts'
import { type ReadForm, refusedForm, type TypedForm } from './forms.ts'
import type { May } from './roles.ts'

/**
 * Answers a sent form: shows it again with 422 when it could not be read or what it asks was refused, with 409 when
 * somebody was quicker, and otherwise leads on to the path that `act` gives. `act` runs in one transaction, once for
 * each form (see `reply.once`).
 */
export async function answerForm<V>(
  reply: FastifyReply,
  form: ReadForm<V>,
  does: {
    show(form: TypedForm, status: number): FastifyReply | Promise<FastifyReply>
    act(transaction: TransactionClient, values: V): Promise<string>
  },
): Promise<FastifyReply> {
  if (!form.ok) return does.show(form, 422)
  try {
    return await reply.once((transaction) => does.act(transaction, form.values))
  } catch (error) {
    if (!(error instanceof Failure) || error.onward !== undefined) throw error
    if (error.meaning === 'conflict') return does.show(refusedForm(form, { '': error.message }), 409)
    if (error.meaning !== 'refused') throw error
    const named = Object.keys(error.fields).length > 0
    return does.show(refusedForm(form, named ? { ...error.fields } : { '': error.message }), 422)
  }
}

/** Fields that a page of ours fills in, not a person. Refused as a whole where they do not fit: no page sent them. */
export function hiddenIn<T>(schema: z.ZodType<T>, fields: unknown): T {
  const read = schema.safeParse(fields)
  if (read.success) return read.data
  throw new Failure('bad-request', 'The form is not complete. Open the page again and send it from there.')
}

/** For a save that read an older version. */
export function changedMeanwhile(what: string): Failure {
  return conflict(
    `Somebody changed ${what} after you had opened it. What you typed is still here: look at the newest state, and save again if yours should stand.`,
  )
}

/** Throws a refusal when there are any problems, in words by field. */
export function refuseProblems(problems: Readonly<Record<string, string>>): void {
  const words = Object.values(problems)
  if (words.length > 0) throw refused(words.join(' '), problems)
}

type Costs = { heavy?: boolean; bulk?: boolean }

/**
 * For the options of a route that only some may use.
 *
 * @param more `heavy`: it costs much, and fewer of them are answered in a minute (web/limits); `bulk`: it saves thousands
 *   of rows at once (web/submissions)
 */
export function only(may: May, more: Costs = {}): { config: { may: May } & Costs } {
  return { config: { may, ...more } }
}

/** The version that a form was filled in from; a form that lost it counts as older than all. */
export function versionOf(form: TypedForm): number {
  const typed = form.typed['version']
  return typeof typed === 'string' && /^\d{1,9}$/.test(typed) ? Number(typed) : 0
}

/** The version in a call's body. */
export const versionNumber = z
  .int()
  .min(1)
  .max(2_000_000_000)
  .describe('The version that was read; an older one is refused with 409.')

/** Any text of a call: trimmed, without control characters, as the forms read it. */
export function callText(most: number, least = 1) {
  return z
    .string()
    .max(most)
    .regex(/^[^\p{Cc}]*$/u)
    .transform((text) => text.normalize('NFC').trim())
    .pipe(z.string().min(least))
}

/** The answer of a call that removed something: status 204 has no body. */
export const nothing = z.object({}).describe('Nothing')
