/**
 * Gives each slot a person of its own: maximum matching by augmenting paths, people tried in the given order, so that
 * of all full crews the one with the earliest people in that order is taken (a transversal matroid is served by greed).
 * `slots` lists for each slot who could; only people for whom `isFree` holds count.
 * Returns a person for each slot, or null if not all slots can be filled.
 */
export function crewFor(
  slots: readonly Int32Array[],
  order: Int32Array,
  isFree: (person: number) => boolean,
): Int32Array | null {
  const holder = new Int32Array(slots.length).fill(-1)
  let filled = 0
  for (let place = 0; place < order.length && filled < slots.length; place++) {
    const person = order[place] ?? -1
    if (!slots.some((able) => able.includes(person)) || !isFree(person)) continue
    if (seat(person, slots, holder, new Uint8Array(slots.length))) filled++
  }
  return filled === slots.length ? holder : null
}

function seat(person: number, slots: readonly Int32Array[], holder: Int32Array, seen: Uint8Array): boolean {
  for (let slot = 0; slot < slots.length; slot++) {
    if (seen[slot] === 1 || !slots[slot]?.includes(person)) continue
    seen[slot] = 1
    const sitting = holder[slot] ?? -1
    if (sitting < 0 || seat(sitting, slots, holder, seen)) {
      holder[slot] = person
      return true
    }
  }
  return false
}
