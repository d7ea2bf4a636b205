import { Parser } from 'htmlparser2'
import type { Asking } from './asking.ts'
import { type KnownRoute, routeFor } from './known-routes.ts'

/** They go when all that they held went; of what is left in them, headings do not count. */
const HOLDERS = new Set(['li', 'p', 'div', 'section', 'nav', 'ul', 'details'])
const HEADINGS = new Set(['h2', 'h3', 'summary'])
/** In these a link names the thing itself: its words stay. */
const NAMING = new Set(['td', 'th', 'dt', 'dd', 'h1', 'h2', 'h3', 'caption'])
/** They show or take something without any text of their own. */
const SEEN = new Set(['img', 'svg', 'input', 'select', 'textarea', 'progress', 'button'])

type Range = readonly [from: number, to: number]

type Open = {
  name: string
  start: number
  /** where its opening tag ends */
  inside: number
  goes: boolean
  href: string | undefined
  /** something in it went */
  lost: boolean
  /** something to read or to use is left in it, headings aside */
  holds: boolean
  /** links in it that lead where this visitor may not */
  links: { whole: Range; tags: readonly [Range, Range] }[]
}

/**
 * Leaves out of a page the forms that this visitor may not send and the links that they may not follow, by what each
 * route says of who may; what held nothing else goes along: an entry of a list, a paragraph, a section of which only the
 * heading is left. A link that names a thing, or stands within a sentence, keeps its words. All else stays to the byte.
 * So a page is written once, for those who may everything, and shows nobody a door that is locked to them.
 *
 * @param routes every route of the service
 */
export function mayOnly(html: string, asking: Asking, routes: readonly KnownRoute[]): string {
  const may = (method: string, address: string | undefined): boolean => {
    if (address === undefined || !/^\/(?!\/)/.test(address)) return true
    const found = routeFor(routes, method, address)
    return found === null || found.roles === 'anyone' || found.roles.includes(asking.role)
  }
  const gone: Range[] = []
  const open: Open[] = []
  const parser: Parser = new Parser({
    onopentag(name, { method = 'get', action, formaction, href }) {
      const goes =
        (name === 'form' && !may(method.toUpperCase(), action)) || (name === 'button' && !may('GET', formaction))
      const { startIndex: start, endIndex } = parser
      open.push({ name, start, inside: endIndex + 1, goes, href, lost: false, holds: SEEN.has(name), links: [] })
    },
    ontext(text) {
      const inner = open.at(-1)
      if (inner !== undefined && text.trim() !== '') inner.holds = true
    },
    onclosetag() {
      const closed = open.pop()
      if (closed !== undefined) close(closed, parser.startIndex, parser.endIndex + 1)
    },
  })

  function close(closed: Open, closing: number, end: number): void {
    const around = open.at(-1)
    if (closed.links.length > 0) {
      const named = NAMING.has(closed.name) || closed.holds
      for (const { whole, tags } of closed.links) gone.push(...(named ? tags : [whole]))
      closed.lost = true
      closed.holds ||= named
    }
    if (closed.goes || (HOLDERS.has(closed.name) && closed.lost && !closed.holds)) {
      gone.push([closed.start, end])
      if (around !== undefined) around.lost = true
      return
    }
    if (around === undefined) return
    if (closed.name === 'a' && !may('GET', closed.href)) {
      const tags = [[closed.start, closed.inside] as const, [closing, end] as const] as const
      around.links.push({ whole: [closed.start, end], tags })
      return
    }
    around.lost ||= closed.lost
    if (closed.holds && !HEADINGS.has(closed.name)) around.holds = true
  }

  parser.end(html)
  return without(html, gone)
}

/** The text without these ranges, some of which lie within others. */
function without(text: string, ranges: readonly Range[]): string {
  let kept = ''
  let at = 0
  for (const [from, to] of [...ranges].sort(([a], [b]) => a - b)) {
    if (from > at) kept += text.slice(at, from)
    at = Math.max(at, to)
  }
  return kept + text.slice(at)
}
