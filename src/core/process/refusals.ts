import { cuts, spelled } from './spelling.ts'
import type { Refusal } from './types.ts'
import { type UntestedStyle, untestedEntries } from './untested-entries.ts'

export type { UntestedStyle } from './untested-entries.ts'
export { type Difference, whereTheyDiffer } from './where-they-differ.ts'

const byName = index((entry) => entry.names)
const byFood = index((entry) => (entry.anyForm ? entry.names : []))
const byWay = index((entry) => entry.ways)

/** Everything that is refused because no process was tested or one was withdrawn, for a page to list. */
export function untestedStyles(): readonly UntestedStyle[] {
  return untestedEntries
}

/** The entry for a product made in some ways, each by itself ("pumpkin" and "puree"), or undefined. Listed names only. */
export function untestedStyle(product: string, ways: readonly string[] = []): UntestedStyle | undefined {
  const found = [product, ...ways.flatMap((way) => [`${product} ${way}`, `${way} ${product}`])]
    .map((name) => byName.get(spelled(name)))
    .find((entry) => entry !== undefined)
  return found ?? ways.map((way) => byWay.get(spelled(way))).find((entry) => entry !== undefined)
}

/** The entry for a food that is refused in any form, where a name begins or ends with it ("elderberry jelly"). */
export function untestedPart(name: string): UntestedStyle | undefined {
  return cuts(spelled(name))
    .flatMap(([first, second]) => [
      byFood.get(first) ?? byName.get(`${second} ${first}`),
      byFood.get(second) ?? byWay.get(second),
    ])
    .find((entry) => entry !== undefined)
}

/** The refusal that an entry gives. */
export function refusalFor({ reason, says, instead, source }: UntestedStyle): Refusal {
  return { answer: 'refused', reason, says, instead, source }
}

function index(words: (entry: UntestedStyle) => readonly string[]): ReadonlyMap<string, UntestedStyle> {
  return new Map(untestedEntries.flatMap((entry) => words(entry).map((word) => [spelled(word), entry] as const)))
}
