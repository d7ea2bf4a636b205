import { z } from 'zod'
import { geometryLimits, mostOffset } from '../../../core/labels/index.ts'

const { paper, label, count } = geometryLimits
const length = (least: number, most: number) => z.int().min(least).max(most)
const labelLength = length(label.least, label.most)
const paperLength = length(paper.least, paper.most)
const counted = length(count.least, count.most)

/** A sheet's measures as they are stored and as calls send them, in hundredths of a millimetre. `checkGeometry` says whether they go together. */
export const geometryDocument = z
  .strictObject({
    paper: z.union([z.enum(['A4', 'Letter']), z.strictObject({ width: paperLength, height: paperLength })]),
    columns: counted,
    rows: counted,
    label: z.discriminatedUnion('shape', [
      z.strictObject({
        shape: z.literal('rectangle'),
        width: labelLength,
        height: labelLength,
        corner: length(0, label.most),
      }),
      z.strictObject({ shape: z.literal('round'), diameter: labelLength }),
    ]),
    margins: z
      .strictObject({ top: length(0, paper.most), left: length(0, paper.most) })
      .describe('From the paper’s edge to the first label'),
    gaps: z
      .strictObject({ across: length(0, paper.most), down: length(0, paper.most) })
      .describe('Between one label’s edge and the next one’s'),
  })
  .describe('In hundredths of a millimetre')

/** How far a printer’s picture is moved, in hundredths of a millimetre. */
export const offsetDocument = z
  .strictObject({ dx: length(-mostOffset, mostOffset), dy: length(-mostOffset, mostOffset) })
  .describe('How far print is moved to the right and down, in hundredths of a millimetre; below 0: left and up')
