import type { Activity } from '../scheduling/problem.ts'
import { type Batch, type BatchStep, stepsOf } from './batch.ts'
import { type ChainOf, chainOf, settingOf } from './chain.ts'
import { crewOf, wholeMinutes } from './crew.ts'
import type { Kitchen } from './kitchen.ts'
import {
  handMinutes,
  type MeantPhase,
  machinesOf,
  minutesIn,
  runsAlone,
  type Setting,
  waitAfter,
  work,
} from './phases.ts'
import type { Afterwards, PlannedActivity } from './plan.ts'
import { type Group, portionsOf, wholeOf } from './portions.ts'

/** No piece of work that can be put down is longer: a helper may go home or to a meal. Our choice. */
const longestPiece = 60
/** What waits as long as this is gone on with on another work day. Our choice. */
const overnight = 6 * 60
/** So much of a day must be left when it is ready. Our choice. */
const leftOfADay = 60

type Link = { id: string; lag: number }
/** Where a batch or a portion of it stands: what the next must wait for, and on which day that is. */
type Front = { day: number; after: Link[]; wait: number }

/** What a batch gives to the plan. */
export type BatchPlan = {
  batch: Batch
  steps: BatchStep[]
  portions: number[]
  activities: PlannedActivity[]
  afterwards: Afterwards[]
  /** What must be over before something made of the batch, and of its trim, can be begun. */
  ends: Link[]
  trimmed: Link[]
  /** Hot jars are filled in these. */
  jars: { activity: string; day: number; units: number }[]
}

/** The activities of one batch, after what it is made of. */
export function planBatch(kitchen: Kitchen, batch: Batch, before: readonly Link[]): BatchPlan {
  const steps = stepsOf(batch)
  const { run, portions, each, whole } = portionsOf(batch, steps)
  const plan: BatchPlan = {
    batch,
    steps,
    portions: portions.map(({ units }) => units),
    activities: [],
    afterwards: [],
    ends: [],
    trimmed: [],
    jars: [],
  }
  const lanes = new Map<number, string[]>()
  const fronts = portions.map((portion, number) =>
    walk({ kitchen, batch, steps, day: batch.day, portion }, plan, each, run, number, lanes, {
      day: batch.day,
      after: [...before],
      wait: 0,
    }),
  )
  const joined: Front = {
    day: Math.max(batch.day, ...fronts.map(({ day }) => day)),
    after: fronts.flatMap(({ after }) => after),
    wait: Math.max(0, ...fronts.map(({ wait }) => wait)),
  }
  const of = { kitchen, batch, steps, day: joined.day, portion: wholeOf(batch) }
  plan.ends = walk(of, plan, whole, run, null, lanes, joined).after
  return plan
}

/** Lays the groups of a portion one after the other; what comes after the last work day is noted. */
function walk(
  of: ChainOf,
  plan: BatchPlan,
  groups: readonly Group[],
  run: BatchStep['run'],
  number: number | null,
  lanes: Map<number, string[]>,
  from: Front,
): Front {
  let front = from
  let gone = plan.afterwards.length > 0 && number === null
  for (const group of groups) {
    const day = gone ? null : dayFor(of.kitchen, front)
    if (day === null) {
      gone = true
      const ready = (of.kitchen.days[front.day]?.closes ?? 0) + front.wait
      for (const { index } of group) note(plan, index, of.portion.units, ready)
      front = { ...front, wait: front.wait + Math.max(0, ...group.map(({ step }) => waitAfter(step))) }
      continue
    }
    front = layDown({ ...of, day }, plan, group, run, number, lanes, { ...front, day })
  }
  return front
}

function note(plan: BatchPlan, step: number, units: number, fromMinute: number): void {
  const same = plan.afterwards.find((one) => one.step === step)
  if (same) {
    same.units += units
    same.fromMinute = Math.max(same.fromMinute, fromMinute)
  } else plan.afterwards.push({ batch: plan.batch.id, step, units, fromMinute })
}

