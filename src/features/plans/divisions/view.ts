import type { AllocationProblem } from '../../../core/allocation/index.ts'
import {
  askDivision,
  type Destination,
  type DivisionSummary,
  destinationKey,
  type FlowLink as SummaryLink,
  type FlowNode as SummaryNode,
  summarise,
} from '../../../core/division/index.ts'
import type { CoopWays } from '../../../web/asking.ts'
import { type Beam, beam, type Segment } from '../../../web/beam.ts'
import { type Flow, flow } from '../../../web/flow.ts'
import { type PatternKey, productPattern } from '../../../web/patterns.ts'
import type { Answer } from '../documents.ts'
import { type Names, namesOf } from '../words.ts'
import type { Division } from './queries.ts'

/** A division with its answer added up and its things named: what every page of it is made from. */
export type AnsweredView = {
  division: Division
  answer: Answer
  problem: AllocationProblem
  summary: DivisionSummary
  names: Names
}

/** null for a division that has no answer. */
export function answeredView(division: Division, coop: CoopWays): AnsweredView | null {
  const { answer, question } = division
  if (answer === null) return null
  const problem = askDivision(question)
  const summary = summarise(question, problem, answer.result)
  return { division, answer, problem, summary, names: namesOf(question, problem, coop) }
}

/** Where all that came in goes: products in their order, outlets from best to worst use, kept, set aside, lost. */
export function divisionBeam(view: AnsweredView, id: string, links: boolean): Beam {
  const { summary, names } = view
  return beam({
    id,
    title: `Where the ${names.format.weight(summary.cameInGrams)} that came in go`,
    whole: summary.cameInGrams,
    segments: segmentsOf(view, links).map(({ key: _, ...segment }) => segment),
  })
}

/** Two beams with the same parts in the same order, so that letters and patterns mean the same in both. */
export function beamPair(a: AnsweredView, b: AnsweredView): [Beam, Beam] {
  const parts = [segmentsOf(a, false), segmentsOf(b, false)] as const
  // products first, then ends, each in the order of the second division with what only the first has put after
  const keys = [...new Set([...parts[1], ...parts[0]].map(({ key }) => key))]
  const isProduct = (key: string) => key.startsWith('product:')
  const order = [...keys.filter(isProduct), ...keys.filter((key) => !isProduct(key) && key !== 'lost'), 'lost']
  const drawn = (own: readonly KeyedSegment[], view: AnsweredView, id: string) =>
    beam({
      id,
      title: `Where ${view.names.format.weight(view.summary.cameInGrams)} go`,
      whole: view.summary.cameInGrams,
      segments: order.flatMap((key, place) => {
        const shown = [...parts[1], ...parts[0]].find((segment) => segment.key === key)
        const mine = own.find((segment) => segment.key === key)
        if (!shown) return []
        const pattern = isProduct(key) ? productPattern(place) : shown.pattern
        const amount = mine?.amount ?? 0
        return [{ label: shown.label, amount, text: view.names.format.weight(amount), pattern }]
      }),
    })
  return [drawn(parts[0], a, 'beam-a'), drawn(parts[1], b, 'beam-b')]
}

type KeyedSegment = Segment & { key: string }

function segmentsOf({ division, problem, summary, names }: AnsweredView, links: boolean): KeyedSegment[] {
  const { format } = names
  const segment = (key: string, label: string, amount: number, pattern: PatternKey, anchor: string): KeyedSegment => ({
    key,
    label,
    amount,
    text: format.weight(amount),
    pattern,
    ...(links ? { href: `#${anchor}` } : {}),
  })
  const products = summary.products
    .map((product, number) => ({ product, number }))
    .filter(({ product }) => product.netGrams > 0)
    .map(({ product, number }) =>
      segment(
        `product:${product.productId}`,
        names.product(product.productId).name,
        product.netGrams,
        productPattern(number),
        `product-${number + 1}`,
      ),
    )
  const outlets = problem.outlets.map(({ id: outletId, name }) => {
    const kind = division.question.outlets.find((outlet) => outlet.id === outletId)?.kind ?? 'compost'
    return segment(`outlet:${outletId}`, name, endGrams(summary, { outletId }), kind, 'leftovers')
  })
  const rest = [
    segment('kept', 'Kept for later', endGrams(summary, 'kept'), 'kept', 'leftovers'),
    segment('set-aside', 'Set aside to eat fresh', summary.setAsideGrams, 'set-aside', 'lots'),
    segment('lost', 'Lost', endGrams(summary, 'lost') + summary.lostInSortingGrams, 'lost', 'leftovers'),
  ]
  return [...products, ...outlets, ...rest.filter(({ amount }) => amount > 0)]
}

