import type { FastifyPluginAsync, FastifyReply, FastifyRequest } from 'fastify'
import type { ZodTypeProvider } from 'fastify-type-provider-zod'
import { answerForm, only, versionOf } from '../../../web/answers.ts'
import { blankForm, readForm, type TypedForm, typedBody } from '../../../web/forms.ts'
import { lastChange, writingOf } from '../../changes/index.ts'
import { mayKeepShareRule } from '../access.ts'
import { sharePeoplePath, shareRulePath, sharesPath } from '../paths.ts'
import { peopleTyped, readPeopleForm, ruleForm, ruleTyped } from './forms.ts'
import { rulePage } from './pages.ts'
import { findRule, listSharing, savePeople, saveRule } from './queries.ts'

export const shareRuleRoutes: FastifyPluginAsync = async (plain) => {
  const app = plain.withTypeProvider<ZodTypeProvider>()
  const keep = only(mayKeepShareRule)
  const send = { ...keep, schema: { body: typedBody } }

  /** The page with either of its two forms as it was sent, or both as they stand. */
  const show = async (
    request: FastifyRequest,
    reply: FastifyReply,
    sent: { rule?: TypedForm; people?: TypedForm } = {},
    status = 200,
  ): Promise<FastifyReply> => {
    const { asking } = request
    const rule = await findRule(app.prisma, asking)
    const households = await listSharing(app.prisma, asking)
    const given = {
      households,
      rule: sent.rule ?? blankForm(ruleTyped(rule)),
      people: sent.people ?? blankForm(peopleTyped(households)),
      version: sent.rule !== undefined && status === 422 ? versionOf(sent.rule) : rule.version,
      agreed: rule.version > 0,
    }
    const page = { ...rulePage(given, asking.coop), ...(await lastChange(request, 'shares', 'rule')) }
    return reply.page('shares/rule', page, { status })
  }

  app.get(shareRulePath(), keep, async (request, reply) => show(request, reply))

  app.post(shareRulePath(), send, async (request, reply) => {
    const form = readForm(ruleForm, request.body)
    return answerForm(reply, form, {
      show: (rule, status) => show(request, reply, { rule }, status),
      act: async (transaction, values) => {
        await saveRule(writingOf(request, transaction), versionOf(form), values)
        return sharesPath()
      },
    })
  })

  app.post(sharePeoplePath(), send, async (request, reply) => {
    const households = await listSharing(app.prisma, request.asking)
    return answerForm(reply, readPeopleForm(request.body, households), {
      show: (people, status) => show(request, reply, { people }, status),
      act: async (transaction, counts) => {
        await savePeople(writingOf(request, transaction), counts)
        return shareRulePath()
      },
    })
  })
}
