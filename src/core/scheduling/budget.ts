/** Counts passes of schedule generation and knows when to stop. */
export class Budget {
  readonly most: number
  /** Passes made; one that was given up counts as the share of the activities it came to. */
  spent = 0
  private readonly stop: () => boolean
  private taken = 0
  private stopped = false

  constructor(most: number, stop: () => boolean) {
    this.most = most
    this.stop = stop
  }

  /**
   * Whether another pass may be made, over this share of the activities; counts it. The first is always allowed, so
   * that there is an answer.
   */
  take(share = 1): boolean {
    if (this.taken > 0 && (this.stopped || this.spent + share > this.most)) return false
    this.spent += share
    this.taken++
    // A clock is cheap beside a pass, but not for nothing.
    if (this.taken % 4 === 0) this.stopped = this.stop()
    return true
  }

  /** Takes back the share of the last pass that was not made. */
  giveBack(share: number): void {
    this.spent -= share
  }

  /** Counts what a pass took beyond one start for each activity. */
  add(share: number): void {
    this.spent += share
  }

  /** Whole passes that may still be made. */
  get left(): number {
    return this.stopped ? 0 : Math.max(0, Math.floor(this.most - this.spent))
  }
}
