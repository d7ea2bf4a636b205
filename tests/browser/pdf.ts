import { execFileSync } from 'node:child_process'
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'

/** What stands on the page when it is printed, read back from the PDF by poppler. */
export async function textOfPdf(page: Page, format: 'A4' | 'Letter'): Promise<string> {
  const file = join(mkdtempSync(join(tmpdir(), 'glutworks-sheet-')), 'sheet.pdf')
  writeFileSync(file, await page.pdf({ format }))
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' })
}
