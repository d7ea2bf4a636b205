import PDFDocument from 'pdfkit'
import type { Measure } from '../../core/labels/index.ts'
import { type Hundredths, paperSize, type SheetGeometry } from '../../core/labels/index.ts'
import { type Face, faceFile } from './fonts.ts'

export type DocumentFacts = {
  /** What a reader's window is called: "Labels: apple sauce, 14 Sep 2026" */
  title: string
  /** BCP 47 tag of the words on it */
  lang: string
  /** Written into the file: the same input at the same time gives the same bytes */
  created: Date
}

export type Sheet = {
  pdf: PDFKit.PDFDocument
  /** A new page of the sheet's paper; its unit is the millimetre, from the top left corner. */
  addPage(): void
  /** Ends the file and gives its bytes. */
  bytes(): Promise<Buffer>
}

const pointsPerMm = 72 / 25.4

/** An empty file whose pages are sheets of a geometry's paper. */
export function openSheet(geometry: SheetGeometry, { title, lang, created }: DocumentFacts): Sheet {
  const paper = paperSize(geometry.paper)
  const pdf = new PDFDocument({
    autoFirstPage: false,
    pdfVersion: '1.7',
    lang,
    displayTitle: true,
    info: { Title: title, CreationDate: created, ModDate: created },
  })
  const chunks: Buffer[] = []
  const ended = new Promise<Buffer>((resolve, reject) => {
    pdf.on('data', (chunk: Buffer) => chunks.push(chunk))
    pdf.once('end', () => resolve(Buffer.concat(chunks)))
    pdf.once('error', reject)
  })
  for (const face of ['regular', 'bold'] as const) pdf.registerFont(face, faceFile(face))
  return {
    pdf,
    addPage: () => {
      pdf.addPage({ size: [points(paper.width), points(paper.height)], margin: 0 })
      pdf.scale(pointsPerMm)
    },
    bytes: () => {
      pdf.end()
      return ended
    },
  }
}

/** Hundredths of a millimetre to millimetres, the unit of drawing. */
export function toMm(length: Hundredths): number {
  return length / 100
}

/** Measures letters by a sheet's own fonts. What was measured once is remembered. */
export function measureBy(pdf: PDFKit.PDFDocument): Measure {
  const known: Readonly<Record<Face, Map<string, number>>> = { regular: new Map(), bold: new Map() }
  return (text, bold) => {
    const face: Face = bold ? 'bold' : 'regular'
    let width = known[face].get(text)
    if (width === undefined) {
      width = pdf.font(face).fontSize(1).widthOfString(text)
      known[face].set(text, width)
    }
    return width
  }
}

function points(length: Hundredths): number {
  return toMm(length) * pointsPerMm
}