/** The day on which it goes on: the same, or after a long wait the first on which it is ready whenever it was begun. */
function dayFor({ days }: Kitchen, { day, wait }: Front): number | null {
  if (wait < overnight) return day
  const ready = (days[day]?.closes ?? 0) + wait
  const next = days.findIndex(({ closes }, number) => number > day && ready <= closes - leftOfADay)
  return next < 0 ? null : next
}

function layDown(
  of: ChainOf,
  plan: BatchPlan,
  group: Group,
  run: BatchStep['run'],
  number: number | null,
  lanes: Map<number, string[]>,
  reached: Front,
): Front {
  const pot = group.find(({ step }) => step.run !== null && step.run !== run)
  const own = pot?.step.run ? (of.portion.starts.get(pot.step.run) ?? 0) : 0
  // Without a pot of its own a load is filled from the one before.
  const shared = pot && own === 0 ? (lanes.get(pot.index) ?? []) : []
  const front = { ...reached, after: [...reached.after, ...shared.map((id) => ({ id, lag: 0 }))] }
  const only = group.length === 1 ? group[0] : undefined
  const last = group.at(-1)
  const wait = last ? waitAfter(last.step) : 0
  if (only && isPieces(only.step)) {
    const ends = inPieces(of, plan, only.index, only.step, number, lanes, front)
    return ends.length > 0
      ? onwards(front.day, ends, wait)
      : { ...front, wait: front.wait + wait, after: later(front, wait) }
  }
  const phases = chainOf(of, group)
  const tail = last && runsAlone(last.step) && phases.at(-1)?.means.part === 'machine' ? phases.at(-1) : undefined
  const made = tail ? phases.slice(0, -1) : phases
  const id = [of.batch.id, number === null ? 'all' : number + 1, (group[0]?.index ?? 0) + 1].join('/')
  const day = of.kitchen.days[of.day]
  let { after } = front
  if (made.length > 0) {
    plan.activities.push(activity(of, id, number, made, after, day?.closes))
    after = [{ id, lag: 0 }]
    if (pot && own > 0) lanes.set(pot.index, [id])
    if (of.batch.pack.jar !== null && fillsJars(of.steps, group))
      plan.jars.push({ activity: id, day: of.day, units: of.portion.units })
  }
  if (!tail)
    return made.length > 0
      ? onwards(front.day, [id], wait)
      : { ...front, wait: front.wait + wait, after: later(front, wait) }
  const closes = day?.closes ?? 0
  const night = last === undefined ? 0 : afterClosing(of.kitchen, last.step, closes, tail.phase.minutes)
  plan.activities.push(activity(of, `${id}/alone`, number, [tail], after, closes + night))
  const pending = tail.phase.minutes >= overnight ? Math.max(overnight, night + wait) : wait
  return { day: front.day, after: [{ id: `${id}/alone`, lag: wait }], wait: pending }
}

/** Jars are filled where the canner is loaded; what is filled before may be a crock. Without a canner, at filling. */
function fillsJars(steps: readonly BatchStep[], group: Group): boolean {
  const station = steps.some(({ step }) => step.station === 'canner') ? 'canner' : 'fill'
  return group.some(({ step }) => step.step.station === station)
}

/**
 * Minutes after a day's closing until what was begun by then must be over: all of it if the machines may run around the
 * clock, in their own hours no longer than these, and none of it otherwise.
 */
function afterClosing({ machines }: Kitchen, step: BatchStep, closes: number, minutes: number): number {
  return machinesOf(step).reduce((least, kind) => {
    const machine = machines.find((one) => one.kind === kind)
    if (machine?.aroundTheClock !== true) return 0
    if (machine.hours === undefined) return least
    const open = machine.hours.find(({ from, to }) => from <= closes && closes <= to)
    return Math.min(least, open ? open.to - closes : 0)
  }, minutes)
}

