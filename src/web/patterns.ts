import { type Markup, markup } from './markup.ts'

/**
 * Patterns by which parts of a whole are told apart, each with its hue: in black and white and with any colour vision
 * the pattern alone is enough. Classes and outlets have theirs fixed; products take `productPattern` by their order.
 */
export const patternKeys = [
  'firm',
  'ripe',
  'soft',
  'damaged',
  'set-aside',
  'jars',
  'trim',
  'juice',
  'vinegar',
  'feed',
  'compost',
  'kept',
  'lost',
  'product-1',
  'product-2',
  'product-3',
  'product-4',
  'product-5',
  'product-6',
  'product-7',
  'product-8',
] as const
export type PatternKey = (typeof patternKeys)[number]

/** The pattern of the nth product of a page, from 0; after the eighth they begin again, and label and key tell. */
export function productPattern(n: number): PatternKey {
  const key = patternKeys[patternKeys.indexOf('product-1') + (n % 8)]
  if (key === undefined) throw new RangeError('products are counted from 0')
  return key
}

/** The class of the hue that lies under a pattern. */
export function hueClass(key: PatternKey): string {
  return `hue-${looks[key].hue}`
}

/** `fill` of a shape that shows the pattern over its hue, in a drawing that has `patternDefinitions` for it. */
export function patternFill(drawingId: string, key: PatternKey): string {
  return `url(#${drawingId}-${key})`
}

/** The definitions of these patterns for one drawing; `drawingId` keeps them apart from those of other drawings. */
export function patternDefinitions(drawingId: string, keys: Iterable<PatternKey>): Markup {
  const definitions = [...new Set(keys)].map((key) => {
    const { size, mark } = looks[key]
    return markup`<pattern id="${drawingId}-${key}" width="${size}" height="${size}" patternUnits="userSpaceOnUse">${mark}</pattern>`
  })
  return markup`<defs>${definitions}</defs>`
}

/** Ids within a page: letters, digits and hyphens, so that they need no escaping in `url(#...)`. */
export function checkDrawingId(id: string): void {
  if (!/^[a-z][a-z0-9-]*$/.test(id))
    throw new RangeError('the id of a drawing is made of small letters, digits and hyphens')
}

type Look = { hue: string; size: number; mark: Markup }

const line = (d: string): Markup => markup`<path class="mark" d="${d}"/>`
const dot = (at: number, r: number): Markup => markup`<circle class="mark-filled" cx="${at}" cy="${at}" r="${r}"/>`

const plain = (hue: string): Look => ({ hue, size: 8, mark: markup`` })
const rising = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M-1 1 L1 -1 M0 ${size} L${size} 0 M${size - 1} ${size + 1} L${size + 1} ${size - 1}`),
})
const falling = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M-1 ${size - 1} L1 ${size + 1} M0 0 L${size} ${size} M${size - 1} -1 L${size + 1} 1`),
})
const crossed = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M0 0 L${size} ${size} M0 ${size} L${size} 0`),
})
const upright = (hue: string, size: number): Look => ({ hue, size, mark: line(`M${size / 2} 0 V${size}`) })
const level = (hue: string, size: number): Look => ({ hue, size, mark: line(`M0 ${size / 2} H${size}`) })
const grid = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M${size / 2} 0 V${size} M0 ${size / 2} H${size}`),
})
const dots = (hue: string, size: number, r: number): Look => ({ hue, size, mark: dot(size / 2, r) })
const waves = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M0 ${size / 2} Q${size / 4} 0 ${size / 2} ${size / 2} T${size} ${size / 2}`),
})
const steps = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: line(`M0 ${size * 0.75} L${size / 2} ${size * 0.25} L${size} ${size * 0.75}`),
})
const rings = (hue: string, size: number): Look => ({
  hue,
  size,
  mark: markup`<circle class="mark" cx="${size / 2}" cy="${size / 2}" r="${size / 4}"/>`,
})

const looks: Record<PatternKey, Look> = {
  firm: plain('leaf'),
  ripe: dots('amber', 10, 1.3),
  soft: waves('damson', 12),
  damaged: crossed('clay', 10),
  'set-aside': rings('paper', 14),
  jars: upright('damson', 9),
  trim: dots('moss', 7, 1.5),
  juice: waves('amber', 9),
  vinegar: level('straw', 7),
  feed: steps('moss', 10),
  compost: grid('clay', 8),
  kept: rings('sky', 10),
  lost: crossed('rust', 5),
  'product-1': rising('damson', 10),
  'product-2': falling('amber', 10),
  'product-3': upright('leaf', 10),
  'product-4': level('sky', 10),
  'product-5': dots('clay', 14, 2),
  'product-6': steps('slate', 14),
  'product-7': rising('straw', 5),
  'product-8': grid('moss', 14),
}
