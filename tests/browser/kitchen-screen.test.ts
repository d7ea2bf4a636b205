import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { ask, desk, enter, findBarriers, narrowPhone, openBrowser, overflow, watchForErrors } from './browser.ts'

// A tablet is put on the kitchen's wall by a code, shows the work of a day of the demonstration, and ticks it off.

let service: RunningService
let office: BrowserContext
let wall: BrowserContext
let steward: Page
let tablet: Page
let errors: string[]

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '2' })
  office = await openBrowser({ viewport: desk })
  wall = await openBrowser({ viewport: { width: 800, height: 1280 }, colorScheme: 'dark' })
  steward = await office.newPage()
  tablet = await wall.newPage()
  for (const page of [steward, tablet]) page.setDefaultTimeout(60_000)
  errors = watchForErrors(steward)
  await enter(steward, service.address)
}, 240_000)
afterAll(async () => {
  await office?.close()
  await wall?.close()
  await service?.stop()
})

test('a code puts a screen on the wall, which shows the kitchen and nothing else', async () => {
  await steward.goto(`${service.address}/coop`)
  await steward.getByRole('link', { name: 'Kitchen screens' }).click()
  await steward.getByLabel('What the screen is called').fill('Tablet by the stove')
  await steward.getByRole('button', { name: 'Make a code' }).click()
  const code = await steward.locator('.pairing-code [aria-hidden]').textContent()
  expect(await findBarriers(steward)).toEqual([])
  await steward.setViewportSize(narrowPhone)
  expect(await overflow(steward)).toBeLessThanOrEqual(0)

  await tablet.goto(`${service.address}/pair`)
  expect(await findBarriers(tablet)).toEqual([])
  await tablet.getByLabel('Code').fill(String(code).toLowerCase())
  await tablet.getByRole('button', { name: 'Show the kitchen here' }).click()
  await tablet.waitForURL(`${service.address}/kitchen`)
  expect(await findBarriers(tablet)).toEqual([])
  const refused = await tablet.goto(`${service.address}/coop`)
  expect(refused?.status()).toBe(403)
  await tablet.getByRole('link', { name: 'See the work of the day' }).click()
  await tablet.waitForURL(`${service.address}/kitchen`)
})

test('a day of the demonstration can be read at arm’s length, and is ticked off by large buttons', async () => {
  const api = `${service.address}/api/plans`
  const { plans } = await ask<{ plans: { id: string }[] }>(steward, api)
  const plan = `${service.address}/plans/${plans[0]?.id}`
  // the demonstration's own, which it works out by itself; a second one would take its place meanwhile
  const state = async () => (await ask<{ state: string }>(steward, `${api}/${plans[0]?.id}/timetables/1`)).state
  await vi.waitFor(async () => expect(await state()).toBe('done'), { timeout: 240_000, interval: 1000 })
  await steward.goto(`${plan}/timetables/1`)
  const day = await steward.getByRole('link', { name: 'Tick it off in the kitchen' }).getAttribute('href')

  await tablet.goto(service.address + day)
  const done = tablet.getByRole('button', { name: /^Done/ })
  const before = await done.count()
  expect(before).toBeGreaterThan(5)
  expect(await findBarriers(tablet)).toEqual([])
  for (const size of [narrowPhone, { width: 800, height: 1280 }]) {
    await tablet.setViewportSize(size)
    expect(await overflow(tablet), `${size.width} px`).toBeLessThanOrEqual(0)
    for (const button of await done.all()) expect((await button.boundingBox())?.height).toBeGreaterThanOrEqual(56)
  }
  const sizes = (await tablet.evaluate(
    '[...document.querySelectorAll(".kitchen-what")].map((one) => parseFloat(getComputedStyle(one).fontSize))',
  )) as number[]
  // 24 px of a tablet at some 60 cm: what 16 px are at 40
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(24)
  await done.first().click()
  await tablet.getByRole('button', { name: /^Take back/ }).waitFor()
  expect(await done.count()).toBe(before - 1)
  await tablet.getByText(/^Done: Tablet by the stove/).waitFor()
  await tablet.getByRole('button', { name: /^Take back/ }).click()
  await tablet.getByText(/^Done: Tablet/).waitFor({ state: 'detached' })
  expect(await done.count()).toBe(before)
})

test('a screen that is removed is led to the door by itself', async () => {
  await steward.goto(`${service.address}/coop/screens`)
  await steward.getByRole('link', { name: 'Remove Tablet by the stove' }).click()
  await steward.getByRole('button', { name: 'Remove it' }).click()
  await steward.waitForURL(/\/coop\/screens$/)
  // within the half minute in which the screen looks again
  await tablet.waitForURL(/\/sign-in/, { timeout: 45_000 })
  expect(errors).toEqual([])
})
