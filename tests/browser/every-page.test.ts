import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { type RunningService, startService } from '../support/service.ts'
import { ask, desk, enter, findBarriers, narrowPhone, openBrowser, overflow, watchForErrors } from './browser.ts'

// Follows every link of the demonstration once (one page of each kind) and looks at it as each kind of reader.
let service: RunningService
let paths: string[]

beforeAll(async () => {
  service = await startService({ SOLVE_SECONDS: '2' })
  const browser = await openBrowser({ viewport: desk })
  const page = await browser.newPage()
  await enter(page, service.address)
  await divideAgain(page, service.address)
  paths = await crawl(page, service.address)
  await browser.close()
}, 400_000)
afterAll(() => service?.stop())

test('the crawl finds the places and one page of each kind', () => {
  for (const path of ['/', '/lots', '/plans', '/coop']) expect(paths).toContain(path)
  expect(paths.length).toBeGreaterThan(40)
  expect(paths.some((path) => path.includes('/compare?'))).toBe(true)
})

for (const colorScheme of ['light', 'dark'] as const) {
  test(`no barrier on any page, ${colorScheme}, and nothing against the policy`, async () => {
    const browser = await openBrowser({ viewport: desk, colorScheme })
    const page = await browser.newPage()
    await enter(page, service.address)
    const errors = watchForErrors(page)
    const barriers: string[] = []
    for (const path of paths) {
      await page.goto(service.address + path)
      barriers.push(...(await findBarriers(page)).map((fault) => `${path} ${fault}`))
    }
    await browser.close()
    expect(barriers).toEqual([])
    expect(errors).toEqual([])
  })
}

test('no page is wider than a phone of 320 px, and every page has one first heading and a title of its own', async () => {
  const browser = await openBrowser({ viewport: narrowPhone })
  const page = await browser.newPage()
  await enter(page, service.address)
  const faults: string[] = []
  const titles = new Map<string, string>()
  for (const path of paths) {
    await page.goto(service.address + path)
    const wider = await overflow(page)
    if (wider > 0) faults.push(`${path} is ${wider} px wider than the window`)
    const headings = await page.locator('h1').count()
    if (headings !== 1) faults.push(`${path} has ${headings} first headings`)
    const title = await page.title()
    // The same page with something chosen beforehand may keep its title.
    const [place = path] = path.split('?')
    const other = titles.get(title)
    if (other && other !== place) faults.push(`${place} and ${other} are both called "${title}"`)
    titles.set(title, place)
  }
  await browser.close()
  expect(faults).toEqual([])
})

test('targets are large enough for a floury thumb', async () => {
  const browser = await openBrowser({ viewport: narrowPhone })
  const page = await browser.newPage()
  await enter(page, service.address)
  const small: string[] = []
  for (const path of paths) {
    await page.goto(service.address + path)
    for (const control of await page
      .locator('button:visible, select:visible, input:not([type=hidden]):visible, nav a:visible')
      .all()) {
      const box = await control.boundingBox()
      // A tick box or radio is as large as its label, which is pressed with it.
      const type = await control.getAttribute('type')
      const target =
        type === 'checkbox' || type === 'radio' ? await labelBox(page, await control.getAttribute('id')) : box
      if (!target || target.height < 43.5 || target.width < 43.5) {
        small.push(
          `${path} ${await control.evaluate((element) => element.outerHTML.slice(0, 80))} ${target?.width}x${target?.height}`,
        )
      }
    }
  }
  await browser.close()
  expect(small).toEqual([])
})

test('a refused form has no barrier, says so first, and puts the reader at what is wrong', async () => {
  for (const colorScheme of ['light', 'dark'] as const) {
    const browser = await openBrowser({ viewport: narrowPhone, colorScheme })
    const page = await browser.newPage()
    await enter(page, service.address)
    await page.goto(`${service.address}/lots/new`)
    await page.getByLabel('Weight').fill('a heap')
    await page.getByRole('button', { name: 'Take it in' }).click()
    await page.getByRole('heading', { name: 'There is a problem' }).waitFor()
    expect(await page.title()).toMatch(/^Error: /)
    expect(await page.getByLabel('Weight').inputValue()).toBe('a heap')
    expect(await page.evaluate('document.activeElement.textContent')).toContain('There is a problem')
    expect(await findBarriers(page)).toEqual([])
    await browser.close()
  }
})

/** A second division of the demonstration's plan, so that there is something to compare. */
async function divideAgain(page: Page, address: string): Promise<void> {
  const { plans } = await ask<{ plans: { id: string }[] }>(page, `${address}/api/plans`)
  const plan = `/plans/${plans[0]?.id}`
  await page.goto(address + plan)
  await page.locator(`form[action="${plan}/divisions"] button[type=submit]`).first().click()
  const state = async () => (await ask<{ state: string }>(page, `${address}/api${plan}/divisions/2`)).state
  await vi.waitFor(async () => expect(await state()).toBe('done'), { timeout: 60_000, interval: 300 })
}

async function labelBox(page: Page, id: string | null) {
  return id === null ? null : page.locator(`label[for="${id}"]`).first().boundingBox()
}

/** Pages of one kind differ in an id, in a crop's or a starter's key, or in what was typed. */
function kindOf(path: string): string {
  const [place = path, query = ''] = path.split('?')
  const named = place
    .replace(/\/[2-9a-z]{12}(?=\/|$)/g, '/:id')
    .replace(/^(\/crops|\/recipes\/starters)\/[^/]+/, '$1/:key')
    .replace(/^(\/shelf\/products\/:id)\/[^/]+/, '$1/:key')
  return `${named}?${[...new URLSearchParams(query).keys()].sort().join('&')}`
}

/** Tables and label sheets are saved, not shown: their own tests read them. */
function isFile(path: string): boolean {
  return /\.(csv|pdf)(\?|$)/.test(path)
}

/** Paths reachable by links from the first page; of pages of one kind, the first two. */
async function crawl(page: Page, address: string): Promise<string[]> {
  const seen = new Map<string, number>()
  const found: string[] = []
  const waiting = ['/']
  for (let path = waiting.shift(); path !== undefined; path = waiting.shift()) {
    if (found.includes(path)) continue
    const kind = kindOf(path)
    const count = seen.get(kind) ?? 0
    if (count >= 2 || isFile(path)) continue
    seen.set(kind, count + 1)
    const answer = await page.goto(address + path)
    if (!answer?.headers()['content-type']?.startsWith('text/html')) continue
    expect(answer.status(), path).toBeLessThan(400)
    found.push(path)
    const links = await page
      .locator('a[href]')
      .evaluateAll((anchors) => anchors.map((anchor) => anchor.getAttribute('href') ?? ''))
    for (const link of links) {
      const url = new URL(link, address + path)
      if (url.origin === address && !url.pathname.startsWith('/assets')) waiting.push(url.pathname + url.search)
    }
  }
  return found
}
