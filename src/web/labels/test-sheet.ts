import { fromPlace, noOffset, type Place, type PrinterOffset, type SheetGeometry } from '../../core/labels/index.ts'
import { type DocumentFacts, openSheet, type Sheet, toMm } from './document.ts'
import { drawOutline } from './draw.ts'

export type TestSheetOptions = DocumentFacts & { offset?: PrinterOffset }

/**
 * A page to print on plain paper and hold against a sheet of labels: every label's edge with a cross in its middle, and
 * two rulers in millimetres through the label in the middle of the sheet, whose 0 is that label's left and top edge. Where
 * a ruler meets the real edge is the offset to set: to the left of 0 and above it below zero. 100 mm on a ruler are
 * 100 mm on paper, or the printer shrinks its pages. With an offset the page shows what labels will get. Throws as
 * `fromPlace`.
 */
export async function testSheet(
  geometry: SheetGeometry,
  { offset = noOffset, ...facts }: TestSheetOptions,
): Promise<Buffer> {
  const sheet = openSheet(geometry, facts)
  sheet.addPage()
  const places = fromPlace(geometry, geometry.columns * geometry.rows, 1, offset).map(({ place }) => place)
  for (const place of places) {
    drawOutline(sheet.pdf, geometry.label, place)
    drawCross(sheet, place)
  }
  const middle = places.find(({ row, column }) => row === half(geometry.rows) && column === half(geometry.columns))
  if (middle !== undefined) drawRulers(sheet, middle)
  return sheet.bytes()
}

function half(count: number): number {
  return Math.ceil(count / 2)
}

const crossMm = 3
/** Far enough to both sides for any offset that can be set, and to check the scale. */
const rulerMm = { from: -10, to: 100 }
const tickMm = { one: 1, five: 2, ten: 3 }
const figureMm = 1.8

function drawCross({ pdf }: Sheet, { x, y, width, height }: Place): void {
  const [across, down] = [toMm(x) + toMm(width) / 2, toMm(y) + toMm(height) / 2]
  pdf.moveTo(across - crossMm, down).lineTo(across + crossMm, down)
  pdf.moveTo(across, down - crossMm).lineTo(across, down + crossMm)
  pdf.lineWidth(0.1).stroke('black')
}

function drawRulers({ pdf }: Sheet, place: Place): void {
  const [left, top] = [toMm(place.x), toMm(place.y)]
  const [across, down] = [left + toMm(place.width) / 2, top + toMm(place.height) / 2]
  pdf.moveTo(left + rulerMm.from, down).lineTo(left + rulerMm.to, down)
  pdf.moveTo(across, top + rulerMm.from).lineTo(across, top + rulerMm.to)
  for (let mm = rulerMm.from; mm <= rulerMm.to; mm++) {
    const long = mm % 10 === 0 ? tickMm.ten : mm % 5 === 0 ? tickMm.five : tickMm.one
    pdf.moveTo(left + mm, down).lineTo(left + mm, down + long)
    pdf.moveTo(across, top + mm).lineTo(across + long, top + mm)
  }
  pdf.lineWidth(0.1).stroke('black')
  pdf.font('regular').fontSize(figureMm).fillColor('black')
  for (let mm = rulerMm.from; mm <= rulerMm.to; mm += 10) {
    const figure = { lineBreak: false, baseline: 'middle' } as const
    pdf.text(String(mm), left + mm + 0.4, down + tickMm.ten, figure)
    pdf.text(String(mm), across + tickMm.ten + 0.4, top + mm, figure)
  }
}
