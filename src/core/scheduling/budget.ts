/** Counts passes of schedule generation and knows when to stop. */
export class Budget {
  readonly most: number
  spent = 0
  private readonly stop: () => boolean
  private stopped = false

  constructor(most: number, stop: () => boolean) {
    this.most = most
    this.stop = stop
  }

  /** Whether another pass may be made; counts it. The first is always allowed, so that there is an answer. */
  take(): boolean {
    if (this.spent > 0 && (this.stopped || this.spent >= this.most)) return false
    this.spent++
    // A clock is cheap beside a pass, but not for nothing.
    if (this.spent % 4 === 0) this.stopped = this.stop()
    return true
  }

  get left(): number {
    return this.stopped ? 0 : Math.max(0, this.most - this.spent)
  }
}
