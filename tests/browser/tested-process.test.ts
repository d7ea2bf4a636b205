import { execFileSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { ask, enter, openBrowser, phone, watchForErrors } from './browser.ts'

// What a cook asks before anything is heated: how long here, is my own recipe tested, how much of everything, the card.
let service: RunningService

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '3' })
}, 120_000)
afterAll(() => service?.stop())

for (const javaScriptEnabled of [true, false]) {
  test(`a process is looked up, a family recipe is judged, scaled, printed and planned with, ${javaScriptEnabled ? 'with' : 'without'} script`, async () => {
    const browser = await openBrowser({ viewport: phone, javaScriptEnabled })
    const page = await browser.newPage()
    const errors = watchForErrors(page)
    await enter(page, service.address)

    // USDA Complete Guide to Home Canning 2015, Guide 2 p. 2-21: plums, quarts: 25, 30, 35, 40 minutes; 1,400 m is 4,593 ft
    await page.goto(`${service.address}/coop`)
    await page.getByRole('link', { name: 'Recipes' }).first().click()
    await page.getByRole('link', { name: 'Look up a tested process' }).click()
    await page.getByLabel('What goes into the jar').fill('plums')
    await page.getByLabel('In which jar').selectOption('quart')
    await page.getByLabel('At which altitude').fill('1,400 m')
    await page.getByRole('button', { name: 'Look it up' }).click()
    await expectText(page, '35 minutes')
    await expectText(page, /3,001 to 6,000 ft.*you are here/)

    // a filling with flour in it, as many families make it
    const name = `Grandmother’s peach filling ${javaScriptEnabled}`
    await page.goto(`${service.address}/recipes/new`)
    await page.getByLabel('Name', { exact: true }).fill(name)
    await page.getByLabel('Water-bath canned').check()
    await page.getByLabel('Crop or material').first().selectOption('crop:peach')
    await page.getByLabel('Classes and how well each suits, in percent').first().fill('ripe 100')
    await page.getByLabel('Ingredient 1 (not needed)', { exact: true }).fill('flour')
    await page.getByLabel('Ingredient 1 is').selectOption('starch')
    await page.getByLabel('Ingredient 1 for each kilogram of produce').fill('60 g')
    await page.getByLabel('Made like').fill('peach pie filling')
    await page.getByLabel('Packed how').selectOption('hot')
    await page.getByLabel('What one is called').first().fill('quart')
    await page.getByLabel('Jar it is heated in').first().selectOption('quart')
    await page.getByLabel('Raw weight for one').first().fill('900 g')
    await page.getByLabel('What one is worth to us').first().fill('6.50')
    await page.getByLabel('Where the figures come from').fill('our own')
    await page.getByRole('button', { name: 'Add the recipe' }).click()
    await expectText(page, 'Departs from the tested process')
    await expectText(page, /flour/)
    await page.getByRole('link', { name: 'Make it frozen' }).click()
    await page.getByRole('button', { name: 'Add the recipe' }).click()
    await expectText(page, 'Needs no heat process')

    // how much of everything, and the card
    await page.goto(`${service.address}/recipes`)
    await page.getByRole('link', { name: 'Peach slices in light syrup' }).click()
    // Guide 2 p. 2-19: hot pack, quarts: 30 minutes from 1,001 to 3,000 ft; the kitchen lies at 640 m, 2,100 ft
    await expectText(page, /30 minutes in a boiling-water canner, at 640 m/)
    await page.getByRole('link', { name: 'How much of everything' }).click()
    await page.getByLabel('How much', { exact: true }).fill('63 kg')
    await page.getByLabel('the weight of the produce').check()
    await page.getByLabel('quarts', { exact: true }).check()
    await page.getByRole('button', { name: 'Work it out' }).click()
    await expectText(page, /55 quarts from 62\.4 kg of raw weight, and 630 g are left over/)
    await page.getByRole('link', { name: 'Card to print for this amount' }).click()
    for (const format of ['A4', 'Letter'] as const) {
      const printed = await textOfPdf(page, format)
      expect(printed).toMatch(/30\s+minutes\s+in\s+a\s+boiling-\s*water\s+canner/)
      expect(printed).toContain('1/2 inch (13 mm)')
      expect(printed).toContain('USDA Complete Guide')
      expect(printed).not.toContain('Look it up')
    }

    // the plan offers what is tested, says what it leaves out, and tells the process beside the product
    const { plans } = await ask<{ plans: { id: string }[] }>(page, `${service.address}/api/plans`)
    await page.goto(`${service.address}/plans/${plans.at(-1)?.id}/wishes`)
    await expectText(page, name)
    expect(await page.locator('fieldset', { hasText: `${name}, quarts` }).count()).toBe(0)
    await page.goto(`${service.address}/plans/${plans.at(-1)?.id}/divisions/1`)
    await expectText(page, /30 minutes in a boiling-water canner at 640 m/)

    expect(errors).toEqual([])
    await browser.close()
  }, 120_000)
}

async function expectText(page: Page, words: string | RegExp): Promise<void> {
  await page.locator('main').getByText(words).locator('visible=true').first().waitFor({ timeout: 10_000 })
}

/** What stands on the page when it is printed, read back from the PDF by poppler. */
async function textOfPdf(page: Page, format: 'A4' | 'Letter'): Promise<string> {
  const file = join(mkdtempSync(join(tmpdir(), 'glutworks-card-')), 'card.pdf')
  writeFileSync(file, await page.pdf({ format }))
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
}
