import { existsSync, mkdtempSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { AxeResults } from 'axe-core'
import { type BrowserContext, chromium, type Page } from 'playwright-core'

const executablePath = process.env['CHROMIUM'] ?? '/usr/bin/chromium'
const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

export const phone = { width: 390, height: 844 }
export const narrowPhone = { width: 320, height: 640 }
export const desk = { width: 1280, height: 800 }

/** Debian's Chromium without a window and with an empty profile. A machine without it fails here: it was promised. */
export async function openBrowser({
  nameHere,
  ...options
}: {
  viewport?: { width: number; height: number }
  colorScheme?: 'light' | 'dark'
  javaScriptEnabled?: boolean
  /** A name that this browser takes for 127.0.0.1: to it, plain http there is not trustworthy, as in a home network. */
  nameHere?: string
}): Promise<BrowserContext> {
  if (!existsSync(executablePath))
    throw new Error(`no Chromium at ${executablePath}: install Debian's package "chromium" or set CHROMIUM`)
  return chromium.launchPersistentContext(mkdtempSync(join(tmpdir(), 'glutworks-profile-')), {
    executablePath,
    headless: true,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...(nameHere === undefined ? [] : [`--host-resolver-rules=MAP ${nameHere} 127.0.0.1`]),
    ],
    viewport: desk,
    ...options,
  })
}

/** Enters the demonstration as one of its people; at first its steward. */
export async function enter(page: Page, address: string, role = 'steward'): Promise<void> {
  await page.goto(`${address}/sign-in`)
  await page.getByRole('button', { name: new RegExp(`^Enter as .*, ${role}$`) }).click()
  await page.waitForURL(`${address}/`)
}

/** Asks the service as the browser that is signed in. */
export async function ask<T>(page: Page, url: string): Promise<T> {
  const answer = await page.request.get(url)
  if (!answer.ok()) throw new Error(`${url} answered ${answer.status()}`)
  return answer.json()
}

/** Collects what a page must never do: errors in the console (a broken Content-Security-Policy shows there) and failed scripts. */
export function watchForErrors(page: Page): string[] {
  const errors: string[] = []
  page.on('console', (message) => {
    // Chromium notes every answer that is no success; a refused form is one that a journey asks for.
    const refusedForm = message.text().includes('status of 422')
    if (message.type() === 'error' && !refusedForm) errors.push(`${page.url()}: ${message.text()}`)
  })
  page.on('pageerror', (error) => errors.push(`${page.url()}: ${error.message}`))
  return errors
}

/** What axe finds on the page as it stands, WCAG A and AA from 2.0 to 2.2, one line for each fault. */
export async function findBarriers(page: Page): Promise<string[]> {
  // evaluate() is not bound by the page's policy, so axe needs no hole in it.
  await page.evaluate(axeSource)
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run(options: object): Promise<AxeResults> } }
    return axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] })
  })
  return found.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.target.join(' ')} (${violation.help})`),
  )
}

/** How many CSS pixels the page is wider than its window. */
export function overflow(page: Page): Promise<number> {
  return page.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth') as Promise<number>
}
