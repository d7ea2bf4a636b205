import { type Model, never } from './model.ts'
import type { Chance } from './random.ts'

/** Minutes that must follow each activity's end, lags included. */
export function tailsOf(model: Model): Int32Array {
  const tails = new Int32Array(model.count)
  for (let place = model.count - 1; place >= 0; place--) {
    const activity = model.topological[place] ?? 0
    const next = model.next[activity] ?? []
    const lags = model.nextLag[activity] ?? []
    for (let at = 0; at < next.length; at++) {
      const other = next[at] ?? 0
      const tail = (lags[at] ?? 0) + (model.duration[other] ?? 0) + (tails[other] ?? 0)
      if (tail > (tails[activity] ?? 0)) tails[activity] = tail
    }
  }
  return tails
}

/** Minutes that must pass before each activity's start: lags and earliest starts included. */
export function headsOf(model: Model): Int32Array {
  const heads = Int32Array.from(model.earliest)
  for (const activity of model.topological) {
    const before = model.before[activity] ?? []
    const lags = model.beforeLag[activity] ?? []
    for (let at = 0; at < before.length; at++) {
      const other = before[at] ?? 0
      const head = (heads[other] ?? 0) + (model.duration[other] ?? 0) + (lags[at] ?? 0)
      if (head > (heads[activity] ?? 0)) heads[activity] = head
    }
  }
  return heads
}

/** The longest chain from the problem's start, resources left aside. */
export function criticalPath(model: Model): number {
  return headsOf(model).reduce((most, head, activity) => Math.max(most, head + (model.duration[activity] ?? 0)), 0)
}

/** Latest ends that keep the critical path (LFT), and latest ends that keep what is due. */
export function latestEnds(model: Model): { span: Float64Array; due: Float64Array } {
  const length = criticalPath(model)
  const span = Float64Array.from(tailsOf(model), (tail) => length - tail)
  const due = Float64Array.from(model.due, (end) => (end >= never ? Number.POSITIVE_INFINITY : end))
  for (let place = model.count - 1; place >= 0; place--) {
    const activity = model.topological[place] ?? 0
    const next = model.next[activity] ?? []
    const lags = model.nextLag[activity] ?? []
    for (let at = 0; at < next.length; at++) {
      const other = next[at] ?? 0
      const end = (due[other] ?? 0) - (model.duration[other] ?? 0) - (lags[at] ?? 0)
      if (end < (due[activity] ?? 0)) due[activity] = end
    }
  }
  const loose = Math.max(length, ...due.filter(Number.isFinite))
  return { span, due: due.map((end, activity) => (Number.isFinite(end) ? end : loose + (span[activity] ?? 0))) }
}

/**
 * A list that respects what comes before, drawn step by step: what is ready is taken with a share that grows with its
 * regret, the distance of its key to the highest key among the ready (regret-based biased random sampling, Drexl 1991, from memory).
 */
export function drawnList(model: Model, key: Float64Array, chance: Chance, into: Int32Array): void {
  const waiting = Int32Array.from(model.before, (list) => list.length)
  const ready: number[] = []
  for (let activity = 0; activity < model.count; activity++) if (waiting[activity] === 0) ready.push(activity)
  for (let place = 0; place < model.count; place++) {
    let highest = Number.NEGATIVE_INFINITY
    for (const activity of ready) highest = Math.max(highest, key[activity] ?? 0)
    let total = 0
    for (const activity of ready) total += highest - (key[activity] ?? 0) + 1
    let left = chance.share() * total
    let at = 0
    for (; at < ready.length - 1; at++) {
      left -= highest - (key[ready[at] ?? 0] ?? 0) + 1
      if (left < 0) break
    }
    const activity = ready[at] ?? 0
    ready[at] = ready[ready.length - 1] ?? 0
    ready.pop()
    into[place] = activity
    for (const follower of model.next[activity] ?? []) {
      const open = (waiting[follower] ?? 0) - 1
      waiting[follower] = open
      if (open === 0) ready.push(follower)
    }
  }
}
