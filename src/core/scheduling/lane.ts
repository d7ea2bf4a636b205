import { never } from './model.ts'

/** How much of one resource, or of one person, is taken when: a list of steps, each up to the next, the last for ever. */
export class Lane {
  private readonly capacity: number
  private readonly windows: Int32Array | null
  private readonly times = [0]
  private readonly taken = [0]

  constructor(capacity: number, windows: Int32Array | null) {
    this.capacity = capacity
    this.windows = windows
  }

  clear(): void {
    this.times.length = 1
    this.taken.length = 1
    this.taken[0] = 0
  }

  /** The first start, at least `from`, of `minutes` in one window with `units` free throughout; `never` if none. */
  fit(from: number, minutes: number, units: number): number {
    if (minutes === 0) return from
    for (let start = from; ; ) {
      const open = this.inWindow(start, minutes)
      if (open >= never) return never
      start = this.whereFree(open, minutes, units)
      if (start === open) return start
    }
  }

  take(start: number, minutes: number, units: number): void {
    if (minutes === 0) return
    const first = this.cutAt(start)
    const last = this.cutAt(start + minutes)
    for (let step = first; step < last; step++) this.taken[step] = (this.taken[step] ?? 0) + units
  }

  private inWindow(from: number, minutes: number): number {
    const windows = this.windows
    if (!windows) return from
    let low = 0
    let high = windows.length >> 1
    while (low < high) {
      const middle = (low + high) >> 1
      if ((windows[2 * middle + 1] ?? 0) < from + minutes) low = middle + 1
      else high = middle
    }
    for (let window = low; 2 * window < windows.length; window++) {
      const start = Math.max(from, windows[2 * window] ?? 0)
      if (start + minutes <= (windows[2 * window + 1] ?? 0)) return start
    }
    return never
  }

  private whereFree(from: number, minutes: number, units: number): number {
    const room = this.capacity - units
    const { times, taken } = this
    let start = from
    for (let step = this.stepAt(from); step < times.length; step++) {
      if ((times[step] ?? 0) >= start + minutes) return start
      if ((taken[step] ?? 0) > room) start = times[step + 1] ?? never
    }
    return start
  }

  /** The step that a time lies in. */
  private stepAt(time: number): number {
    let low = 0
    let high = this.times.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if ((this.times[middle] ?? 0) <= time) low = middle
      else high = middle - 1
    }
    return low
  }

  /** The step that begins at a time, made if need be. */
  private cutAt(time: number): number {
    const step = this.stepAt(time)
    if (this.times[step] === time) return step
    this.times.splice(step + 1, 0, time)
    this.taken.splice(step + 1, 0, this.taken[step] ?? 0)
    return step + 1
  }
}
