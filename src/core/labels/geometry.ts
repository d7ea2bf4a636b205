/** A length in whole hundredths of a millimetre: every published measure is exact in it, and sums stay exact. */
export type Hundredths = number

export type LabelShape =
  | { shape: 'rectangle'; width: Hundredths; height: Hundredths; corner: Hundredths }
  | { shape: 'round'; diameter: Hundredths }

export type Paper = 'A4' | 'Letter' | { width: Hundredths; height: Hundredths }

/** How labels lie on a sheet. The margins are from the paper's top and left edge to the first label. */
export type SheetGeometry = {
  paper: Paper
  columns: number
  rows: number
  label: LabelShape
  margins: { top: Hundredths; left: Hundredths }
  /** Between one label's edge and the next one's, not from start to start. */
  gaps: { across: Hundredths; down: Hundredths }
}

export type Size = { width: Hundredths; height: Hundredths }

/** A4: 210 x 297 mm (ISO 216). Letter: 8.5 x 11 in (ANSI/ASME Y14.1, size A). Both from memory. */
const papers: Readonly<Record<'A4' | 'Letter', Size>> = {
  A4: { width: 21_000, height: 29_700 },
  Letter: { width: 21_590, height: 27_940 },
}

/** Bounds of what can be asked for. Our choice: below 15 mm no label holds what it must say. */
export const geometryLimits = {
  paper: { least: 2000, most: 60_000 },
  label: { least: 1500, most: 60_000 },
  count: { least: 1, most: 40 },
} as const

export const geometryFaults = ['not-whole', 'too-small', 'too-large', 'beyond-paper', 'corner-above-half'] as const
export type GeometryFault = (typeof geometryFaults)[number]

/** A fault and its field: "label.width", "margins.top", "columns". `limit`: what would still do, where there is one. */
export type GeometryProblem = { at: string; fault: GeometryFault; limit?: number }

/** Millimetres as they are typed to whole hundredths: 63.5 is 6350. Rounds to the nearest. */
export function hundredths(mm: number): Hundredths {
  return Math.round(mm * 100)
}

/** A sheet's paper, in hundredths of a millimetre. */
export function paperSize(paper: Paper): Size {
  return typeof paper === 'string' ? papers[paper] : paper
}

/** The box round a label; a round one's is a square. */
export function labelSize(label: LabelShape): Size {
  return label.shape === 'round'
    ? { width: label.diameter, height: label.diameter }
    : { width: label.width, height: label.height }
}

/**
 * Names all that keeps a geometry from being printed; an empty list: it can be. When each measure is possible in itself
 * and the labels together are not, the fault is `beyond-paper` at `columns` or `rows`, with how many would fit as its
 * limit (0: not even one), or at a margin that leaves no room by itself.
 */
export function checkGeometry(geometry: SheetGeometry): GeometryProblem[] {
  const { paper, columns, rows, label, margins, gaps } = geometry
  const { paper: papers, label: labels, count } = geometryLimits
  const ownPaper = typeof paper === 'string' ? [] : checkSize(paper, 'paper', papers.least, papers.most)
  const ownLabel =
    label.shape === 'round'
      ? checkLength(label.diameter, 'label.diameter', labels.least, labels.most)
      : [...checkSize(label, 'label', labels.least, labels.most), ...checkCorner(label)]
  const problems = [
    ...ownPaper,
    ...ownLabel,
    ...checkLength(columns, 'columns', count.least, count.most),
    ...checkLength(rows, 'rows', count.least, count.most),
    ...checkLength(margins.left, 'margins.left', 0, papers.most),
    ...checkLength(margins.top, 'margins.top', 0, papers.most),
    ...checkLength(gaps.across, 'gaps.across', 0, papers.most),
    ...checkLength(gaps.down, 'gaps.down', 0, papers.most),
  ]
  if (problems.length > 0) return problems
  const sheet = paperSize(paper)
  const each = labelSize(label)
  return [
    ...checkRun('columns', 'margins.left', columns, margins.left, each.width, gaps.across, sheet.width),
    ...checkRun('rows', 'margins.top', rows, margins.top, each.height, gaps.down, sheet.height),
  ]
}

/** "A4, 3 x 8, 70 x 37 mm", "Letter, 3 x 4, 60 mm round", "100 x 150 mm, 1 x 2, 90 x 60 mm": columns before rows. */
export function geometryName({ paper, columns, rows, label }: SheetGeometry): string {
  const sheet = typeof paper === 'string' ? paper : `${mm(paper.width)} x ${mm(paper.height)} mm`
  const each =
    label.shape === 'round' ? `${mm(label.diameter)} mm round` : `${mm(label.width)} x ${mm(label.height)} mm`
  return `${sheet}, ${columns} x ${rows}, ${each}`
}

function mm(length: Hundredths): string {
  return String(length / 100)
}

function checkSize(size: Size, at: string, least: Hundredths, most: Hundredths): GeometryProblem[] {
  return [
    ...checkLength(size.width, `${at}.width`, least, most),
    ...checkLength(size.height, `${at}.height`, least, most),
  ]
}

function checkLength(value: number, at: string, least: number, most: number): GeometryProblem[] {
  if (!Number.isSafeInteger(value)) return [{ at, fault: 'not-whole' }]
  if (value < least) return [{ at, fault: 'too-small', limit: least }]
  return value > most ? [{ at, fault: 'too-large', limit: most }] : []
}

function checkCorner({ width, height, corner }: Size & { corner: Hundredths }): GeometryProblem[] {
  const half = Math.floor(Math.min(width, height) / 2)
  const problems = checkLength(corner, 'label.corner', 0, geometryLimits.label.most)
  return problems.length === 0 && corner > half
    ? [{ at: 'label.corner', fault: 'corner-above-half', limit: half }]
    : problems
}

function checkRun(
  at: 'columns' | 'rows',
  marginAt: string,
  count: number,
  margin: Hundredths,
  each: Hundredths,
  gap: Hundredths,
  room: Hundredths,
): GeometryProblem[] {
  if (margin + count * each + (count - 1) * gap <= room) return []
  if (each <= room && margin + each > room) return [{ at: marginAt, fault: 'beyond-paper', limit: room - each }]
  return [{ at, fault: 'beyond-paper', limit: Math.max(0, Math.floor((room - margin + gap) / (each + gap))) }]
}
