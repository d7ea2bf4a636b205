import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { enter, openBrowser, phone, watchForErrors } from './browser.ts'
import { textOfPdf } from './pdf.ts'

// A stranger's first day, from the page that opens to the sheet on the wall, on a phone; once with script, once without.
let service: RunningService

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '3' })
}, 120_000)
afterAll(() => service?.stop())

for (const javaScriptEnabled of [true, false]) {
  test(`a bushel is taken in, sorted, divided, divided again, compared and printed, ${javaScriptEnabled ? 'with' : 'without'} script`, async () => {
    const browser = await openBrowser({ viewport: phone, javaScriptEnabled })
    const page = await browser.newPage()
    const errors = watchForErrors(page)
    await enter(page, service.address)

    await page.goto(service.address)
    expect(await page.locator('h1').textContent()).toContain('Today')
    await expectText(page, 'What spoils first')

    await page.goto(`${service.address}/lots`)
    await page.getByLabel('What came in?').fill("2 bushels damsons from Mara's trees, firm")
    await page.getByRole('button', { name: 'Read it' }).click()
    await expectText(page, 'Read as 2 bushels of damsons at 25.4 kg: 50.8 kg in all')
    await page.getByLabel('Variety').fill(javaScriptEnabled ? 'with script' : 'without script')
    await page.getByRole('button', { name: 'Take it in' }).click()
    await expectText(page, '50.8 kg')
    expect(page.url()).toMatch(/\/lots\/[a-z0-9]{12}$/)

    await page.getByRole('link', { name: 'Sort it' }).click()
    await page.getByLabel('Firm', { exact: true }).fill('60 lb')
    await page.getByLabel('Ripe', { exact: true }).fill('lots')
    await page.getByRole('button', { name: 'Save the sorting' }).click()
    await expectText(page, 'There is a problem')
    expect(await page.getByLabel('Ripe', { exact: true }).inputValue()).toBe('lots')
    await page.getByLabel('Ripe', { exact: true }).fill('18 kg')
    await page.getByLabel('Soft', { exact: true }).fill('4 1/2 kg')
    await page.getByLabel('Damaged, sound once trimmed').fill('800 g')
    await page.getByRole('button', { name: 'Save the sorting' }).click()
    await expectText(page, '27.2 kg')

    await page.getByRole('link', { name: 'Plan with it' }).click()
    await page.getByLabel('Name of the plan').fill(`Too much jam ${javaScriptEnabled}`)
    await page.getByRole('button', { name: 'Save and go on' }).click()
    await page.locator('input[type=checkbox]').first().check()
    await page.getByRole('button', { name: 'Save and go on' }).click()

    const jam = page.locator('fieldset', { hasText: 'Damson jam' })
    await jam.getByLabel('About').fill('500')
    await jam.getByLabel('At most').fill('500')
    await page.getByRole('button', { name: 'Save and go on' }).click()
    await page.getByRole('button', { name: 'Work it out' }).click()
    const first = await workedOut(page)
    await expectText(page, /\d+ half-pints and not more: /)

    await page.getByRole('checkbox', { name: /Compost behind the hall/ }).uncheck()
    await page.getByRole('button', { name: 'Work it out again' }).click()
    const second = await workedOut(page)
    expect(second).not.toBe(first)

    const plan = /\/plans\/([a-z0-9]{12})\//.exec(second)?.[1] ?? ''
    await page.goto(`${service.address}/plans/${plan}/compare?a=1&b=2`)
    await expectText(page, 'Compost behind the hall')
    await expectText(page, 'Damson jam')

    await page.goto(first)
    await page.getByRole('link', { name: 'Sheets for the wall' }).click()
    for (const format of ['A4', 'Letter'] as const) {
      const printed = await textOfPdf(page, format)
      expect(printed).toContain('Damson jam')
      expect(printed).not.toContain('Today')
    }
    expect(errors).toEqual([])
    await browser.close()
  }, 120_000)
}

/** Waits until a division is worked out, and answers its address. */
async function workedOut(page: Page): Promise<string> {
  await page.waitForURL(/\/plans\/[a-z0-9]{12}\/divisions\/\d+/)
  await page.getByRole('heading', { name: 'Products, and why not more' }).waitFor({ timeout: 30_000 })
  return page.url().replace(/[?#].*$/, '')
}

async function expectText(page: Page, words: string | RegExp): Promise<void> {
  await page.locator('main').getByText(words).locator('visible=true').first().waitFor({ timeout: 10_000 })
}
