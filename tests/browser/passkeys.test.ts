import type { BrowserContext, CDPSession, Page, Request } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { desk, enter, findBarriers, narrowPhone, openBrowser, overflow, watchForErrors } from './browser.ts'

// Somebody with an account adds a passkey, signs out, and signs in by it: Chromium with its own virtual authenticator
// (CTAP 2, built in, user verification), by http at localhost, which browsers count as safe.

let service: RunningService
let address: string
let browser: BrowserContext
let page: Page
let errors: string[]
let keys: CDPSession
let authenticatorId: string

beforeAll(async () => {
  service = await startService()
  address = service.address.replace('127.0.0.1', 'localhost')
  browser = await openBrowser({ viewport: desk })
  page = await browser.newPage()
  page.setDefaultTimeout(60_000)
  errors = watchForErrors(page)
  keys = await browser.newCDPSession(page)
  await keys.send('WebAuthn.enable')
  const options = { protocol: 'ctap2', transport: 'internal', hasResidentKey: true, hasUserVerification: true } as const
  const made = await keys.send('WebAuthn.addVirtualAuthenticator', {
    options: { ...options, isUserVerified: true, automaticPresenceSimulation: true },
  })
  authenticatorId = made.authenticatorId
  await join()
}, 240_000)
afterAll(async () => {
  await browser?.close()
  await service?.stop()
})

const password = 'a basket of blue damsons'

/** Makes a link in the demonstration and joins by it, at the address at which passkeys are used. */
async function join(): Promise<void> {
  await enter(page, address)
  await page.goto(`${address}/people`)
  await page.getByRole('link', { name: 'Invite somebody' }).click()
  await page.getByLabel('Whom it is for').fill('Lin')
  await page.getByLabel('Household', { exact: true }).selectOption({ label: 'A new one' })
  await page.getByLabel('Name of the new household').fill('Lindqvist')
  await page.getByRole('radio', { name: /^member/ }).check()
  await page.getByRole('button', { name: 'Make the link' }).click()
  const link = await page.locator('main code').textContent()
  await signOut()
  await page.goto(String(link))
  await page.getByLabel('Your name, as the others know you').fill('Lin Lindqvist')
  await page.getByLabel('Sign-in name').fill('lin')
  await page.getByLabel('Password').fill(password)
  await page.getByRole('button', { name: 'Join' }).click()
  await page.waitForURL((url) => !url.pathname.startsWith('/join'))
}

async function signOut(): Promise<void> {
  await page.goto(`${address}/account`)
  await page.getByRole('button', { name: 'Sign out', exact: true }).click()
  await page.waitForURL(/\/sign-in/)
}

const credentials = async () => (await keys.send('WebAuthn.getCredentials', { authenticatorId })).credentials

/** Sends a form again as it was sent, with these cookies, past the browser. */
async function sendAgain(request: Request, cookie: string): Promise<{ status: number; text: string }> {
  const answer = await fetch(request.url(), {
    method: 'POST',
    headers: {
      'content-type': 'application/x-www-form-urlencoded',
      'sec-fetch-site': 'same-origin',
      accept: 'text/html',
      cookie,
    },
    body: request.postData(),
    redirect: 'manual',
  })
  return { status: answer.status, text: await answer.text() }
}

let sent: Request
let cookies: string

test('a passkey is added, with the password asked for first', async () => {
  await page.goto(`${address}/account`)
  await page.getByRole('link', { name: 'Passkeys' }).click()
  await page.getByLabel('What it is called').fill('My desk')
  await page.getByLabel('Your password').fill('another one')
  await page.getByRole('button', { name: 'Add a passkey' }).click()
  await page.getByText('This is not the password you have now').waitFor()
  expect(await credentials()).toEqual([])
  await page.getByLabel('Your password').fill(password)
  await page.getByRole('button', { name: 'Add a passkey' }).click()
  await page.getByRole('row', { name: /My desk/ }).waitFor()
  const [made] = await credentials()
  expect(made).toMatchObject({ isResidentCredential: true, rpId: 'localhost' })
  // says nothing of who it is
  const handle = Buffer.from(made?.userHandle ?? '', 'base64').toString()
  expect(handle).toMatch(/^[\w-]{43}$/)
  expect(await findBarriers(page)).toEqual([])
  await page.setViewportSize(narrowPhone)
  expect(await overflow(page)).toBeLessThanOrEqual(0)
  await page.setViewportSize(desk)
})

test('and signs in, without a name or a password', async () => {
  await signOut()
  expect(await findBarriers(page)).toEqual([])
  const going = page.waitForRequest((request) => request.url() === `${address}/sign-in/passkey`)
  await page.getByRole('button', { name: 'Sign in with a passkey' }).click()
  sent = await going
  cookies = (await sent.allHeaders())['cookie'] ?? ''
  await page.waitForURL(`${address}/`)
  await page.goto(`${address}/account`)
  expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe('Lin Lindqvist')
  const [used] = await credentials()
  expect(used?.signCount).toBe(2)
})

test('a copied answer opens nothing, with its own challenge or with another', async () => {
  expect(cookies).toContain('glut_challenge=')
  const again = await sendAgain(sent, cookies)
  expect([again.status, again.text.includes('The passkey was not accepted')]).toEqual([422, true])
  // a fresh challenge of this very browser
  await signOut()
  const asked = await fetch(`${sent.url()}/options`, {
    method: 'POST',
    headers: { 'content-type': 'application/x-www-form-urlencoded', 'sec-fetch-site': 'same-origin', cookie: cookies },
    body: sent.postData(),
  })
  expect(asked.status).toBe(200)
  const fresh = String(asked.headers.get('set-cookie')).split(';')[0] ?? ''
  const others = cookies
    .split('; ')
    .filter((one) => !one.startsWith('glut_challenge='))
    .join('; ')
  const other = await sendAgain(sent, `${others}; ${fresh}`)
  expect([other.status, other.text.includes('The passkey was not accepted')]).toEqual([422, true])
})

test('one that was removed signs in no more', async () => {
  await page.goto(`${address}/sign-in`)
  await page.getByRole('button', { name: 'Sign in with a passkey' }).click()
  await page.waitForURL(`${address}/`)
  await page.goto(`${address}/account/passkeys`)
  await page.getByRole('link', { name: 'Remove My desk' }).click()
  await page.getByRole('button', { name: 'Remove it' }).click()
  await page.waitForURL(`${address}/account/passkeys`)
  await signOut()
  await page.getByRole('button', { name: 'Sign in with a passkey' }).click()
  await page.getByRole('heading', { name: 'Not signed in' }).waitFor()
  expect(errors).toEqual([])
})

test('without script the page says that passkeys need it, and the door shows no button that does nothing', async () => {
  const plain = await openBrowser({ viewport: desk, javaScriptEnabled: false })
  const other = await plain.newPage()
  await other.goto(`${address}/sign-in`)
  expect(await other.getByRole('button', { name: 'Sign in with a passkey' }).count()).toBe(0)
  await other.getByLabel('Sign-in name or mail address').fill('lin')
  await other.getByLabel('Password').fill(password)
  await other.getByRole('button', { name: 'Sign in', exact: true }).click()
  await other.waitForURL(`${address}/`)
  await other.goto(`${address}/account/passkeys`)
  await other.getByText('Passkeys need script').waitFor()
  expect(await other.getByRole('button', { name: 'Add a passkey' }).count()).toBe(0)
  await plain.close()
})
