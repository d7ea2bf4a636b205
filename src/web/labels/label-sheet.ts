import { setImmediate as nextTurn } from 'node:timers/promises'
import { create } from 'qrcode'
import {
  type Composition,
  compose,
  type Division,
  divideLabel,
  fromPlace,
  type LabelLine,
  noOffset,
  type PrinterOffset,
  type SheetGeometry,
} from '../../core/labels/index.ts'
import { type DocumentFacts, measureBy, openSheet, toMm } from './document.ts'
import { drawCode, drawOutline, drawRows, type Modules } from './draw.ts'
import { CharactersMissing, missingCharacters, type Unprintable } from './letters.ts'

/** One label: what it says, and what a phone reads from its code (an address); null: no code. */
export type SheetLabel = { lines: readonly LabelLine[]; qr: string | null }

export type SheetOptions = DocumentFacts & {
  /** The first free label of the first page, from 1. */
  startAt?: number
  offset?: PrinterOffset
  /** Draw each label's edge, for plain paper that is cut. */
  outlines?: boolean
}

/** Labels that cannot be printed on this sheet, by their index from 0, and what has no room on them. */
export type Misfit = { label: number; noRoomFor: 'code' | 'words' }

export class LabelsDoNotFit extends Error {
  override readonly name = 'LabelsDoNotFit'
  readonly misfits: readonly Misfit[]

  constructor(misfits: readonly Misfit[]) {
    super(`labels without room: ${misfits.map(({ label, noRoomFor }) => `${label} (${noRoomFor})`).join(', ')}`)
    this.misfits = misfits
  }
}

/**
 * Labels as a PDF file, one page a sheet. Nothing reaches over a label's edge, and nothing that a label must say is left
 * off: where it has no room, no file is made.
 * @throws CharactersMissing with all labels that the letters are not enough for; LabelsDoNotFit with all that have no
 *   room; RangeError as `fromPlace`, and for a code's text that is empty or too long for any QR code
 */
export async function labelSheet(
  geometry: SheetGeometry,
  labels: readonly SheetLabel[],
  { startAt = 1, offset = noOffset, outlines = false, ...facts }: SheetOptions,
): Promise<Buffer> {
  const placed = fromPlace(geometry, labels.length, startAt, offset)
  const sheet = openSheet(geometry, facts)
  const faces = await setAll(geometry, labels, sheet.pdf)
  let pages = 0
  for (const [index, { page, place }] of placed.entries()) {
    for (; pages < page; pages++) {
      sheet.addPage()
      await nextTurn()
    }
    const face = faces[index]
    if (face === undefined) throw new Error('a place without a label')
    const [x, y] = [toMm(place.x), toMm(place.y)]
    if (outlines) drawOutline(sheet.pdf, geometry.label, place)
    if (face.code !== null)
      drawCode(sheet.pdf, face.code.modules, { ...face.code.box, x: x + face.code.box.x, y: y + face.code.box.y })
    drawRows(sheet.pdf, face.words.rows, x, y)
  }
  if (pages === 0) sheet.addPage()
  return sheet.bytes()
}

type LabelFace = { code: { modules: Modules; box: NonNullable<Division['code']>['box'] } | null; words: Composition }

/**
 * Jars of one batch have the same label: each different code is made once, and words are set once for each different
 * label. Between labels the process may turn to other requests.
 */
async function setAll(
  geometry: SheetGeometry,
  labels: readonly SheetLabel[],
  pdf: PDFKit.PDFDocument,
): Promise<LabelFace[]> {
  const measure = measureBy(pdf)
  const codes = new Map<string, Modules>()
  const known = new Map<string, Composition | null>()
  const missing = new Map<string, string[]>()
  const faces: LabelFace[] = []
  const misfits: Misfit[] = []
  const unprintable: Unprintable[] = []
  for (const [label, { lines, qr }] of labels.entries()) {
    await nextTurn()
    const modules = qr === null ? null : (codes.get(qr) ?? modulesOf(qr))
    if (qr !== null && modules !== null) codes.set(qr, modules)
    const division = divideLabel(geometry.label, modules?.size ?? null)
    const key = JSON.stringify([modules?.size, lines])
    let words = known.get(key)
    if (words === undefined) {
      missing.set(key, missingCharacters(pdf, lines))
      words = division === null ? null : compose(lines, division.region, measure)
      known.set(key, words)
    }
    const characters = missing.get(key) ?? []
    if (characters.length > 0) unprintable.push({ label, characters })
    if (division === null || words === null) {
      misfits.push({ label, noRoomFor: division === null ? 'code' : 'words' })
      continue
    }
    faces.push({ code: modules === null || division.code === null ? null : { modules, box: division.code.box }, words })
  }
  if (unprintable.length > 0) throw new CharactersMissing(unprintable)
  if (misfits.length > 0) throw new LabelsDoNotFit(misfits)
  return faces
}

/** Error correction M: about 15 % of a code may be scratched or steamed off (ISO/IEC 18004:2015, 5.1, memory). */
function modulesOf(text: string): Modules {
  if (text === '' || text.length > longestCode) throw new RangeError(`a code's text has 1 to ${longestCode} characters`)
  const { size, data } = create(text, { errorCorrectionLevel: 'M' }).modules
  return { size, data }
}

/** Longer ones need so many modules that no label has room. Our choice. */
const longestCode = 300
