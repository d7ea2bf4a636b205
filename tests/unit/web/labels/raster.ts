import { execFileSync, spawnSync } from 'node:child_process'
import jsQR from 'jsqr'
import { describe } from 'vitest'

/** A page as grey dots, 0 black to 255 white. */
export type Page = { width: number; height: number; grey: Uint8Array }

/** Where something is on a page, in dots. */
export type Area = { x: number; y: number; width: number; height: number }

export const dotsPerMm = 300 / 25.4

/** A group of tests that look at pages drawn and read by poppler; without it they are not run, and the run says so. */
export function describePrinted(title: string, body: () => void): void {
  const there = ['pdftoppm', 'pdftotext'].every((name) => spawnSync(name, ['-v']).status === 0)
  if (!there) process.stdout.write(`Not run here: "${title}" needs pdftoppm and pdftotext (poppler-utils).\n`)
  describe.runIf(there)(title, body)
}

/** Draws a PDF's pages at 300 dots an inch. */
export function rasterise(pdf: Buffer): Page[] {
  const bytes = execFileSync('pdftoppm', ['-r', '300', '-gray', '-'], { input: pdf, maxBuffer: 2 ** 28 })
  const pages: Page[] = []
  for (let at = 0; at < bytes.length; ) {
    const head = /^P5\s(\d+)\s(\d+)\s255\s/.exec(bytes.toString('latin1', at, at + 40))
    if (head === null) throw new Error('not a grey picture')
    const [width, height] = [Number(head[1]), Number(head[2])]
    const start = at + head[0].length
    pages.push({ width, height, grey: bytes.subarray(start, start + width * height) })
    at = start + width * height
  }
  return pages
}

/** The words of a PDF as a reader copies them. */
export function wordsOf(pdf: Buffer): string {
  return execFileSync('pdftotext', ['-enc', 'UTF-8', '-layout', '-', '-'], { input: pdf, encoding: 'utf8' })
}

/** What a QR reader finds in a part of a page: its text, and its upper left finder pattern's middle in dots. */
export function readCode(page: Page, area: Area): { text: string; finder: { x: number; y: number } } | null {
  const { x, y, width, height } = area
  const dots = new Uint32Array(width * height)
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      dots[row * width + column] = 0xff000000 + 0x010101 * greyAt(page, x + column, y + row)
    }
  }
  const code = jsQR.default(new Uint8ClampedArray(dots.buffer), width, height, { inversionAttempts: 'dontInvert' })
  if (code === null) return null
  const { x: dx, y: dy } = code.location.topLeftFinderPattern
  return { text: code.data, finder: { x: x + dx, y: y + dy } }
}

/** The first and last dark dot of a row or column, from one dot to before another; null: none. */
export function darkRun(
  page: Page,
  along: 'x' | 'y',
  at: number,
  from: number,
  to: number,
): { from: number; to: number } | null {
  const dark = Array.from({ length: to - from }, (_, index) => from + index).filter(
    (dot) => (along === 'x' ? greyAt(page, dot, at) : greyAt(page, at, dot)) < 200,
  )
  const [first, last] = [dark.at(0), dark.at(-1)]
  return first === undefined || last === undefined ? null : { from: first, to: last + 1 }
}

/** White beyond the page. */
export function greyAt({ width, height, grey }: Page, x: number, y: number): number {
  if (x < 0 || y < 0 || x >= width || y >= height) return 255
  return grey[y * width + x] ?? 255
}
