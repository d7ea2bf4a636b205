import { add, at } from './arrays.ts'

/**
 * Integral flow at least cost, by successive cheapest paths. Capacities are whole numbers, so every flow is whole: this
 * is what turns the solver's fractions of a gram into grams without losing one. Costs are whole numbers too: with fractions
 * the noise of adding them up can make a circle of arcs look like a gain, and the search for a path would never end.
 */
export type FlowNetwork = {
  /**
   * Adds an arc and returns its number. Costs are whole and may be negative as long as no circle of arcs has a negative
   * sum; a cost that is not whole throws.
   */
  arc(from: number, to: number, capacity: number, cost?: number): number
  /** Sends as much as can go (or as long as it pays, if `onlyGains`); returns how much went in all. */
  send(source: number, sink: number, onlyGains?: boolean): number
  flow(arc: number): number
}

/** A network of so many nodes and no arcs. */
export function flowNetwork(nodeCount: number): FlowNetwork {
  const heads: number[] = []
  const rooms: number[] = []
  const costs: number[] = []
  const arcsOf: number[][] = Array.from({ length: nodeCount }, () => [])

  function arc(from: number, to: number, capacity: number, cost = 0): number {
    if (!Number.isSafeInteger(cost)) throw new RangeError(`the cost of an arc is not whole: ${cost}`)
    const number = heads.length
    heads.push(to, from)
    rooms.push(Math.max(0, capacity), 0)
    costs.push(cost, -cost)
    at(arcsOf, from).push(number)
    at(arcsOf, to).push(number + 1)
    return number
  }

  function cheapestPath(source: number, sink: number): { cost: number; arcs: number[] } | null {
    const cost = new Float64Array(nodeCount).fill(Number.POSITIVE_INFINITY)
    const by = new Int32Array(nodeCount).fill(-1)
    const queued = new Uint8Array(nodeCount)
    const queue = [source]
    cost[source] = 0
    for (let next = 0; next < queue.length; next++) {
      const node = at(queue, next)
      queued[node] = 0
      for (const a of at(arcsOf, node)) {
        if (at(rooms, a) <= 0) continue
        const head = at(heads, a)
        const reached = at(cost, node) + at(costs, a)
        if (reached >= at(cost, head)) continue
        cost[head] = reached
        by[head] = a
        if (queued[head] === 0) {
          queued[head] = 1
          queue.push(head)
        }
      }
    }
    if (!Number.isFinite(at(cost, sink))) return null
    const arcs: number[] = []
    for (let node = sink; node !== source; node = at(heads, at(arcs, arcs.length - 1) ^ 1)) arcs.push(at(by, node))
    return { cost: at(cost, sink), arcs }
  }

  function send(source: number, sink: number, onlyGains = false): number {
    let sent = 0
    for (;;) {
      const path = cheapestPath(source, sink)
      if (!path || (onlyGains && path.cost >= 0)) return sent
      const amount = Math.min(...path.arcs.map((a) => at(rooms, a)))
      for (const a of path.arcs) {
        add(rooms, a, -amount)
        add(rooms, a ^ 1, amount)
      }
      sent += amount
    }
  }

  return { arc, send, flow: (a) => at(rooms, a ^ 1) }
}
