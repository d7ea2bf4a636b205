import ICAL from 'ical.js'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { enter, openBrowser, phone, watchForErrors } from './browser.ts'
import { textOfPdf } from './pdf.ts'

// Somebody new sets up a kitchen of their own people, puts two days on the clock, and then everything changes.
let service: RunningService

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '3' })
}, 120_000)
afterAll(() => service?.stop())

const newcomers = [
  { name: 'Agnes Thorn', band: 'adult' },
  { name: 'Piet Thorn', band: 'adult' },
  { name: 'Lotte Brand', band: 'adult' },
  { name: 'Jonas Brand', band: 'teen' },
  { name: 'Mila Brand', band: 'child' },
]

test('five helpers, two days, one of them away, jam in the evening, sheets and a calendar', async () => {
  const browser = await openBrowser({ viewport: phone })
  const page = await browser.newPage()
  const errors = watchForErrors(page)
  await enter(page, service.address)
  const at = (path: string) => page.goto(`${service.address}${path}`)

  await at('/equipment/new')
  await page.getByLabel('boiling-water canner').check()
  await page.getByLabel('Name').fill('the Thorns’ big canner')
  await page.getByLabel('One load takes: half-pints').fill('15')
  await page.getByLabel('Minutes to come up').fill('30')
  await page.locator('main form button[type=submit]').first().click()
  await expectText(page, 'the Thorns’ big canner')

  for (const { name, band } of newcomers) {
    await at('/helpers/new')
    await page.getByLabel('Name').fill(name)
    await page.locator(`input[name=ageBand][value=${band}]`).check()
    for (const box of await page.getByRole('group', { name: 'Knows how to' }).getByRole('checkbox').all())
      await box.check()
    await page.locator('main form button[type=submit]').first().click()
    await expectText(page, name)
    const days = page.locator('input[name^="hours."]')
    for (const [place, box] of (await days.all()).entries()) {
      if (place < 4) await box.fill(place % 2 === 0 ? '9:00' : '17:00')
    }
    expect(await days.count()).toBeGreaterThanOrEqual(4)
    await page.locator('form:has(input[name^="hours."]) button[type=submit]').click()
    await expectText(page, name)
  }

  await at('/plans/new')
  await page.getByLabel('Name of the plan').fill('The Thorns and the Brands')
  await page.getByRole('checkbox', { name: /^damsons/ }).check()
  await page.getByRole('checkbox', { name: /^apples/ }).check()
  await page.getByRole('button', { name: 'Save and go on' }).click()
  const days = page.locator('input[type=checkbox]')
  await days.nth(0).check()
  await days.nth(1).check()
  await page.getByRole('button', { name: 'Save and go on' }).click()
  for (const [recipe, about] of [
    ['Damson jam', '36'],
    ['Apple sauce', '14'],
    ['Apple jelly', '10'],
  ] as const) {
    const wish = page.locator('fieldset', { hasText: recipe }).first()
    await wish.getByLabel('About').first().fill(about)
    await wish.getByLabel('At most').first().fill(about)
  }
  await page.getByRole('button', { name: 'Save and go on' }).click()
  await page.getByRole('button', { name: 'Work it out' }).click()
  await page.getByRole('heading', { name: 'Products, and why not more' }).waitFor({ timeout: 30_000 })
  await page.getByRole('button', { name: 'Make the timetable' }).click()
  const first = await onTheClock(page)
  const child = await tasksOf(page, 'Mila Brand')
  expect(child).not.toMatch(/stove|canner|hot jars|cut/i)

  await page.getByRole('link', { name: 'Settle parts of it by hand' }).click()
  await page.locator('select[name="away.helper"]').selectOption({ label: 'Agnes Thorn' })
  await page.locator('select[name="away.day"]').selectOption({ index: 1 })
  await page.locator('input[name="away.from"]').fill('10:00')
  await page.getByRole('button', { name: 'Work out the rest' }).click()
  await expectText(page, 'There is a problem')
  expect(await page.locator('select[name="away.helper"] option:checked').textContent()).toBe('Agnes Thorn')
  await page.locator('input[name="away.to"]').fill('12:00')
  const jam = page.locator('select[name="before.batch"]')
  await jam.selectOption((await jam.locator('option', { hasText: 'Damson jam' }).first().getAttribute('value')) ?? '')
  await page.locator('select[name="before.day"]').selectOption({ index: 1 })
  await page.locator('input[name="before.time"]').fill('14:00')
  await page.getByRole('button', { name: 'Work out the rest' }).click()
  const second = await onTheClock(page)
  expect(second).not.toBe(first)
  await expectText(page, 'Agnes Thorn')

  await page.getByRole('link', { name: 'Sheet for the wall' }).click()
  for (const format of ['A4', 'Letter'] as const) {
    const wall = await textOfPdf(page, format)
    expect(wall).toContain('Damson jam')
    expect(wall).toContain('Apple sauce')
    expect(wall).toMatch(/burn/)
    expect(wall).not.toContain('Settle parts of it by hand')
  }
  await page.goto(second)
  const busy = page.locator('main li', { hasText: 'of work on' }).first().getByRole('link')
  const name = (await busy.textContent()) ?? ''
  await busy.click()
  expect(await textOfPdf(page, 'A4')).toContain(`the work of ${name}`)

  await at('/calendars')
  await page.getByLabel('Whose work it shows').selectOption({ label: name })
  await page.getByRole('button', { name: 'Make an address' }).click()
  const address = (await page.locator('main code').textContent()) ?? ''
  const feed = await fetch(address.replace(/^[a-z]+:\/\/[^/]+/, service.address))
  expect(feed.headers.get('content-type')).toContain('text/calendar')
  const events = new ICAL.Component(ICAL.parse(await feed.text())).getAllSubcomponents('vevent')
  expect(events.length).toBeGreaterThan(0)
  await page.getByRole('link', { name: /Take it back/ }).click()
  await page.locator('main form button[type=submit]').click()
  expect((await fetch(address.replace(/^[a-z]+:\/\/[^/]+/, service.address))).status).toBe(404)

  expect(errors).toEqual([])
  await browser.close()
}, 400_000)

/** Waits until a timetable is worked out, and answers its address. */
async function onTheClock(page: Page): Promise<string> {
  await page.waitForURL(/\/plans\/[a-z0-9]{12}\/timetables\/\d+/)
  await page.getByRole('heading', { name: 'A sheet for each helper' }).waitFor({ timeout: 150_000 })
  return page.url().replace(/[?#].*$/, '')
}

/** What the lines of a helper's own sheet say is done. */
async function tasksOf(page: Page, helper: string): Promise<string> {
  const back = page.url()
  await page.locator('main').getByRole('link', { name: helper }).click()
  const does = await page.locator('main table').allTextContents()
  await page.goto(back)
  return does.join('\n')
}

async function expectText(page: Page, words: string | RegExp): Promise<void> {
  await page.locator('main').getByText(words).locator('visible=true').first().waitFor({ timeout: 20_000 })
}
