import { startLater, startSooner } from './frames.ts'
import { lacksEnergy, type Narrowing, narrowed, type Trial } from './refute.ts'

/**
 * Supposes one order of each pair, and one half of each frame, and narrows: what is refuted leaves the other, until
 * both are refuted, or nothing more comes of it, or the effort is spent; whether all is refuted (shaving, after Martin
 * and Shmoys 1996 and Carlier and Pinson 1994, from memory).
 */
export function shaved(trial: Trial, known: Narrowing): boolean {
  for (let before = Number.POSITIVE_INFINITY, now = width(known); now < before; now = width(known)) {
    before = now
    if (shavePairs(trial, known) || shaveFrames(trial, known)) return true
    if (width(known) < before && lacksEnergy(trial, known)) return true
  }
  return false
}

/** The minutes in all frames together: an order that is found need not narrow any. */
function width({ frames }: Narrowing): number {
  let sum = 0
  for (let i = 0; i < frames.first.length; i++) sum += (frames.last[i] ?? 0) - (frames.first[i] ?? 0)
  return sum
}

function shavePairs(trial: Trial, known: Narrowing): boolean {
  const pairs = tightestFirst(trial, known)
  for (let k = 0; k < pairs.length && trial.effort.left >= 0; k += 2) {
    const p = pairs[k] ?? 0
    const q = pairs[k + 1] ?? 0
    const without = (one: number, other: number) => {
      const supposed = copyOf(known)
      return !putBefore(trial, supposed, one, other) || narrowed(trial, supposed)
    }
    if (without(p, q)) {
      if (!putBefore(trial, known, q, p) || narrowed(trial, known)) return true
    } else if (without(q, p) && (!putBefore(trial, known, p, q) || narrowed(trial, known))) return true
  }
  return false
}

/** The pairs that can still go both ways, those first that have the least room for one of them. */
function tightestFirst({ model, effort }: Trial, { frames, open }: Narrowing): Int32Array {
  // Sorting many pairs takes longer than trying them with little effort left would be worth.
  const steps = 8 * open.size
  if (effort.left < steps) return new Int32Array(0)
  effort.left -= steps
  const { activityOf, offset, length } = model
  const room = (one: number, other: number) => {
    const end = (frames.first[activityOf[one] ?? 0] ?? 0) + (offset[one] ?? 0) + (length[one] ?? 0)
    return (frames.last[activityOf[other] ?? 0] ?? 0) + (offset[other] ?? 0) - end
  }
  const pairs: { p: number; q: number; least: number }[] = []
  for (let k = 0; k < open.size; k += 2) {
    const p = open.list[k] ?? 0
    const q = open.list[k + 1] ?? 0
    const least = Math.min(room(p, q), room(q, p))
    if (least >= 0) pairs.push({ p, q, least })
  }
  pairs.sort((one, other) => one.least - other.least)
  return Int32Array.from(pairs.flatMap(({ p, q }) => [p, q]))
}

function shaveFrames(trial: Trial, known: Narrowing): boolean {
  const { model } = trial
  const { first, last } = known.frames
  for (let activity = 0; activity < model.count && trial.effort.left >= 0; activity++) {
    const from = first[activity] ?? 0
    const to = last[activity] ?? 0
    if (from >= to) continue
    const middle = Math.floor((from + to) / 2)
    const early = copyOf(known)
    if (!startSooner(model, early.frames, activity, middle) || narrowed(trial, early)) {
      if (!startLater(model, known.frames, activity, middle + 1) || narrowed(trial, known)) return true
      continue
    }
    const late = copyOf(known)
    if (!startLater(model, late.frames, activity, middle + 1) || narrowed(trial, late)) {
      if (!startSooner(model, known.frames, activity, middle) || narrowed(trial, known)) return true
    }
  }
  return false
}

/** Narrows the two activities' frames so that one phase ends before the other begins; whether they allow it. */
function putBefore({ model }: Trial, { frames }: Narrowing, one: number, other: number): boolean {
  const { activityOf, offset, length } = model
  const a = activityOf[one] ?? 0
  const b = activityOf[other] ?? 0
  const apart = (offset[one] ?? 0) + (length[one] ?? 0) - (offset[other] ?? 0)
  const soonest = (frames.first[a] ?? 0) + apart
  if (soonest > (frames.first[b] ?? 0) && !startLater(model, frames, b, soonest)) return false
  const latest = (frames.last[b] ?? 0) - apart
  return latest >= (frames.last[a] ?? 0) || startSooner(model, frames, a, latest)
}

function copyOf({ frames, open }: Narrowing): Narrowing {
  return {
    frames: { first: frames.first.slice(), last: frames.last.slice() },
    open: { list: open.list.slice(0, open.size), size: open.size },
  }
}
