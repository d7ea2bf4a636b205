import { hashPassword } from '../../../src/features/accounts/passwords.ts'
import { randomSecret } from '../../../src/web/sessions/index.ts'
import { encodeFields, type Fields, type TestApp } from '../../support/app.ts'
import { formFields, htmlOf } from '../../support/html.ts'

/** A member with an account, whose password no file knows. */
export type Person = { coopId: string; memberId: string; signInName: string; password: string }

/** Gives a member an account with a password by chance. */
export async function giveAccount(
  on: TestApp,
  memberId: string,
  { signInName, mail = null }: { signInName: string; mail?: string | null },
): Promise<Person> {
  const { coopId } = await on.prisma.member.findFirstOrThrow({ where: { id: memberId } })
  const password = `four plain words ${randomSecret()}`
  const now = on.app.clock.now()
  await on.prisma.account.create({
    data: {
      coopId,
      memberId,
      signInName,
      mail,
      passwordHash: await hashPassword(password),
      passwordChangedAt: now,
      createdAt: now,
      handle: randomSecret(),
    },
  })
  return { coopId, memberId, signInName, password }
}

/** A browser: keeps its cookies, sends what pages have in their forms, follows nothing. */
export function browser(
  on: TestApp,
  { address = '127.0.0.1', agent = 'Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0' } = {},
) {
  const jar = new Map<string, string>()
  const cookie = () => [...jar].map(([name, value]) => `${name}=${encodeURIComponent(value)}`).join('; ')

  async function ask(options: {
    url: string
    method?: 'GET' | 'POST'
    payload?: string
    headers?: Record<string, string>
  }) {
    const answer = await on.app.inject({
      ...options,
      remoteAddress: address,
      headers: { accept: 'text/html', 'user-agent': agent, cookie: cookie(), ...options.headers },
    })
    for (const { name, value, maxAge, expires } of answer.cookies) {
      if (maxAge === 0 || value === '' || (expires !== undefined && expires.getTime() < 1000)) jar.delete(name)
      else jar.set(name, value)
    }
    return answer
  }

  return {
    jar,
    get: (url: string, headers: Record<string, string> = {}) => ask({ url, headers }),
    /** Sends the form that the page at `from` has for `path`, with these fields changed. */
    async send(path: string, fields: Fields, from = path) {
      const $ = htmlOf((await ask({ url: from })).payload)
      return ask({
        url: path,
        method: 'POST',
        headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin' },
        payload: encodeFields({ ...formFields($, `form[action="${path}"]`), ...fields }),
      })
    },
    post: (url: string, fields: Fields, headers: Record<string, string> = {}) =>
      ask({
        url,
        method: 'POST',
        headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin', ...headers },
        payload: encodeFields(fields),
      }),
  }
}

export type Browser = ReturnType<typeof browser>

export const signInWith = (
  with_: Browser,
  { signInName, password }: Pick<Person, 'signInName' | 'password'>,
  next = '',
) =>
  with_.send(
    '/sign-in',
    { name: signInName, password },
    `/sign-in${next === '' ? '' : `?next=${encodeURIComponent(next)}`}`,
  )