function onwards(day: number, ids: readonly string[], wait: number): Front {
  return { day, after: ids.map((id) => ({ id, lag: wait })), wait }
}

function later({ after }: Front, wait: number): Link[] {
  return after.map(({ id, lag }) => ({ id, lag: lag + wait }))
}

/** Work that can be put down and shared out: it starts no load, and nothing follows it at once. */
function isPieces({ step, run, machineMinutesPerUnit }: BatchStep): boolean {
  return step.work !== null && run === null && machineMinutesPerUnit === 0
}

/**
 * Pieces of at most an hour, side by side in as many rows as hands are wanted; each row goes on through the portions in
 * their order, so that never more people are at it. Hot work is one row, in which an adult is with the others.
 */
function inPieces(
  of: ChainOf,
  plan: BatchPlan,
  index: number,
  step: BatchStep,
  number: number | null,
  lanes: Map<number, string[]>,
  front: Front,
): string[] {
  const setting = settingOf(of, index, step)
  const total = handMinutes(setting)
  if (!(total > 1e-6)) return []
  const rows = setting.hot ? 1 : rowsOf(setting, total)
  const ends = lanes.get(index) ?? []
  const made: string[] = []
  for (let row = 0; row < rows; row++) {
    const whole = work(setting, total / rows, machinesOf(step), 'hands', setting.hot ? step.step.hands : 1)
    const pieces = Math.ceil(minutesIn(whole) / longestPiece)
    for (let piece = 0; piece < pieces; piece++) {
      const id = [of.batch.id, number === null ? 'all' : number + 1, index + 1, `${row + 1}.${piece + 1}`].join('/')
      const phases = whole.map(({ phase, means }) => ({
        means,
        phase: { ...phase, minutes: cut(phase.minutes, pieces, piece) },
      }))
      const before = ends[row]
      const after = piece === 0 ? [...front.after, ...(before === undefined ? [] : [{ id: before, lag: 0 }])] : []
      if (piece > 0 && before !== undefined) after.push({ id: before, lag: 0 })
      plan.activities.push({
        ...activity(of, id, number, phases, after, of.kitchen.days[of.day]?.closes),
        inRow: true,
      })
      ends[row] = id
    }
    const end = ends[row]
    if (end !== undefined) made.push(end)
  }
  lanes.set(index, ends)
  if (step.step.station === 'cut' || step.step.station === 'press') plan.trimmed = made.map((id) => ({ id, lag: 0 }))
  return made
}

function rowsOf({ kitchen, day, step, hot }: Setting, total: number): number {
  const kind = step.step.work
  if (kind === null) return 1
  const most = Math.min(step.step.hands, kitchen.counterPlaces ?? step.step.hands, wholeMinutes(total))
  return crewOf(kitchen, day, kind, { hot, hands: Math.max(1, most), handMinutes: Math.min(total, longestPiece) }).count
}

/** The minutes of one of so many nearly equal pieces. */
function cut(minutes: number, pieces: number, piece: number): number {
  return Math.floor(((piece + 1) * minutes) / pieces) - Math.floor((piece * minutes) / pieces)
}

function activity(
  { batch, kitchen, day }: ChainOf,
  id: string,
  portion: number | null,
  phases: readonly MeantPhase[],
  after: readonly Link[],
  due: number | undefined,
): PlannedActivity {
  const made: Activity = {
    id,
    phases: phases.map(({ phase }) => phase),
    earliest: kitchen.days[day]?.opens ?? 0,
    ...(after.length > 0
      ? { after: after.map(({ id: before, lag }) => (lag > 0 ? { id: before, lag } : { id: before })) }
      : {}),
    ...(due === undefined ? {} : { due }),
    ...(batch.weight === undefined ? {} : { weight: batch.weight }),
  }
  return { activity: made, batch: batch.id, day, portion, inRow: false, phases: phases.map(({ means }) => means) }
}
