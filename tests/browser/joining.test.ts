import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { desk, enter, findBarriers, narrowPhone, openBrowser, overflow, watchForErrors } from './browser.ts'

// Somebody is invited, joins on a phone by plain http under the kitchen's name, and gets a new password later.

let service: RunningService
let desktop: BrowserContext
let phone: BrowserContext
let steward: Page
let guest: Page
let errors: string[][]

beforeAll(async () => {
  service = await startService({ ALLOWED_HOSTS: '127.0.0.1,kitchen.lan' })
  desktop = await openBrowser({ viewport: desk })
  phone = await openBrowser({ viewport: narrowPhone, colorScheme: 'dark', nameHere: 'kitchen.lan' })
  steward = await desktop.newPage()
  guest = await phone.newPage()
  errors = [watchForErrors(steward), watchForErrors(guest)]
  steward.setDefaultTimeout(60_000)
  guest.setDefaultTimeout(60_000)
}, 240_000)
afterAll(async () => {
  await desktop?.close()
  await phone?.close()
  await service?.stop()
})

/** The page as it stands is without barriers and no wider than its window. */
async function sound(page: Page): Promise<void> {
  expect(await findBarriers(page), page.url()).toEqual([])
  expect(await overflow(page), page.url()).toBeLessThanOrEqual(0)
}

/** The link that is shown, under the name by which the phone knows the kitchen. */
async function linkShown(): Promise<string> {
  const link = new URL((await steward.locator('main code').textContent()) ?? '')
  link.hostname = 'kitchen.lan'
  return link.href
}

test('an invitation leads a newcomer in, and a reset lets them choose a new password', async () => {
  await enter(steward, service.address)
  await steward.goto(`${service.address}/coop`)
  await steward.getByRole('link', { name: 'People' }).click()
  await sound(steward)
  await steward.getByRole('link', { name: 'Invite somebody' }).click()
  await sound(steward)
  await steward.getByLabel('Whom it is for').fill('Lin')
  await steward.getByLabel('Household', { exact: true }).selectOption({ label: 'A new one' })
  await steward.getByLabel('Name of the new household').fill('Lindqvist')
  await steward.getByRole('radio', { name: /^member/ }).check()
  await steward.getByRole('button', { name: 'Make the link' }).click()
  await steward.getByText('This link is shown only now').waitFor()
  await sound(steward)
  const link = await linkShown()

  await guest.goto(link)
  await sound(guest)
  await guest.getByLabel('Your name, as the others know you').fill('Lin Lindqvist')
  await guest.getByLabel('Sign-in name').fill('lin')
  await guest.getByLabel('Password').fill('password')
  await guest.getByRole('button', { name: 'Join' }).click()
  await guest.getByRole('heading', { name: 'There is a problem' }).waitFor()
  await sound(guest)
  expect(await guest.getByLabel('Sign-in name').inputValue()).toBe('lin')
  await guest.getByLabel('Password').fill('a basket of blue damsons')
  const sent = guest.waitForRequest((request) => request.method() === 'POST')
  await guest.getByRole('button', { name: 'Join' }).click()
  const headers = await (await sent).allHeaders()
  // by plain http nothing but the origin says that one of our own pages sent it
  expect(headers['sec-fetch-site']).toBeUndefined()
  expect(headers['origin']).toBe(new URL(link).origin)
  expect(headers['referer']).toBe(`${new URL(link).origin}/`)
  await guest.waitForURL((url) => url.pathname === '/')
  await guest.getByRole('link', { name: 'Lin Lindqvist' }).waitFor()
  await guest.goto(new URL('/people', link).href)
  await sound(guest)
  expect(await guest.locator('main').textContent()).toContain('Lin Lindqvist (you)')
  await guest.goto(link)
  await guest.getByText('This link leads nowhere, or not any more').waitFor()

  await steward.goto(`${service.address}/people`)
  await steward.getByRole('link', { name: 'Lin Lindqvist' }).click()
  await sound(steward)
  await steward.getByRole('link', { name: 'New password…' }).click()
  await sound(steward)
  await steward.getByRole('button', { name: 'Make the link' }).click()
  const reset = await linkShown()
  await guest.goto(reset)
  await sound(guest)
  await guest.getByLabel('Password').fill('a basket of red damsons')
  await guest.getByRole('button', { name: 'Choose it' }).click()
  await guest.waitForURL((url) => url.pathname === '/sign-in')
  await guest.goto(new URL('/people', link).href)
  expect(new URL(guest.url()).pathname).toBe('/sign-in')
  await guest.getByLabel('Sign-in name or mail address').fill('lin')
  await guest.getByLabel('Password').fill('a basket of red damsons')
  await guest.getByRole('button', { name: 'Sign in' }).click()
  await guest.waitForURL((url) => url.pathname === '/people')

  await steward.goto(`${service.address}/people`)
  await steward.getByRole('link', { name: 'Lin Lindqvist' }).click()
  await steward.getByRole('link', { name: 'Leave the co-op…' }).click()
  await sound(steward)
  await steward.getByRole('button', { name: 'Lin Lindqvist leaves' }).click()
  await steward.getByRole('heading', { name: 'Left the co-op' }).waitFor()
  await sound(steward)
  await steward.goto(`${service.address}/audit`)
  await sound(steward)
  expect(await steward.locator('main table').textContent()).toContain('Lin Lindqvist left the co-op')
  await guest.reload()
  expect(new URL(guest.url()).pathname).toBe('/sign-in')
  // Chromium notes that the link which was used up is answered with 404, and that it has no use for one header by plain http
  const expected = /status of 404|The Cross-Origin-Opener-Policy header has been ignored/
  expect(errors.flat().filter((error) => !expected.test(error))).toEqual([])
})
