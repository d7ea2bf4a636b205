import { type Box, type LabelShape, type Place, quietModules, type SetRow } from '../../core/labels/index.ts'
import { toMm } from './document.ts'

/** A square of modules, row after row; 1 is dark. */
export type Modules = { size: number; data: Uint8Array }

const hairlineMm = 0.1
const mmPerPoint = 25.4 / 72

/** A label's edge as a hairline. */
export function drawOutline(pdf: PDFKit.PDFDocument, label: LabelShape, place: Place): void {
  const [x, y] = [toMm(place.x), toMm(place.y)]
  const [width, height] = [toMm(place.width), toMm(place.height)]
  pdf.lineWidth(hairlineMm)
  if (label.shape === 'round') pdf.circle(x + width / 2, y + height / 2, width / 2)
  else if (label.corner === 0) pdf.rect(x, y, width, height)
  else pdf.roundedRect(x, y, width, height, toMm(label.corner))
  pdf.stroke('black')
}

/** Rows of letters, from a label's top left corner in millimetres. */
export function drawRows(pdf: PDFKit.PDFDocument, rows: readonly SetRow[], left: number, top: number): void {
  pdf.fillColor('black')
  for (const { text, bold, sizePt, x, baseline } of rows) {
    pdf
      .font(bold ? 'bold' : 'regular')
      .fontSize(sizePt * mmPerPoint)
      .text(text, left + x, top + baseline, { lineBreak: false, baseline: 'alphabetic' })
  }
}

/** A code's dark modules as one path, so that no seam shows between them; its quiet zone is left white. */
export function drawCode(pdf: PDFKit.PDFDocument, { size, data }: Modules, box: Box): void {
  const each = box.width / (size + 2 * quietModules)
  const [left, top] = [box.x + quietModules * each, box.y + quietModules * each]
  for (let row = 0; row < size; row++) {
    for (let from = 0; from < size; from++) {
      if (data[row * size + from] !== 1) continue
      let to = from + 1
      while (to < size && data[row * size + to] === 1) to++
      pdf.rect(left + from * each, top + row * each, (to - from) * each, each)
      from = to
    }
  }
  pdf.fill('black')
}
