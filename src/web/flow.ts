import { type SankeyLink, type SankeyNode, sankey, sankeyLinkHorizontal } from 'd3-sankey'
import { type Markup, markup } from './markup.ts'
import { checkDrawingId } from './patterns.ts'

export type FlowNode = {
  id: string
  label: string
  /** From the left, from 0; the farthest from a source when not given. */
  column?: number
}

export type FlowLink = {
  from: string
  to: string
  /** Above 0 */
  grams: number
  /** The weight for eyes: "12.4 kg" */
  label: string
}

export type FlowOptions = {
  /** Unlike any other drawing's on the page. */
  id: string
  title: string
  /** What it shows, in one sentence with figures. */
  finding: string
  nodes: readonly FlowNode[]
  links: readonly FlowLink[]
}

/** What `{{> flow flow=flow}}` takes. The page shows the same figures as a table as well. */
export type Flow = { title: string; finding: string; drawing: Markup }

/**
 * Weights flowing from the left to the right, bands as thick as they are heavy. Throws a RangeError for a link of a node
 * that is not there, a weight that is not above 0, links that run in a circle, and for nothing at all.
 */
export function flow({ id, title, finding, nodes, links }: FlowOptions): Flow {
  checkDrawingId(id)
  checkLinks(nodes, links)
  const columns = longestPath(nodes, links)
  const height = heightFor(nodes, links, columns)
  const width = Math.max(MIN_WIDTH, (Math.max(...columns.values()) + 1) * COLUMN_WIDTH)
  const layout = sankey<FlowNode, FlowLink>()
    .nodeId((node) => node.id)
    .nodeAlign((node) => node.column ?? columns.get(node.id) ?? 0)
    .nodeWidth(NODE_WIDTH)
    .nodePadding(NODE_GAP)
    .nodeSort(null)
    .extent([
      [EDGE, TOP],
      [width - LABEL_ROOM, height - EDGE],
    ])
  const drawn = layout({
    nodes: nodes.map((node) => ({ ...node })),
    links: links.map((link) => ({ ...link, source: link.from, target: link.to, value: link.grams })),
  })
  const drawing = markup`<svg role="img" aria-labelledby="${id}-title ${id}-finding" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}"><title id="${id}-title">${title}</title><desc id="${id}-finding">${finding}</desc>${drawn.links.map(drawLink)}${drawn.nodes.map(drawNode)}</svg>`
  return { title, finding, drawing }
}

type Drawn = SankeyNode<FlowNode, FlowLink>
type DrawnLink = SankeyLink<FlowNode, FlowLink>

const MIN_WIDTH = 640
const COLUMN_WIDTH = 210
/** Room at the right for the labels of the last column. */
const LABEL_ROOM = 150
const NODE_WIDTH = 12
/** Between nodes: a label of two lines has room even beside a thin band. */
const NODE_GAP = 40
const EDGE = 20
const TOP = 14
/** A band at least this thick carries its weight, at its end, clear of the label of the node it comes from. */
const LABELLED_PX = 13

function checkLinks(nodes: readonly FlowNode[], links: readonly FlowLink[]): void {
  if (links.length === 0) throw new RangeError('a flow has at least one link')
  const known = new Set(nodes.map(({ id }) => id))
  for (const { from, to, grams } of links) {
    if (!known.has(from) || !known.has(to)) throw new RangeError('a link of the flow leads to a node that is not there')
    if (!(Number.isFinite(grams) && grams > 0)) throw new RangeError('a flow has weights above 0 only')
  }
}

/** The number of links on the longest way to each node; throws for a circle. */
function longestPath(nodes: readonly FlowNode[], links: readonly FlowLink[]): Map<string, number> {
  const columns = new Map(nodes.map(({ id }) => [id, 0]))
  for (let round = 0; round <= nodes.length; round++) {
    let moved = false
    for (const { from, to } of links) {
      const least = (columns.get(from) ?? 0) + 1
      if ((columns.get(to) ?? 0) >= least) continue
      columns.set(to, least)
      moved = true
    }
    if (!moved) return columns
  }
  throw new RangeError('the flow runs in a circle')
}

/** Tall enough for the column with the most nodes. */
function heightFor(nodes: readonly FlowNode[], links: readonly FlowLink[], columns: Map<string, number>): number {
  const linked = new Set(links.flatMap(({ from, to }) => [from, to]))
  const counts = new Map<number, number>()
  for (const { id, column } of nodes.filter((node) => linked.has(node.id))) {
    const at = column ?? columns.get(id) ?? 0
    counts.set(at, (counts.get(at) ?? 0) + 1)
  }
  return Math.max(240, Math.max(...counts.values()) * (NODE_GAP + 26) + TOP + EDGE)
}

const path = sankeyLinkHorizontal<FlowNode, FlowLink>()

function drawLink(link: DrawnLink): Markup {
  const { source, target, width = 0, y1 = 0 } = link
  if (typeof source !== 'object' || typeof target !== 'object') throw new Error('the flow was not laid out')
  const words = `${source.label} to ${target.label}: ${link.label}`
  const label =
    width >= LABELLED_PX
      ? markup`<text class="drawn-text drawn-small" x="${(target.x0 ?? 0) - 6}" y="${y1 + 4}" text-anchor="end">${link.label}</text>`
      : markup``
  return markup`<g><title>${words}</title><path class="flow-link" d="${path(link) ?? ''}" stroke-width="${Math.max(1.5, width)}"/>${label}</g>`
}

function drawNode({ x0 = 0, x1 = 0, y0 = 0, y1 = 0, label }: Drawn): Markup {
  const lines = wrapped(label)
  const middle = (y0 + y1) / 2 - ((lines.length - 1) * 16) / 2 + 5
  const words = lines.map((line, i) => markup`<tspan x="${x1 + 6}" y="${middle + i * 16}">${line}</tspan>`)
  return markup`<rect class="flow-node" x="${x0}" y="${y0}" width="${x1 - x0}" height="${Math.max(2, y1 - y0)}"/><text class="drawn-text drawn-small">${words}</text>`
}

/** At most two lines of about 20 letters, broken between words; what is longer is in the table. */
function wrapped(label: string): string[] {
  const lines = ['']
  for (const word of label.split(' ')) {
    const last = lines.length - 1
    const longer = `${lines[last]} ${word}`.trim()
    if (longer.length <= 20 || lines[last] === '') lines[last] = longer
    else lines.push(word)
  }
  const shown = lines.slice(0, 2)
  if (lines.length > 2) shown[1] = `${shown[1]}…`
  return shown
}
