import type { Board } from './board.ts'
import type { Model } from './model.ts'

const bitsOfWord = 30

/**
 * What is free in each period, several resources in one word: each has a field wide enough for its capacity and one
 * bit above it that is always set. Subtracting what is needed clears that bit exactly where too little is free, so one
 * subtraction asks all resources of a word. For activities of one phase without people and calendars.
 */
export class MinuteBoard implements Board {
  private readonly duration: Int32Array
  private readonly words: number
  /** Guard bits of each word, what is free at first, what each activity needs (activity by activity). */
  private readonly guard: Int32Array
  private readonly full: Int32Array
  private readonly need: Int32Array
  private free: Int32Array[]
  private used = 0
  private size: number
  /** What `restore` goes back to, as far as something was taken. */
  private held: Int32Array[] = []
  private heldUsed = 0

  constructor(model: Model) {
    this.duration = model.duration
    const fields = layOut(model)
    this.words = fields.reduce((most, field) => Math.max(most, field.word + 1), 1)
    this.guard = new Int32Array(this.words)
    this.full = new Int32Array(this.words)
    this.need = new Int32Array(this.words * model.count)
    for (const { word, shift, bits, lane } of fields) {
      add(this.guard, word, 1 << (shift + bits))
      add(this.full, word, (1 << (shift + bits)) + ((model.capacity[lane] ?? 0) << shift))
      model.phases.forEach((phases, activity) => {
        for (const { lanes, units } of phases) {
          const at = lanes.indexOf(lane)
          if (at >= 0) add(this.need, activity * this.words + word, (units[at] ?? 0) << shift)
        }
      })
    }
    this.size = 64
    this.free = Array.from(this.full, (full) => new Int32Array(this.size).fill(full))
  }

  clear(): void {
    for (let word = 0; word < this.words; word++) this.free[word]?.fill(this.full[word] ?? 0, 0, this.used)
    this.used = 0
  }

  earliest(activity: number, from: number): number {
    const minutes = this.duration[activity] ?? 0
    if (minutes === 0) return from
    if (this.words > 1) return this.earliestInAll(activity, from, minutes)
    const free = this.free[0] ?? nothing
    const need = this.need[activity] ?? 0
    const guard = this.guard[0] ?? 0
    const used = this.used
    let start = from
    for (let time = from; time < used; time++) {
      if ((((free[time] ?? 0) - need) & guard) !== guard) start = time + 1
      else if (time - start + 1 >= minutes) return start
    }
    return start
  }

  place(activity: number, start: number): void {
    const end = start + (this.duration[activity] ?? 0)
    if (end > this.size) this.grow(end)
    for (let word = 0; word < this.words; word++) {
      const free = this.free[word] ?? nothing
      const need = this.need[activity * this.words + word] ?? 0
      for (let time = start; time < end; time++) free[time] = (free[time] ?? 0) - need
    }
    if (end > this.used) this.used = end
  }

  /** Gives back what was placed at `start`. */
  remove(activity: number, start: number): void {
    const end = start + (this.duration[activity] ?? 0)
    for (let word = 0; word < this.words; word++) {
      const free = this.free[word] ?? nothing
      const need = this.need[activity * this.words + word] ?? 0
      for (let time = start; time < end; time++) free[time] = (free[time] ?? 0) + need
    }
  }

  /** Remembers what is placed now. Gives the last end. */
  hold(): number {
    this.held = this.free.map((row) => row.slice(0, this.used))
    this.heldUsed = this.used
    return this.used
  }

  /** Goes back to what was placed at `hold`. */
  restore(): void {
    for (let word = 0; word < this.words; word++) {
      const free = this.free[word] ?? nothing
      free.set(this.held[word] ?? nothing)
      if (this.used > this.heldUsed) free.fill(this.full[word] ?? 0, this.heldUsed, this.used)
    }
    this.used = this.heldUsed
  }

  /** Whether what is placed here leaves room for what `other` holds, whose time runs backwards from `span`. */
  meets(other: MinuteBoard, span: number): boolean {
    const from = Math.max(0, span - other.heldUsed)
    const to = Math.min(this.used, span)
    for (let word = 0; word < this.words; word++) {
      const free = this.free[word] ?? nothing
      const left = other.held[word] ?? nothing
      const full = this.full[word] ?? 0
      const guard = this.guard[word] ?? 0
      for (let time = from; time < to; time++)
        if ((((free[time] ?? 0) + (left[span - 1 - time] ?? 0) - full) & guard) !== guard) return false
    }
    return true
  }

  crew(): Int32Array[] {
    return []
  }

  placeAs(activity: number, start: number): boolean {
    if (this.earliest(activity, start) !== start) return false
    this.place(activity, start)
    return true
  }

  private earliestInAll(activity: number, from: number, minutes: number): number {
    let start = from
    for (let time = from; time < this.used; time++) {
      let fits = true
      for (let word = 0; word < this.words && fits; word++) {
        const guard = this.guard[word] ?? 0
        const free = (this.free[word] ?? nothing)[time] ?? 0
        fits = ((free - (this.need[activity * this.words + word] ?? 0)) & guard) === guard
      }
      if (!fits) start = time + 1
      else if (time - start + 1 >= minutes) return start
    }
    return start
  }

  private grow(end: number): void {
    this.size = Math.max(end, this.size * 2)
    this.free = this.free.map((old, word) => {
      const wider = new Int32Array(this.size).fill(this.full[word] ?? 0)
      wider.set(old)
      return wider
    })
  }
}

const nothing = new Int32Array(0)

type Field = { lane: number; word: number; shift: number; bits: number }

/** Resources that nothing needs get no field. */
function layOut(model: Model): Field[] {
  const fields: Field[] = []
  let word = 0
  let shift = 0
  for (let lane = 0; lane < model.resources; lane++) {
    if (!model.phases.some((phases) => phases.some(({ lanes }) => lanes.includes(lane)))) continue
    const bits = 32 - Math.clz32(model.capacity[lane] ?? 0)
    if (shift + bits + 1 > bitsOfWord) {
      word++
      shift = 0
    }
    fields.push({ lane, word, shift, bits })
    shift += bits + 1
  }
  return fields
}

function add(list: Int32Array, at: number, value: number): void {
  list[at] = (list[at] ?? 0) + value
}
