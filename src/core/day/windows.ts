/** A stretch of minutes, `to` excluded. */
export type Window = { from: number; to: number }

/** The same minutes in order, without empty windows, those that touch or overlap made one. */
export function merged(windows: readonly Window[]): Window[] {
  const result: Window[] = []
  for (const { from, to } of [...windows].sort((a, b) => a.from - b.from)) {
    if (to <= from) continue
    const last = result.at(-1)
    if (last && from <= last.to) last.to = Math.max(last.to, to)
    else result.push({ from, to })
  }
  return result
}

/** What is left of some windows without others. */
export function cutOut(windows: readonly Window[], without: readonly Window[]): Window[] {
  return merged(without).reduce<Window[]>(
    (left, hole) =>
      left
        .flatMap(({ from, to }) => [
          { from, to: Math.min(to, Math.max(from, hole.from)) },
          { from: Math.max(from, Math.min(to, hole.to)), to },
        ])
        .filter((window) => window.to > window.from),
    merged(windows),
  )
}

/** Minutes in windows that do not overlap. */
export function lengthOf(windows: readonly Window[]): number {
  return windows.reduce((sum, { from, to }) => sum + to - from, 0)
}
