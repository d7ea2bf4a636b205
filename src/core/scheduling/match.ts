/**
 * Gives each slot a person of its own: maximum matching by augmenting paths, people tried in the given order, so that
 * of all full crews the one with the earliest people in that order is taken (a transversal matroid is served by greed).
 * `slots` lists for each slot who could. Returns a person for each slot, or null if not all slots can be filled.
 */
export function crewFor(slots: readonly Int32Array[], people: Int32Array): Int32Array | null {
  const holder = new Int32Array(slots.length).fill(-1)
  const seen = new Uint8Array(slots.length)
  let filled = 0
  for (let place = 0; place < people.length && filled < slots.length; place++) {
    seen.fill(0)
    if (seat(people[place] ?? -1, slots, holder, seen)) filled++
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
