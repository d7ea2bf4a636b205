import { geometryName, hundredths, type LabelShape, labelSize, paperSize, type SheetGeometry } from './geometry.ts'

export type KnownSheet = { name: string; geometry: SheetGeometry }

/**
 * Common sheets, named by their measures. Common practice, no source: sheets of the same measures differ in their margins
 * by a millimetre or so, which the printer's offset takes up. Labels lie in the middle of the paper.
 */
export const knownSheets: readonly KnownSheet[] = [
  sheet('A4', 3, 8, rectangle(70, 37)),
  sheet('A4', 3, 7, rectangle(63.5, 38.1, 1.5), 2.5),
  sheet('A4', 2, 7, rectangle(99.1, 38.1, 1.5), 2.5),
  sheet('A4', 2, 4, rectangle(99.1, 67.7, 1.5), 2.5),
  sheet('A4', 4, 10, rectangle(48.5, 25.4)),
  // The flat disc inside the band of a regular mouth is about 60 mm, of a wide one about 76: a label must lie within.
  sheet('A4', 3, 4, round(60), 5, 5),
  sheet('A4', 2, 3, round(75), 15, 15),
  sheet('A4', 4, 6, round(40), 6, 6),
  sheet('Letter', 3, 10, rectangle(66.68, 25.4, 1.5), 3.17),
  sheet('Letter', 2, 5, rectangle(101.6, 50.8, 1.5), 4.76),
  sheet('Letter', 3, 4, round(60), 5, 5),
  sheet('Letter', 2, 3, round(75), 15, 10),
]

/** The sheet of a name as `geometryName` writes it; null: none of these. */
export function knownSheet(name: string): KnownSheet | null {
  return knownSheets.find((one) => one.name === name) ?? null
}

/** Measures in millimetres. */
function sheet(
  paper: 'A4' | 'Letter',
  columns: number,
  rows: number,
  label: LabelShape,
  acrossMm = 0,
  downMm = 0,
): KnownSheet {
  const gaps = { across: hundredths(acrossMm), down: hundredths(downMm) }
  const each = labelSize(label)
  const room = paperSize(paper)
  const margins = {
    left: middle(room.width, columns, each.width, gaps.across),
    top: middle(room.height, rows, each.height, gaps.down),
  }
  const geometry: SheetGeometry = { paper, columns, rows, label, margins, gaps }
  return { name: geometryName(geometry), geometry }
}

function middle(room: number, count: number, each: number, gap: number): number {
  return Math.floor((room - count * each - (count - 1) * gap) / 2)
}

function rectangle(widthMm: number, heightMm: number, cornerMm = 0): LabelShape {
  return {
    shape: 'rectangle',
    width: hundredths(widthMm),
    height: hundredths(heightMm),
    corner: hundredths(cornerMm),
  }
}

function round(diameterMm: number): LabelShape {
  return { shape: 'round', diameter: hundredths(diameterMm) }
}
