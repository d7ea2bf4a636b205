import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { rasterise, readCode } from '../unit/web/labels/raster.ts'
import { enter, openBrowser, phone, watchForErrors } from './browser.ts'
import { textOfPdf } from './pdf.ts'

// From a batch that is finished on a phone to jars in the hands of households, and back from any of them.
let service: RunningService

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '3' })
}, 120_000)
afterAll(() => service?.stop())

test('a batch is finished, labelled, scanned, taken, traced, recalled, and the rest shared out', async () => {
  const browser = await openBrowser({ viewport: phone })
  const page = await browser.newPage()
  const errors = watchForErrors(page)
  await enter(page, service.address)
  const at = (path: string) => page.goto(`${service.address}${path}`)

  await at('/plans')
  const plan = /\/plans\/([a-z0-9]{12})/.exec(
    (await page.locator('main a[href^="/plans/"]').first().getAttribute('href')) ?? '',
  )?.[1]
  await at(`/batches/new?plan=${plan}`)
  await page.locator('main a[href*="bag-1kg"]').first().click()
  await page.getByLabel('How many one-kilo bags are kept').fill('5')
  await page.getByLabel('Minutes of all hands together').fill('ages')
  await page.getByRole('button', { name: 'Finish the batch' }).click()
  await expectText(page, 'There is a problem')
  expect(await page.getByLabel('How many one-kilo bags are kept').inputValue()).toBe('5')
  await page.getByLabel('Minutes of all hands together').fill('70')
  // the plan may count on what is riper by its day than it is now: then the form asks whether the weights are right
  const surely = page.getByLabel('Yes, so much was taken')
  if (await surely.isVisible()) await surely.check()
  await page.getByRole('button', { name: 'Finish the batch' }).click()
  await page.waitForURL(/\/batches\/[a-z0-9]{12}$/)
  const batch = page.url()

  await page.locator('main a[href^="/labels"]').first().click()
  // Headless Chromium saves a PDF instead of showing it: the address that the button leads to is fetched.
  const printed = await page.evaluate<string>(`(() => {
    const button = document.querySelector('button[formaction]')
    return button.formAction + '?' + new URLSearchParams(new FormData(button.form))
  })()`)
  const pdf = await (await page.request.get(printed)).body()
  const sheet = rasterise(pdf)[0]
  if (!sheet) throw new Error('the labels have no page')
  const code = readCode(sheet, {
    x: 0,
    y: 0,
    width: Math.floor(sheet.width / 3),
    height: Math.floor(sheet.height / 8),
  })
  expect(code?.text).toMatch(/\/j\/[0-9A-Z]{5}$/)

  await page.goto(code?.text ?? '')
  await page.waitForURL(/\/shelf\/jars\//)
  const jars = page.url()
  expect(await stock(page)).toBe(5)
  await page.getByRole('button', { name: /^Take one for/ }).click()
  await page.waitForURL(/\/shelf\/jars\//)
  expect(await stock(page)).toBe(4)
  await page.locator('form[action*="/undo"] button').first().click()
  await page.goto(jars)
  expect(await stock(page)).toBe(5)
  await page.locator('summary', { hasText: 'Take several' }).click()
  await page.locator('[name="take.units"]').last().fill('2')
  await page.locator('select[name="take.householdId"]').selectOption({ label: 'Odell' })
  await page.getByRole('button', { name: 'Take them' }).click()
  await page.goto(jars)
  expect(await stock(page)).toBe(3)

  await page.goto(batch)
  await page.locator('main a[href^="/trace/batches/"]').first().click()
  await expectText(page, 'Odell')
  await expectText(page, /Wilfred Marsh|Ines Odell/)

  await page.goto(batch)
  await page.locator('main a[href^="/recalls/new"]').first().click()
  await page.getByLabel('What is wrong').fill('A bag was found torn.')
  await page.getByLabel('How to reach you').fill('555 0142, at any hour')
  await page.getByRole('button', { name: 'Recall them' }).click()
  await page.waitForURL(/\/recalls\/[a-z0-9]{12}$/)
  const recall = page.url()
  await expectText(page, 'Odell')
  await page.goto(`${recall}/notice`)
  for (const format of ['A4', 'Letter'] as const)
    expect(await textOfPdf(page, format)).toContain('A bag was found torn.')
  await page.goto(jars)
  expect(await page.getByRole('button', { name: /^Take one for/ }).count()).toBe(0)
  await page.goto(recall)
  await page.getByRole('button', { name: 'Lift this recall' }).click()

  await at('/shares/new')
  await page.getByRole('button', { name: 'Work it out' }).click()
  await page.waitForURL(/\/shares\/[a-z0-9]{12}$/)
  await page.getByRole('button', { name: 'Hand them out' }).click()
  await page.getByRole('button', { name: 'Take the hand-out back' }).waitFor()
  await page.goto(jars)
  expect(await stock(page)).toBe(0)

  expect(errors).toEqual([])
  await browser.close()
}, 240_000)

async function stock(page: Page): Promise<number> {
  return Number(await page.locator('.shelf-stock strong').textContent())
}

async function expectText(page: Page, words: string | RegExp): Promise<void> {
  await page.locator('main').getByText(words).locator('visible=true').first().waitFor({ timeout: 20_000 })
}
