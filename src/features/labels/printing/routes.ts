import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { only } from '../../../web/answers.ts'
import { hostName } from '../../../web/asking.ts'
import { blankForm, refusedForm, type Typed, type TypedForm, typedBody } from '../../../web/forms.ts'
import { CharactersMissing, LabelsDoNotFit, labelSheet } from '../../../web/labels/index.ts'
import { mayLook } from '../../../web/roles.ts'
import { labelsPath, labelsPdfPath } from '../paths.ts'
import { sendPdf } from '../pdf.ts'
import { listSheets } from '../sheets/queries.ts'
import { listedIn, type Printing, readPrinting, tickedIds } from './forms.ts'
import { labelOf } from './label.ts'
import { printingPage } from './pages.ts'
import { findBatch, findJars, type JarsToLabel, listJars } from './queries.ts'
import { type SheetChoice, sheetChoices } from './sheet-choices.ts'
import { charactersProblem, misfitProblem } from './words.ts'

export const printingRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()

  /** The page, for a form as it was typed in the address: a fresh one, one to draw another sheet, or one that was refused. */
  const show = async (
    request: FastifyRequest,
    reply: FastifyReply,
    form: TypedForm,
    found: { ticked: readonly JarsToLabel[]; choices: readonly SheetChoice[] },
    status = 200,
  ) => {
    const { asking } = request
    const wanted = listedIn(form.typed)
    const batch = wanted.batch === '' ? null : await findBatch(app.prisma, asking, wanted.batch)
    const searching = batch === null || wanted.q !== ''
    const offered = await listJars(app.prisma, asking, searching ? { q: wanted.q } : { batchId: batch.id })
    const others = found.ticked.filter(({ id }) => !offered.some((one) => one.id === id))
    const facts = {
      listed: wanted,
      batch: searching ? null : batch,
      jars: [...others, ...offered],
      choices: found.choices,
      origin: originOf(request),
      here: isOnlyHere(request),
    }
    return reply.page('labels/print', printingPage(facts, form, asking.coop), { status })
  }

  const foundFor = async ({ asking }: FastifyRequest, typed: Typed) => ({
    ticked: await findJars(app.prisma, asking, tickedIds(typed)),
    choices: sheetChoices(await listSheets(app.prisma, asking)),
  })

  app.get(labelsPath(), { ...only(mayLook), schema: { querystring: typedBody } }, async (request, reply) =>
    show(request, reply, blankForm(request.query), await foundFor(request, request.query)),
  )

  // by its address, so that a phone can open it, print it and come back to it
  app.get(
    labelsPdfPath(),
    { ...only(mayLook, { heavy: true }), schema: { querystring: typedBody } },
    async (request, reply) => {
      const found = await foundFor(request, request.query)
      const form = readPrinting(request.query, found.ticked, found.choices)
      if (!form.ok) return show(request, reply, form, found, 422)
      try {
        return sendPdf(reply, await printed(request, form.values), fileName(form.values))
      } catch (error) {
        const problems = problemsOf(error, form.values)
        if (problems === null) throw error
        return show(request, reply, refusedForm(form, problems), found, 422)
      }
    },
  )

  const printed = async (request: FastifyRequest, { lines, sheet, startAt, outlines }: Printing): Promise<Buffer> => {
    const { units } = request.asking.coop
    const labels = lines.flatMap(({ jars, units: many }) => {
      const label = labelOf(jars, units, originOf(request))
      return Array.from({ length: many }, () => label)
    })
    const title = `Labels: ${codesOf(lines).join(', ')}`
    const { geometry, offset } = sheet
    return labelSheet(geometry, labels, { title, lang: 'en', created: app.clock.now(), startAt, offset, outlines })
  }
}

/** The host name that was checked (asking.ts), not what a proxy may pass on from anybody. */
function originOf({ protocol, headers }: FastifyRequest): string {
  return `${protocol}://${headers.host}`
}

/** Under these names every machine finds itself, and a phone finds nothing. */
function isOnlyHere({ headers }: FastifyRequest): boolean {
  return ['localhost', '127.0.0.1', '[::1]'].includes(hostName(headers.host) ?? '')
}

/** What is wrong with labels that cannot be made, in words by field; null: another failure. */
function problemsOf(error: unknown, { lines }: Printing): Record<string, string> | null {
  const jarsOf = lines.flatMap(({ jars, units }) => Array.from({ length: units }, () => jars))
  if (error instanceof CharactersMissing) return charactersProblem(error.labels, jarsOf)
  return error instanceof LabelsDoNotFit ? misfitProblem(error.misfits, jarsOf) : null
}

/** "labels-7KQ4M", "labels-7KQ4M-and-2-more" */
function fileName({ lines }: Printing): string {
  const codes = codesOf(lines)
  return `labels-${codes[0] ?? ''}${codes.length > 1 ? `-and-${codes.length - 1}-more` : ''}`
}

function codesOf(lines: Printing['lines']): string[] {
  return [...new Set(lines.map(({ jars }) => jars.code))]
}
