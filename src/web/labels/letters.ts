import { isBold, type LabelLine } from '../../core/labels/index.ts'
import type { Face } from './fonts.ts'

/** Labels with characters that the label's letters do not have, by their index from 0: emoji, Chinese. */
export type Unprintable = { label: number; characters: string[] }

export class CharactersMissing extends Error {
  override readonly name = 'CharactersMissing'
  readonly labels: readonly Unprintable[]

  constructor(labels: readonly Unprintable[]) {
    super(`characters that cannot be printed: ${labels.map((one) => `${one.label} (${one.characters.join('')})`)}`)
    this.labels = labels
  }
}

declare global {
  namespace PDFKit {
    interface PDFDocument {
      /** The face that was chosen last, as fontkit reads it. Not in pdfkit's own types; pdfkit's version is pinned. */
      readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } }
    }
  }
}

/** The characters of a label that its faces lack, each once: they would come out as empty boxes. What is never seen is not looked for. */
export function missingCharacters(pdf: PDFKit.PDFDocument, lines: readonly LabelLine[]): string[] {
  const missing = lines.flatMap(({ kind, text }) => {
    const face: Face = isBold(kind) ? 'bold' : 'regular'
    const { font } = pdf.font(face)._font
    return [...text].filter(
      (character) => !unseen.test(character) && !font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0),
    )
  })
  return [...new Set(missing)]
}

/** Joiners and selectors of forms: a font need not have them. */
const unseen = /\p{Default_Ignorable_Code_Point}/u
