/** Jars of a batch in a place, shared or of one household: where something stands. */
export type Spot = { batch: number; place: number; owner: number }

export type ModelEntry = {
  spot: number
  units: number
  /** the sides of a move have the same */
  movement: number | null
  /** none, an undo of another, or undone by another */
  state: 'holds' | 'undoes' | 'undone'
}

/** What a shelf refuses, as the model sees it. */
export type Refusal =
  | 'too few'
  | 'recalled'
  | 'not the stock shown'
  | 'stands there already'
  | 'undone before'
  | 'an undo'

/**
 * A shelf in the plainest way: the entries in a list, and stock as their sum. It knows nothing of rows, locks or
 * triggers; each step either adds entries or names why not, and then changes nothing.
 */
export class ShelfModel {
  readonly entries: ModelEntry[] = []
  readonly #recalls: { batch: number; lifted: boolean }[] = []
  readonly #spots: readonly Spot[]
  #movements = 0

  constructor(spots: readonly Spot[]) {
    this.#spots = spots
  }

  stock(spot: number): number {
    return this.entries.reduce((sum, entry) => sum + (entry.spot === spot ? entry.units : 0), 0)
  }

  recalled(batch: number): boolean {
    return this.#recalls.some((recall) => recall.batch === batch && !recall.lifted)
  }

  put(spot: number, units: number): null {
    return this.#add([{ spot, units }])
  }

  /** take and give: refused for what is recalled. */
  takeOut(spot: number, units: number): Refusal | null {
    if (this.recalled(this.#at(spot).batch)) return 'recalled'
    return this.breakUnits(spot, units)
  }

  breakUnits(spot: number, units: number): Refusal | null {
    return this.stock(spot) < units ? 'too few' : this.#add([{ spot, units: -units }])
  }

  /** To the spot of the same batch with this place and owner. */
  move(from: number, to: number, units: number): Refusal | null {
    if (from === to) return 'stands there already'
    if (this.stock(from) < units) return 'too few'
    this.#movements += 1
    const sides = [
      { spot: from, units: -units },
      { spot: to, units },
    ]
    return this.#add(sides, this.#movements)
  }

  count(spot: number, shown: number, counted: number): Refusal | null {
    const stock = this.stock(spot)
    if (stock !== shown) return 'not the stock shown'
    return stock === counted ? null : this.#add([{ spot, units: counted - stock }])
  }

  /** Both sides of a move together, or neither. */
  undo(number: number): Refusal | null {
    const entry = this.entries[number]
    if (entry === undefined) throw new RangeError(`no entry ${number}`)
    if (entry.state === 'undoes') return 'an undo'
    if (entry.state === 'undone') return 'undone before'
    const sides =
      entry.movement === null
        ? [entry]
        : this.entries.filter((side) => side.movement === entry.movement && side.state !== 'undoes')
    if (sides.some(({ spot, units }) => this.stock(spot) < units)) return 'too few'
    for (const side of sides) side.state = 'undone'
    for (const { spot, units, movement } of sides) this.#add([{ spot, units: -units }], movement, 'undoes')
    return null
  }

  /** A recall of a batch: its number. Several may stand for the same one. */
  recall(batch: number): number {
    return this.#recalls.push({ batch, lifted: false }) - 1
  }

  get recalls(): number {
    return this.#recalls.length
  }

  /** false: it was lifted before */
  lift(number: number): boolean {
    const recall = this.#recalls[number]
    if (recall === undefined) throw new RangeError(`no recall ${number}`)
    if (recall.lifted) return false
    recall.lifted = true
    return true
  }

  #at(spot: number): Spot {
    const found = this.#spots[spot]
    if (found === undefined) throw new RangeError(`no spot ${spot}`)
    return found
  }

  #add(
    sides: readonly { spot: number; units: number }[],
    movement: number | null = null,
    state: ModelEntry['state'] = 'holds',
  ): null {
    for (const side of sides) this.entries.push({ ...side, movement, state })
    return null
  }
}
