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
import { type Beam, beam, type Segment } from '../../../web/beam.ts'
import { type Flow, flow } from '../../../web/flow.ts'
import type { Formatter } from '../../../web/format.ts'
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
export function answeredView(division: Division, format: Formatter): AnsweredView | null {
  const { answer, question } = division
  if (answer === null) return null
  const problem = askDivision(question)
  const summary = summarise(question, problem, answer.result)
  return { division, answer, problem, summary, names: namesOf(question, problem, format) }
}

/** Where all that came in goes: products in their order, outlets from best to worst use, kept, set aside, lost. */
export function divisionBeam({ division, problem, summary, names }: AnsweredView, id: string, links: boolean): Beam {
  const { format } = names
  const segment = (label: string, amount: number, pattern: PatternKey, anchor: string): Segment => ({
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
      segment(names.product(product.productId).name, product.netGrams, productPattern(number), `product-${number + 1}`),
    )
  const outlets = problem.outlets.map(({ id: outletId, name }) => {
    const kind = division.question.outlets.find((outlet) => outlet.id === outletId)?.kind ?? 'compost'
    return segment(name, endGrams(summary, { outletId }), kind, 'leftovers')
  })
  const rest = [
    segment('Kept for later', endGrams(summary, 'kept'), 'kept', 'leftovers'),
    segment('Set aside to eat fresh', summary.setAsideGrams, 'set-aside', 'lots'),
    segment('Lost', endGrams(summary, 'lost') + summary.lostInSortingGrams, 'lost', 'leftovers'),
  ]
  return beam({
    id,
    title: `Where the ${format.weight(summary.cameInGrams)} that came in go`,
    whole: summary.cameInGrams,
    segments: [...products, ...outlets, ...rest.filter(({ amount }) => amount > 0)],
  })
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

/** The picture of the flow; null where materials run in a circle over the days, which a picture from left to right cannot show. */
export function divisionFlow(view: AnsweredView): Flow | null {
  const { summary, names } = view
  const columns = columnsOf(summary.links)
  if (columns === null || summary.links.length === 0) return null
  const last = Math.max(...columns.values())
  const { format } = names
  return flow({
    id: 'flow',
    title: 'From lots through products to outlets',
    finding: `Of ${format.weight(summary.cameInGrams)}, ${format.weight(summary.madeGrams)} stay in products; the rest goes where it is of most use.`,
    nodes: [...columns].map(([id, column]) => ({ id, label: nodeName(view, id), column: isEnd(id) ? last : column })),
    links: summary.links.map(({ from, to, grams }) => ({ from, to, grams, label: format.weight(grams) })),
  })
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
