import { checkGeometry, type Hundredths, labelSize, type SheetGeometry } from './geometry.ts'

/** One label's box, from the paper's top left corner. Numbered from 1, row after row, as one reads. */
export type Place = {
  number: number
  column: number
  row: number
  x: Hundredths
  y: Hundredths
  width: Hundredths
  height: Hundredths
}

/** How far a printer's picture must be moved to lie on the labels: to the right and down; negative: left and up. */
export type PrinterOffset = { dx: Hundredths; dy: Hundredths }
export const noOffset: PrinterOffset = { dx: 0, dy: 0 }
/** A printer that is off by more than this takes its paper in wrongly. Our choice: 10 mm. */
export const mostOffset: Hundredths = 1000

/** The most labels of one printing. Our choice: far more than the jars of a day. */
export const mostLabels = 1000

/** Where one of the labels goes: pages and places from 1. */
export type PlacedLabel = { page: number; place: Place }

/** The boxes of all labels of a sheet. @throws RangeError for a geometry in which `checkGeometry` finds a fault */
export function placesOf(geometry: SheetGeometry): Place[] {
  const [problem] = checkGeometry(geometry)
  if (problem) throw new RangeError(`not a sheet of labels: ${problem.at} ${problem.fault}`)
  const { columns, rows, margins, gaps } = geometry
  const { width, height } = labelSize(geometry.label)
  return Array.from({ length: rows * columns }, (_, index) => {
    const column = index % columns
    const row = Math.floor(index / columns)
    return {
      number: index + 1,
      column: column + 1,
      row: row + 1,
      x: margins.left + column * (width + gaps.across),
      y: margins.top + row * (height + gaps.down),
      width,
      height,
    }
  })
}

/** Pages that so many labels need when the first goes to a place of the first page; 0 labels need none. Throws as `fromPlace`. */
export function pagesNeeded(geometry: SheetGeometry, count: number, startAt = 1): number {
  return fromPlace(geometry, count, startAt).at(-1)?.page ?? 0
}

/**
 * Places for so many labels, the first at a place of the first page, on as many pages as they need. With a printer's
 * offset each box is moved by it, which may carry it over the paper's edge: that is where this printer's paper lies.
 * @throws RangeError for a geometry with a fault, a count that is not whole from 0 to `mostLabels`, a place that the
 *   sheet does not have, or an offset that is not whole or above `mostOffset`
 */
export function fromPlace(
  geometry: SheetGeometry,
  count: number,
  startAt = 1,
  { dx, dy }: PrinterOffset = noOffset,
): PlacedLabel[] {
  const places = placesOf(geometry)
  if (!Number.isSafeInteger(count) || count < 0 || count > mostLabels)
    throw new RangeError(`labels are a whole number from 0 to ${mostLabels}`)
  if (!Number.isSafeInteger(startAt) || startAt < 1 || startAt > places.length)
    throw new RangeError(`the sheet has places 1 to ${places.length}, not ${startAt}`)
  if (![dx, dy].every((length) => Number.isSafeInteger(length) && Math.abs(length) <= mostOffset))
    throw new RangeError(`an offset is whole hundredths of a millimetre, at most ${mostOffset} to either side`)
  return Array.from({ length: count }, (_, index) => {
    const at = startAt - 1 + index
    const place = places[at % places.length]
    if (place === undefined) throw new RangeError('a sheet without places')
    return {
      page: Math.floor(at / places.length) + 1,
      place: { ...place, x: place.x + dx, y: place.y + dy },
    }
  })
}
