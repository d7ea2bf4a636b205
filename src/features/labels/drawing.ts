import { paperSize, placesOf, type SheetGeometry } from '../../core/labels/index.ts'
import { type Markup, markup } from '../../web/markup.ts'

/** A sheet as a small drawing, its labels numbered as they are printed, and the same in words. */
export type SheetDrawing = { drawing: Markup; says: string }

/** @param startAt the first free label; those before it are drawn as used. Null: all are free. Throws as `placesOf`. */
export function sheetDrawing(geometry: SheetGeometry, startAt: number | null, id = 'sheet'): SheetDrawing {
  const places = placesOf(geometry)
  const paper = paperSize(geometry.paper)
  const used = (startAt ?? 1) - 1
  const says = sheetSays(places.length, used)
  const [width, height] = [mm(paper.width), mm(paper.height)]
  const scale = WIDTH / width
  const labels = places.map(({ number, x, y, width: across, height: down }) => {
    const [left, top] = [mm(x), mm(y)]
    const [wide, high] = [mm(across), mm(down)]
    const taken = number <= used
    const shape =
      geometry.label.shape === 'round'
        ? markup`<circle cx="${left + wide / 2}" cy="${top + high / 2}" r="${wide / 2}" fill="${taken ? 'currentColor' : 'none'}" fill-opacity="0.35" stroke="currentColor" stroke-width="${number === startAt ? 2 : 0.5}"/>`
        : markup`<rect x="${left}" y="${top}" width="${wide}" height="${high}" rx="${mm(geometry.label.corner)}" fill="${taken ? 'currentColor' : 'none'}" fill-opacity="0.35" stroke="currentColor" stroke-width="${number === startAt ? 2 : 0.5}"/>`
    const size = Math.min(wide, high, 26) / 2
    return taken
      ? shape
      : markup`${shape}<text x="${left + wide / 2}" y="${top + high / 2 + size * 0.35}" font-size="${size}" text-anchor="middle" fill="currentColor">${number}</text>`
  })
  return {
    says,
    drawing: markup`<svg role="img" aria-labelledby="${id}-title" viewBox="-1 -1 ${width + 2} ${height + 2}" width="${WIDTH}" height="${height * scale}"><title id="${id}-title">${says}</title><rect x="0" y="0" width="${width}" height="${height}" fill="none" stroke="currentColor" stroke-width="0.75"/>${labels}</svg>`,
  }
}

/** "24 labels on the sheet, numbered row after row; the first 3 are used" */
function sheetSays(labels: number, used: number): string {
  const count = labels === 1 ? '1 label on the sheet' : `${labels} labels on the sheet, numbered row after row`
  if (used === 0) return count
  return `${count}; ${used === 1 ? 'the first is' : `the first ${used} are`} used`
}

const WIDTH = 260

function mm(length: number): number {
  return length / 100
}
