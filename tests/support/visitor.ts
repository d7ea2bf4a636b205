import { htmlOf } from './html.ts'

/** Somebody at the running service, with the cookies that it gave them. */
export type Visitor = {
  /** Follows nothing. */
  get(path: string, headers?: Record<string, string>): Promise<Response>
  /** Sends a form with the token that belongs to this session. */
  form(path: string, fields: Record<string, string>): Promise<Response>
  /** A call with a JSON body, or with one that is text already. */
  call(method: string, path: string, body?: unknown, headers?: Record<string, string>): Promise<Response>
  /** As the header has them. */
  cookies(): string
}

/**
 * Comes by the running demonstration and enters it as one of its people, as anybody may.
 *
 * @param role whose: the first member of the demonstration that has it
 */
export async function enterDemonstration(address: string, role = 'steward'): Promise<Visitor> {
  const jar = new Map<string, string>()
  let token = ''
  const cookies = () => [...jar].map(([name, value]) => `${name}=${value}`).join('; ')

  async function ask(path: string, options: RequestInit): Promise<Response> {
    const headers = { 'sec-fetch-site': 'same-origin', cookie: cookies(), ...options.headers }
    const answer = await fetch(address + path, { redirect: 'manual', ...options, headers })
    for (const line of answer.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=;]+)=([^;]*)/.exec(line) ?? []
      jar.set(name, value)
    }
    return answer
  }
  const form = (path: string, fields: Record<string, string>) =>
    ask(path, { method: 'POST', body: new URLSearchParams({ _csrf: token, ...fields }) })

  const door = htmlOf(await (await ask('/sign-in', {})).text())
  token = String(door('input[name="_csrf"]').attr('value'))
  const entrance = door('button[name="member"]').filter((_, button) => door(button).text().endsWith(`, ${role}`))
  const entered = await form('/demonstration', { member: String(entrance.first().attr('value')) })
  if (entered.status !== 303) throw new Error(`the demonstration did not let a ${role} in: ${entered.status}`)
  // any page with a form has the token of the new session
  const page = htmlOf(await (await ask('/coop/my-units', {})).text())
  token = String(page('input[name="_csrf"]').first().attr('value'))

  return {
    get: (path, headers = {}) => ask(path, { headers }),
    form,
    call: (method, path, body, headers = {}) =>
      ask(path, {
        method,
        headers: { 'x-csrf-token': token, 'content-type': 'application/json', ...headers },
        ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
      }),
    cookies,
  }
}