export function endGrams(summary: DivisionSummary, to: Destination): number {
  return summary.ends.find((end) => destinationKey(end.to) === destinationKey(to))?.grams ?? 0
}

/** What a node of the flow is called. */
export function nodeName({ division, names }: AnsweredView, node: SummaryNode): string {
  if (node === 'made') return 'jars, bags and trays'
  if (node === 'set-aside') return 'set aside to eat fresh'
  if (node === 'kept' || node === 'lost') return names.destination(node)
  const id = node.slice(node.indexOf(':') + 1)
  if (node.startsWith('lot:')) return division.question.lots.find((lot) => lot.id === id)?.name ?? id
  if (node.startsWith('product:')) return names.product(id).name
  return node.startsWith('material:') ? names.material(id) : names.destination({ outletId: id })
}

/**
 * The picture of the flow. What stays in a product is not drawn: its bar is longer than what leaves it. null where
 * materials run in a circle over the days, which a picture from left to right cannot show.
 */
export function divisionFlow(view: AnsweredView): Flow | null {
  const { summary, names } = view
  const { format } = names
  const links = summary.links.filter(({ to }) => to !== 'made')
  const columns = columnsOf(links)
  if (columns === null || links.length === 0) return null
  const last = Math.max(...columns.values())
  const made = summary.products.filter(({ netGrams }) => netGrams > 0).length
  return flow({
    id: 'flow',
    title: 'From lots through products to outlets',
    finding: `Of ${format.weight(summary.cameInGrams)}, ${format.weight(summary.madeGrams)} stay in ${format.count(made, 'product')}; what leaves them on the right is trim.`,
    nodes: inOrder([...columns.keys()], links, view).map((id) => ({
      id,
      label: nodeName(view, id),
      column: isEnd(id) ? last : (columns.get(id) ?? 0),
    })),
    links: links.map(({ from, to, grams }) => ({ from, to, grams, label: format.weight(grams) })),
  })
}

/** Lots in their order, products beside the lot that gives them most, then materials and ends in theirs: few crossings. */
function inOrder(
  nodes: SummaryNode[],
  links: readonly SummaryLink[],
  { problem, summary }: AnsweredView,
): SummaryNode[] {
  const lots = summary.lots.map(({ lotId }): SummaryNode => `lot:${lotId}`)
  const mainLot = (node: SummaryNode) => {
    const into = links.filter(({ to }) => to === node).sort((a, b) => b.grams - a.grams)
    const found = into[0] ? lots.indexOf(into[0].from) : -1
    return found < 0 ? lots.length : found
  }
  const products = nodes
    .filter((node) => node.startsWith('product:'))
    .map((node) => ({ node, lot: mainLot(node) }))
    .sort((a, b) => a.lot - b.lot)
    .map(({ node }) => node)
  const ends: SummaryNode[] = [
    'set-aside',
    ...problem.outlets.map(({ id }): SummaryNode => `outlet:${id}`),
    'kept',
    'lost',
  ]
  const there = new Set(nodes)
  const materials = nodes.filter((node) => node.startsWith('material:'))
  return [...lots, ...products, ...materials, ...ends].filter((node) => there.has(node))
}

function isEnd(node: SummaryNode): boolean {
  return !/^(lot|product|material):/.test(node)
}

/** The longest way to each node, in the order in which the links name them; null for a circle. */
function columnsOf(links: readonly SummaryLink[]): Map<SummaryNode, number> | null {
  const columns = new Map<SummaryNode, number>()
  for (const { from, to } of links) {
    if (!columns.has(from)) columns.set(from, 0)
    if (!columns.has(to)) columns.set(to, 0)
  }
  for (let round = 0; round <= columns.size; round++) {
    let moved = false
    for (const { from, to } of links) {
      const least = (columns.get(from) ?? 0) + 1
      if ((columns.get(to) ?? 0) >= least) continue
      columns.set(to, least)
      moved = true
    }
    if (!moved) return columns
  }
  return null
}
