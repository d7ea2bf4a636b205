/** How long past its time a thread is waited for, in milliseconds. */
export type Graces = {
  /** Past the time that its work may take: threads start slowly on a busy machine, and solvers overrun. */
  afterTimeMs: number
  /** After it was asked to stop, whatever its work may take. */
  afterStopMs: number
}

/** Our choice: far more than the slowest thread took that did answer, so that only one that hangs is cut off. */
const ordinaryGraces: Graces = { afterTimeMs: 600_000, afterStopMs: 120_000 }

/** A thread gave no answer long after its time, and was ended. */
export class ThreadHung extends Error {
  override name = 'ThreadHung'
}

type CutOff = (error: ThreadHung) => void

/** For one job; see `createPatience`. */
export type Patience = {
  /**
   * From now on its thread may take so long, and the grace; what was waited for before is over.
   *
   * @param cutOff called once at most, when a grace is over: it is to end the thread and to fail the job with the error
   */
  expectWithin(ms: number, cutOff: CutOff): void
  /** The job was asked to stop: its thread has the grace for that, from now or from when it gets the job. */
  stopAsked(): void
  /** The thread has answered or is gone: nothing is waited for any more. */
  end(): void
}

/** Waits for a thread that may hang: one that loops for ever hears neither its time limit nor a stop. */
export function createPatience(graces: Partial<Graces> = {}): Patience {
  const { afterTimeMs, afterStopMs } = { ...ordinaryGraces, ...graces }
  let forTime: NodeJS.Timeout | undefined
  let forStop: NodeJS.Timeout | undefined
  let cutOff: CutOff | null = null
  let stopping = false
  let ended = false

  function waitForStop(): void {
    // one that still waits in line has no thread yet
    if (cutOff !== null && !ended) forStop ??= setTimeout(lose, afterStopMs, afterStopMs, 'after it was asked to stop')
  }

  function lose(graceMs: number, since: string): void {
    end()
    cutOff?.(new ThreadHung(`the thread gave no answer ${graceMs / 1000} s ${since}, and was ended`))
  }

  function end(): void {
    ended = true
    clearTimeout(forTime)
    clearTimeout(forStop)
  }

  return {
    expectWithin(ms, then) {
      if (ended) return
      cutOff = then
      clearTimeout(forTime)
      forTime = setTimeout(lose, ms + afterTimeMs, afterTimeMs, 'after its time was over')
      if (stopping) waitForStop()
    },
    stopAsked() {
      stopping = true
      waitForStop()
    },
    end,
  }
}
