/** An order in which everything comes after what it waits for; shorter than the list if there is a cycle. */
export function topologicalOrder(before: Int32Array[], next: ArrayLike<number>[]): Int32Array {
  const waiting = before.map((list) => list.length)
  const order = waiting.flatMap((open, index) => (open === 0 ? [index] : []))
  for (let place = 0; place < order.length; place++) {
    const followers = next[order[place] ?? 0] ?? []
    for (let at = 0; at < followers.length; at++) {
      const follower = followers[at] ?? 0
      const left = (waiting[follower] ?? 0) - 1
      waiting[follower] = left
      if (left === 0) order.push(follower)
    }
  }
  return Int32Array.from(order)
}
