/** The core's one clock: it decides only when a search under a time limit ends, never what it finds until then. */
export const monotonicMs = (): number => performance.now()
