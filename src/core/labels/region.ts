import { type LabelShape, labelSize } from './geometry.ts'

/** A part of a label, in millimetres from the label's own top left corner. */
export type Box = { x: number; y: number; width: number; height: number }

/** Where words may stand: from `top` to `bottom`, and between which x a line that reaches from one y to another. */
export type Region = {
  top: number
  bottom: number
  /** Beside a code words begin at the left; without one or above it in a circle they stand in the middle. */
  align: 'left' | 'centre'
  /** Whether a line may be longer further down. */
  bent: boolean
  /** null: no line fits there. */
  span(from: number, to: number): { left: number; right: number } | null
}

/** A label divided in a code with its quiet zone and a region for words. */
export type Division = { code: { box: Box; moduleMm: number } | null; region: Region }

/** Modules of a QR code: least for a phone's camera and a 300 dpi printer, and most where there is room. Our choice. */
export const leastModuleMm = 0.4
const mostModuleMm = 0.5
/** White modules on every side of a QR code (ISO/IEC 18004:2015, 6.3.8, memory). */
export const quietModules = 4

/** Words keep so far from a label's edge, and codes so far: printers are off by a little. Our choice. */
const wordsInsetMm = 2
const codeInsetMm = 1
/** A column of words narrower than this holds no product's name. */
const leastColumnMm = 15

/**
 * Divides a label between a square code of so many modules a side, quiet zone left out, and words. In a rectangle that is
 * at least as wide as high the code stands at the right, else at the bottom; in a circle it stands low in the middle.
 * `modules` null: no code. Returns null where a code with modules of 0.4 mm leaves no room for words.
 */
export function divideLabel(label: LabelShape, modules: number | null): Division | null {
  const { width, height } = labelSize(label)
  const size = { width: width / 100, height: height / 100 }
  return label.shape === 'round'
    ? divideCircle(size.width, modules)
    : divideRectangle(size, label.corner / 100, modules)
}

type SizeMm = { width: number; height: number }

function divideRectangle({ width, height }: SizeMm, corner: number, modules: number | null): Division | null {
  const wide = width >= height
  const words = (right: number, bottom: number, align: Region['align']): Region => ({
    top: wordsInsetMm,
    bottom,
    align,
    bent: corner > wordsInsetMm,
    span: (from, to) => {
      const at = (y: number) => insetAt(y, height, corner, wordsInsetMm)
      const inset = Math.max(at(from), at(to))
      return ordered(inset, Math.min(right, width - inset))
    },
  })
  if (modules === null) return { code: null, region: words(width - wordsInsetMm, height - wordsInsetMm, 'centre') }
  const side = modules + 2 * quietModules
  const [along, across] = wide ? [width, height] : [height, width]
  const moduleMm = moduleFor(side, Math.min(across - 2 * codeInsetMm, 0.45 * along))
  const codeMm = side * moduleMm
  const [x, y] = wide
    ? [width - insetAt((height - codeMm) / 2, height, corner, codeInsetMm) - codeMm, (height - codeMm) / 2]
    : [(width - codeMm) / 2, height - insetAt((width - codeMm) / 2, width, corner, codeInsetMm) - codeMm]
  const rest = wide ? x - wordsInsetMm : y - wordsInsetMm
  if (codeMm > across - 2 * codeInsetMm || rest < (wide ? leastColumnMm : leastColumnMm / 2)) return null
  return {
    code: { box: { x, y, width: codeMm, height: codeMm }, moduleMm },
    region: wide ? words(x, height - wordsInsetMm, 'left') : words(width - wordsInsetMm, y, 'centre'),
  }
}

function divideCircle(diameter: number, modules: number | null): Division | null {
  const radius = diameter / 2
  const words = (bottom: number): Region => ({
    top: wordsInsetMm,
    bottom,
    align: 'centre',
    bent: true,
    span: (from, to) => {
      const half = Math.min(chord(radius - wordsInsetMm, from - radius), chord(radius - wordsInsetMm, to - radius))
      return ordered(radius - half, radius + half)
    },
  })
  if (modules === null) return { code: null, region: words(diameter - wordsInsetMm) }
  const side = modules + 2 * quietModules
  const moduleMm = moduleFor(side, 0.32 * diameter)
  const codeMm = side * moduleMm
  const bottom = radius + chord(radius - codeInsetMm, codeMm / 2)
  const y = bottom - codeMm
  if (codeMm > radius || y < radius / 2) return null
  return { code: { box: { x: radius - codeMm / 2, y, width: codeMm, height: codeMm }, moduleMm }, region: words(y) }
}

function moduleFor(side: number, roomMm: number): number {
  return Math.max(leastModuleMm, Math.min(mostModuleMm, roomMm / side))
}

/** Half a chord of a circle at a distance from its centre; 0 outside. */
function chord(radius: number, distance: number): number {
  return Math.sqrt(Math.max(0, radius * radius - distance * distance))
}

/** How far in from the side something at a height must be that keeps so far from the edge, rounded corners included. */
function insetAt(y: number, height: number, corner: number, edge: number): number {
  const radius = Math.max(0, corner - edge)
  const into = Math.min(radius, radius - Math.min(y, height - y) + edge)
  return into <= 0 ? edge : edge + radius - chord(radius, into)
}

function ordered(left: number, right: number): { left: number; right: number } | null {
  return right > left ? { left, right } : null
}
